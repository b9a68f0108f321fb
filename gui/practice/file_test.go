package practice

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"faultwright/content/load"
	"faultwright/faulttree/must"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/place"
)

func TestScenarioFromAFile(t *testing.T) {
	w := open(t, frametest.Wide)
	text := must.Have(os.ReadFile(filepath.Join("..", "..", "content", "handbook", "scenarios", "supper-on-the-adapter.md")))(t)
	handed := strings.ReplaceAll(string(text), "supper-on-the-adapter", "lesson-four")
	w.area.takeScenario("lesson-four.md", file{strings.NewReader(handed), nil})
	if at := w.Here(); at.Page != place.ScenarioPage || at.ID != "lesson-four" {
		t.Fatalf("the file leads to %+v:\n%s", at, w.Text())
	}
	w.Want("Supper on the adapter")
	w.Go(place.Scenarios())
	w.area.takeScenario("broken.md", file{strings.NewReader("---\nscenario: broken\nrig: no-such-rig\n---\nA story.\n"), nil})
	w.WantSaid("cannot be played", "broken.md:2:1: ", "lacks the key answer")
	w.area.takeScenario("huge.md", file{strings.NewReader(strings.Repeat("x", 1<<20)), nil})
	if !strings.Contains(w.Said(), "larger than") {
		t.Errorf("of a huge file it says %q", w.Said())
	}
}

// A title and the name of a file show nothing that turns the direction of the
// words around it, nor does what is said of a file.
func TestMarksOfAScenario(t *testing.T) {
	const turning = "\u202e\u2066\u200f"
	w := open(t, frametest.Wide)
	text := must.Have(os.ReadFile(filepath.Join("..", "..", "content", "handbook", "scenarios", "supper-on-the-adapter.md")))(t)
	clean := func(words string) {
		t.Helper()
		found := false
		for _, o := range test.LaidOutObjects(w.Window().Content()) {
			if drawn, ok := o.(*canvas.Text); ok {
				found = found || strings.Contains(drawn.Text, words)
				if strings.ContainsAny(drawn.Text, turning) {
					t.Errorf("%+v draws %q", w.Here(), drawn.Text)
				}
			}
		}
		if !found {
			t.Errorf("%+v does not draw %q:\n%s", w.Here(), words, w.Text())
		}
	}
	handed := strings.NewReplacer("supper-on-the-adapter", "lesson-four", "title: ", "title: "+turning).Replace(string(text))
	w.area.takeScenario(turning+"lesson.md", file{strings.NewReader(handed), func() { clean("Reading lesson.md") }})
	clean("Supper on the adapter")
	w.Go(place.Scenarios())
	w.area.takeScenario(turning+"lesson.md", file{strings.NewReader("---\nscenario: x\n---\n"), nil})
	clean("lesson.md:2:1")
}

// file is a file that was handed out; meanwhile happens while it is read.
type file struct {
	io.Reader
	meanwhile func()
}

func (f file) Close() error {
	if f.meanwhile != nil {
		f.meanwhile()
	}
	return nil
}

// The page says that a file is being read, and who leaves it is not brought to
// the scenario afterwards.
func TestLeavingStopsAScenarioFile(t *testing.T) {
	w := open(t, frametest.Wide)
	text := must.Have(os.ReadFile(filepath.Join("..", "..", "content", "handbook", "scenarios", "supper-on-the-adapter.md")))(t)
	w.area.takeScenario("lesson.md", file{bytes.NewReader(text), func() {
		w.Want(fmt.Sprintf("Reading lesson.md, %d KiB so far.", len(text)>>10))
		w.Go(place.Scenario("buzz-after-the-rain"))
	}})
	if at := w.Here(); at.ID != "buzz-after-the-rain" {
		t.Errorf("the reader was brought to %+v", at)
	}
	w.Back()
	if strings.Contains(w.Text(), "Reading lesson.md") {
		t.Error("the file is still being read")
	}
	w.area.takeScenario("lesson.md", file{bytes.NewReader(text), func() { w.Press("Stop reading it") }})
	w.WantSaid("was not read")
	if at := w.Here(); at.Page != place.ScenariosPage || strings.Contains(w.Text(), "Reading lesson.md") {
		t.Errorf("stopped, the reader is at %+v:\n%s", at, w.Text())
	}
}

// A scenario of the handbook is saved as a file that says the same, without showing its
// answer; a file of its name is not touched.
func TestSaveAScenarioAsAFile(t *testing.T) {
	w := open(t, frametest.Wide)
	s := w.book.Scenarios["bright-over-the-sink"]
	folder := t.TempDir()
	w.Go(place.Scenario(s.ID))
	w.area.saveIn(folder, s)
	path := filepath.Join(folder, s.ID+".md")
	w.WantSaid("was saved to " + path)
	text := must.Have(os.ReadFile(path))(t)
	back, list := load.Scenario(t.Context(), w.book, s.ID+".md", bytes.NewReader(text), nil)
	if back == nil || load.ScenarioText(w.book, back) != load.ScenarioText(w.book, s) {
		t.Errorf("it reads as %+v, %v", back, list)
	}
	if strings.Contains(w.Text(), s.Answer) {
		t.Error("the page shows the answer")
	}
	must.Do(t, os.WriteFile(path, []byte("mine"), 0o600))
	w.area.saveIn(folder, s)
	w.WantSaid("Nothing was written")
	if text, _ := os.ReadFile(path); string(text) != "mine" {
		t.Errorf("the file that was there holds %q", text)
	}
	w.area.saveIn(filepath.Join(path, "below-a-file"), s)
	w.WantSaid("could not be written")
}
