//go:build unix

package session

import (
	"path/filepath"
	"syscall"
	"testing"

	"faultwright/faulttree/must"
)

// Settings are never read from a pipe, which would wait for a writer that may
// never come.
func TestSettingsAreNoPipe(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "settings.json")
	must.Do(t, syscall.Mkfifo(pipe, 0o600))
	if s, err := ReadSettings(pipe); err == nil || s.Role != DefaultSettings().Role {
		t.Errorf("settings from a pipe: %+v, %v", s, err)
	}
}
