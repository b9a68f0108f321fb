package gui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// A finding tells five tests with what they would show; the other dangers are
// counted, unfold where they were pressed, and stay unfolded.
func TestTheOtherDangersUnfold(t *testing.T) {
	dir := t.TempDir()
	must.Do(t, os.CopyFS(dir, os.DirFS("../testdata/pedestal")))
	name := filepath.Join(dir, "trees", "pedestal.md")
	text := must.Have(os.ReadFile(name))(t)
	list := "  cannot_exclude:\n"
	for i := range 7 {
		list += fmt.Sprintf("    - {fault: live-body, test: \"Test %d.\"}\n", i+1)
	}
	const last = "  repair_by: The site's electrician.\n"
	must.Do(t, os.WriteFile(name, []byte(strings.Replace(string(text), last, last+list, 1)), 0o600))
	w := open(t, wide, folder(dir))
	w.Press("Not plugged in")
	w.Pick("1")
	w.Type("58")
	w.Press("Take this reading")
	w.Want("WHAT THESE READINGS CANNOT EXCLUDE", "Test 5 would show: ", "And 2 more dangers")
	if strings.Contains(w.Text(), "Test 6") {
		t.Errorf("six tests are told at once:\n%s", w.Text())
	}
	w.Press("And 2 more dangers")
	w.Want("Test 1 would show: ", "Test 7 would show: ")
	if strings.Contains(w.Text(), "more danger") {
		t.Errorf("the link is still there:\n%s", w.Text())
	}
}
