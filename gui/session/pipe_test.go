//go:build unix

package session

import (
	"path/filepath"
	"syscall"
	"testing"
)

// Settings are never read from a pipe, which would wait for a writer that may
// never come.
func TestSettingsAreNoPipe(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "settings.json")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	if s, err := ReadSettings(pipe); err == nil || s.Role != DefaultSettings().Role {
		t.Errorf("settings from a pipe: %+v, %v", s, err)
	}
}
