package files

import (
	"fmt"
	"path/filepath"
)

// Place is where journals are kept: faultwright/NAME in the user's data folder.
// That is $XDG_DATA_HOME, or $HOME/.local/share without it, and %LocalAppData%
// where that is set. Env looks up a variable.
func Place(env func(string) string, name string) (string, error) {
	if data := env("XDG_DATA_HOME"); filepath.IsAbs(data) { // the specification has relative ones ignored
		return filepath.Join(data, "faultwright", name), nil
	}
	if data := env("LocalAppData"); filepath.IsAbs(data) {
		return filepath.Join(data, "faultwright", name), nil
	}
	if home := env("HOME"); filepath.IsAbs(home) {
		return filepath.Join(home, ".local", "share", "faultwright", name), nil
	}
	return "", fmt.Errorf("there is no folder to keep %s in: set HOME or XDG_DATA_HOME", name)
}
