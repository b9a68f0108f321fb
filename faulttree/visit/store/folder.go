package store

import (
	"errors"
	"path/filepath"
)

// Folder is where visits are kept: faultwright/visits in the user's data
// folder. That is $XDG_DATA_HOME, or $HOME/.local/share without it, and
// %LocalAppData% where that is set. Env looks up a variable.
func Folder(env func(string) string) (string, error) {
	if data := env("XDG_DATA_HOME"); filepath.IsAbs(data) { // the specification has relative ones ignored
		return filepath.Join(data, "faultwright", "visits"), nil
	}
	if data := env("LocalAppData"); filepath.IsAbs(data) {
		return filepath.Join(data, "faultwright", "visits"), nil
	}
	if home := env("HOME"); filepath.IsAbs(home) {
		return filepath.Join(home, ".local", "share", "faultwright", "visits"), nil
	}
	return "", errors.New("there is no folder to keep visits in: set HOME or XDG_DATA_HOME")
}
