//go:build unix

package store

import (
	"strings"
	"syscall"
	"testing"

	"faultwright/faulttree/must"
)

// A pipe in the place of a journal is never opened, which would wait for a
// writer that may never come.
func TestPipeIsNoJournal(t *testing.T) {
	s := opened(t)
	must.Do(t, syscall.Mkfifo(path(s, "pipe"), 0o600))
	if _, err := s.Read("pipe"); err == nil || !strings.Contains(err.Error(), "not an ordinary file") {
		t.Errorf("reading gives %v", err)
	}
	if _, err := s.Open("pipe"); err == nil {
		t.Error("a pipe is opened as a visit")
	}
	if list, err := s.List(); err != nil || len(list) != 1 || list[0].Err == nil {
		t.Errorf("the list is %v, %v", list, err)
	}
}
