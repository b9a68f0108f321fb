// Package journaltest kills programs that keep a journal.
package journaltest

import (
	"bufio"
	"io"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// Killed starts a program that says "ready" and then each record that was
// confirmed, on a line of its own; kills it so long after it is ready; and gives
// the lines that it had finished saying. The test fails if the program ends by
// itself.
func Killed(t *testing.T, child *exec.Cmd, moment time.Duration) []string {
	t.Helper()
	var complaint strings.Builder
	child.Stderr = &complaint
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	in := bufio.NewReader(out)
	if line, err := in.ReadString('\n'); err != nil || line != "ready\n" {
		t.Fatalf("the child says %q, %v", line, err)
	}
	timer := time.AfterFunc(moment, func() { child.Process.Kill() })
	defer timer.Stop()
	said, err := io.ReadAll(in)
	if err != nil {
		t.Fatal(err)
	}
	child.Wait()
	if complaint.Len() > 0 {
		t.Fatalf("the child ended by itself: %s", complaint.String())
	}
	lines := strings.SplitAfter(string(said), "\n")
	return lines[:len(lines)-1]
}
