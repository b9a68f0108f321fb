package main

import (
	"bytes"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// The packaging tool reads FyneApp.toml, the program its own metadata.
func TestMetadataAgreesWithFyneApp(t *testing.T) {
	text := must.Have(os.ReadFile("../../FyneApp.toml"))(t)
	for key, want := range map[string]string{
		"ID":      strconv.Quote(metadata.ID),
		"Name":    strconv.Quote(metadata.Name),
		"Version": strconv.Quote(metadata.Version),
		"Build":   strconv.Itoa(metadata.Build),
	} {
		got := regexp.MustCompile(`(?m)^` + key + ` = (.*)$`).FindSubmatch(text)
		if got == nil || string(got[1]) != want {
			t.Errorf("FyneApp.toml has %s = %s, the program %s", key, got, want)
		}
	}
}

func TestNoDisplayIsOneSentence(t *testing.T) {
	for name, env := range map[string]map[string]string{
		"none":        {},
		"dead x11":    {"DISPLAY": ":98765"},
		"dead host":   {"DISPLAY": "localhost:59000"},
		"nonsense":    {"DISPLAY": "first"},
		"no wayland":  {"WAYLAND_DISPLAY": "wayland-none", "XDG_RUNTIME_DIR": "nowhere"},
		"both absent": {"WAYLAND_DISPLAY": "wayland-none", "DISPLAY": ":98765"},
	} {
		t.Run(name, func(t *testing.T) {
			var out, errs bytes.Buffer
			code := run(nil, &out, &errs, func(k string) string { return env[k] })
			if code != 1 {
				t.Errorf("exit code %d, want 1", code)
			}
			if lines := strings.Count(errs.String(), "\n"); lines != 1 || out.Len() > 0 {
				t.Errorf("want one line on stderr, have %q and %q", errs.String(), out.String())
			}
		})
	}
}

func TestArguments(t *testing.T) {
	for args, want := range map[string]struct {
		code int
		text string
	}{
		"--version": {0, "Faultwright 0.1.0\n"},
		"--colour":  {2, "not defined"},
		"here":      {2, "not understood"},
		"-h":        {0, "-content"},
	} {
		var out bytes.Buffer
		code := run([]string{args}, &out, &out, func(string) string { return "" })
		if code != want.code || !strings.Contains(out.String(), want.text) {
			t.Errorf("%s: exit %d, %q", args, code, out.String())
		}
	}
}
