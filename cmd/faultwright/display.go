package main

import (
	"errors"
	"fmt"
	"net"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"
)

const patience = 2 * time.Second // how long a display may take to answer

// checkDisplay says in one sentence why no window can be opened, or nil if a
// display answers. Only systems that name their display in the environment
// are asked.
func checkDisplay(env func(string) string) error {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		return nil
	}
	x11, wayland := env("DISPLAY"), env("WAYLAND_DISPLAY")
	if x11 == "" && wayland == "" {
		return errors.New("there is no display to open a window on (DISPLAY and WAYLAND_DISPLAY are empty); faultwright-cli does the same work in a terminal")
	}
	if wayland != "" && answers("unix", waylandSocket(wayland, env("XDG_RUNTIME_DIR"))) {
		return nil
	}
	if x11 == "" {
		return fmt.Errorf("the display %s does not answer; faultwright-cli does the same work in a terminal", wayland)
	}
	network, address, err := x11Address(x11)
	if err != nil {
		return err
	}
	if answers(network, address) || network == "unix" && answers(network, "@"+address) {
		return nil
	}
	return fmt.Errorf("the display %s does not answer; faultwright-cli does the same work in a terminal", x11)
}

func answers(network, address string) bool {
	c, err := net.DialTimeout(network, address, patience)
	if err != nil {
		return false
	}
	c.Close()
	return true
}

func waylandSocket(display, runtimeDir string) string {
	if filepath.IsAbs(display) {
		return display
	}
	return filepath.Join(runtimeDir, display)
}

// x11Address turns ":0", "unix:0.1" or "host:10.0" into what to dial: display
// n is the socket Xn, or port 6000+n of a host.
func x11Address(display string) (network, address string, err error) {
	i := strings.LastIndexByte(display, ':')
	if i < 0 {
		return "", "", fmt.Errorf("DISPLAY is %q, which names no display", display)
	}
	host := display[:i]
	number, _, _ := strings.Cut(display[i+1:], ".")
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 {
		return "", "", fmt.Errorf("DISPLAY is %q, which names no display", display)
	}
	if host == "" || host == "unix" || strings.HasPrefix(host, "/") {
		return "unix", filepath.Join("/tmp/.X11-unix", "X"+number), nil
	}
	return "tcp", net.JoinHostPort(host, strconv.Itoa(6000+n)), nil
}
