// Package journaltest kills programs that keep a journal.
package journaltest

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// The test program itself is the program that is killed: with these variables it
// keeps a journal in place of the tests.
const (
	keepDir = "FAULTWRIGHT_TEST_KEEP_DIR"
	keepID  = "FAULTWRIGHT_TEST_KEEP_ID"
)

// Main is the TestMain of a package that calls [Kill]. Keep goes on with a journal
// of a folder without end, or with a new one where the id is empty, and calls say
// with the number and the text, one word, of each record that was confirmed.
func Main(m *testing.M, keep func(dir, id string, say func(id string, n int, text string)) error) {
	if dir := os.Getenv(keepDir); dir != "" {
		fmt.Println("ready")
		err := keep(dir, os.Getenv(keepID), func(id string, n int, text string) { fmt.Printf("%s %d %s\n", id, n, text) })
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// Kill kills a program that keeps journals in a folder at 200 random moments, ten
// for each journal, and asks each time whether the journal that it was at can be
// gone on with: confirmed is the texts by their numbers, torn how many last lines
// were unfinished.
func Kill(t *testing.T, dir string, goneOn func(id string, confirmed map[int]string) (torn int)) {
	t.Helper()
	const kills, perJournal = 200, 10
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(20260503, 200))
	confirmed := map[string]map[int]string{} // by journal and record
	id, torn, records := "", 0, 0
	for kill := range kills {
		if kill%perJournal == 0 {
			id = ""
		}
		child := exec.Command(self)
		child.Env = append(os.Environ(), keepDir+"="+dir, keepID+"="+id)
		for _, line := range killed(t, child, time.Duration(random.Int64N(int64(12*time.Millisecond)))) {
			var name, text string
			var n int
			if _, err := fmt.Sscanf(line, "%s %d %s", &name, &n, &text); err != nil {
				t.Fatalf("kill %d: the child says %q", kill, line)
			}
			if confirmed[name] == nil {
				confirmed[name] = map[int]string{}
			}
			confirmed[name][n] = text
			id = name
			records++
		}
		if id != "" { // else killed before its first confirmed record
			torn += goneOn(id, confirmed[id])
		}
	}
	t.Logf("%d kills, %d confirmed records, %d torn last lines", kills, records, torn)
	if records < kills {
		t.Errorf("only %d records were confirmed in %d goes: the kills came too early to test anything", records, kills)
	}
}

// killed starts a program, kills it so long after it is ready, and gives the lines
// that it had finished saying. The test fails if the program ends by itself.
func killed(t *testing.T, child *exec.Cmd, moment time.Duration) []string {
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
