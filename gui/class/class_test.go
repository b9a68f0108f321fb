package class

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/practice/store"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	played "faultwright/gui/practice"
	"faultwright/gui/session"
)

var shipped = sync.OnceValue(load.Shipped)

// unmarked is the shipped handbook without its rubric: marks take a while.
var unmarked = sync.OnceValue(func() *content.Library {
	lib := *shipped()
	lib.Rubric = nil
	return &lib
})

func noon() time.Time { return time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC) }

// window is the pages of a class and of practice, with a reader at them.
type window struct {
	*frame.Frame
	*frametest.Reader
	t       testing.TB
	area    *Area
	session *session.Session
	chooser *chooser
}

func open(t testing.TB, size fyne.Size, book *content.Library) *window {
	t.Helper()
	kept := must.Have(store.Open(t.TempDir()))(t)
	t.Cleanup(func() { kept.Close() })
	s := must.Have(session.New(session.Options{Practice: session.OnDisk(kept), Now: noon, Random: func() uint64 { return 7 }}))(t)
	s.UseBook(book)
	w := &window{t: t, session: s, chooser: &chooser{dir: t.TempDir()}}
	w.Frame, w.Reader = frametest.Open(t, size, frame.Options{}, place.Class(), func(f *frame.Frame) {
		w.area = New(f, s)
		w.area.files = w.chooser
		f.Add(w.area.Pages(""))
		f.Add(played.New(f, s).Pages(""))
	})
	return w
}

// takePart hands out an assignment of one vehicle, and takes part in it.
func (w *window) takePart() {
	w.t.Helper()
	w.Press("Hand out")
	w.Check("A buzz in the knuckles", true)
	w.Press("Save the assignment")
	w.Back()
	w.chooser.choice = "assignment-Practice.zip"
	w.Press("Take part")
}

// chooser chooses files in a folder, as a reader would.
type chooser struct {
	dir    string
	choice string // file or folder to open; "" thinks better of it
	full   bool   // the disk is full
	err    error  // what asking answers
	saved  string // the file that was saved last
	shown  string // the file that was opened last with a program of the desktop
}

func (c *chooser) AskOpen(_ string, then func(fyne.URIReadCloser, error)) {
	if c.err != nil || c.choice == "" {
		then(nil, c.err)
		return
	}
	file, err := os.Open(filepath.Join(c.dir, c.choice))
	if err != nil {
		then(nil, err)
		return
	}
	then(source{file}, nil)
}

func (c *chooser) AskSave(name, ending string, then func(fyne.URIWriteCloser, error)) {
	c.saved = filepath.Join(c.dir, name+ending)
	if c.full {
		then(target{full{}, c.saved}, nil)
		return
	}
	file, err := os.Create(c.saved)
	then(target{file, c.saved}, err)
}

func (c *chooser) AskFolder(then func(fyne.ListableURI, error)) {
	if c.err != nil || c.choice == "" {
		then(nil, c.err)
		return
	}
	then(storage.ListerForURI(storage.NewFileURI(filepath.Join(c.dir, c.choice))))
}

func (c *chooser) OpenFile(u *url.URL) error {
	c.shown = u.Path
	return c.err
}

type source struct{ *os.File }

func (s source) URI() fyne.URI { return storage.NewFileURI(s.Name()) }

type target struct {
	io.WriteCloser
	path string
}

func (t target) URI() fyne.URI { return storage.NewFileURI(t.path) }

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space is left on the disk") }
func (full) Close() error              { return nil }

// An instructor hands out two vehicles; a learner opens the file, works under a
// name, and hands in.
func TestStoryHandsOutAndTakesPart(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.Press("Hand out")
	w.Want("Choose at least one vehicle.", "Two faults, danger. A fault of the site", "No fault. One spark is a charge", "whoever unpacks it can read the answers")
	w.Check("A buzz in the knuckles", true)
	w.Check("One spark from the door handle", true)
	w.Check("Hold the look back", true)
	w.Want("Vehicles: 2 chosen")
	saved := func() *class.Assignment {
		w.Press("Save the assignment")
		w.WantSaid("The assignment", " is in ")
		return must.Have(class.ReadAssignment(bytes.NewReader(must.Have(os.ReadFile(w.chooser.saved))(t))))(t)
	}
	first := saved()
	if again := saved(); again.ID != first.ID {
		t.Error("saved once more it is another assignment, at which nothing counts that was done at the first")
	}
	w.area.making.due = "2026-11-30"
	w.Render()
	saved()
	w.WantSaid("The assignment, due on a day that is over, is in ")
	w.area.making.due = "2026-12-01" // today
	saved()
	w.WantSaid("The assignment is in ")
	w.Check("Every learner gets a vehicle of his own", false)
	if other := saved(); other.ID == first.ID {
		t.Error("two assignments that differ are the same")
	}
	w.Press("As a trainee, with somebody qualified beside him at everything live")
	if trainees := saved(); !trainees.Supervised || trainees.Role != faulttree.Qualified {
		t.Errorf("for trainees: %+v", trainees)
	}
	w.Press("As somebody qualified")
	if last := saved(); last.Supervised {
		t.Error("for somebody qualified again, it is for trainees")
	}
	w.Press("Save the answer key")
	w.WantSaid("The answer key is in ")
	w.Press("Save the handout")
	w.Back()

	w.chooser.choice = "assignment-Practice.zip"
	w.Press("Take part")
	w.Want("It also decides which vehicle is yours")
	if strings.Contains(w.Text(), "A buzz in the knuckles") {
		t.Error("the tasks are shown before a name was typed")
	}
	w.Type("Wren")
	w.Press("Begin")
	w.Want("You work as Wren.", "Not begun.")
	w.Press("A buzz in the knuckles")
	w.Want("AS THE CUSTOMER TELLS IT", "Wren")
	w.Press("Go to the vehicle")
	w.Press("Prove the meter")
	w.Go(place.Tasks())
	w.Want("Under way.")
	w.Press("Save the file to hand in")
	w.WantSaid("Your file, with 0 conclusions of 2,")
	raw := must.Have(os.ReadFile(w.chooser.saved))(t)
	if got := filepath.Base(w.chooser.saved); got != "attempt-Wren.zip" { // others save theirs beside it
		t.Errorf("the file to hand in is called %s", got)
	}
	f, err := class.ReadAttempts(strings.NewReader(string(raw)))
	if err != nil || f.Learner != "Wren" || len(f.Attempts) != 1 || len(f.Attempts[0].Acts) != 1 {
		t.Errorf("handed in is %+v, %v", f, err)
	}
	w.Press("Somebody else works now")
	w.Want("It also decides which vehicle is yours")
	w.Retype("Ash")
	w.Press("Begin")
	w.Want("You work as Ash.", "Not begun.")
	if strings.Contains(w.Text(), "Under way") {
		t.Error("another learner's attempt is shown as one's own")
	}
	w.Press("Somebody else works now") // as after a start anew: nothing but the name tells
	w.Retype("Wren")
	w.Press("Begin")
	w.Want("You work as Wren.", "Under way.")
	if strings.Contains(w.Text(), "Which of these are yours?") {
		t.Error("a learner is asked for attempts that were begun under his name")
	}
}

// What an instructor has made himself and saved as a file is handed out as what stands in
// the handbook is; a file that is none is refused in a sentence.
func TestAScenarioOfOnesOwnIsHandedOut(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	book := w.session.Book()
	text := load.ScenarioText(book, book.Scenarios["lamps-like-candles"])
	text = strings.NewReplacer("scenario: lamps-like-candles", "scenario: own", "Lamps like candles, battery like new", "Saved by the instructor").Replace(text)
	for name, text := range map[string]string{"own.md": text, "broken.md": "no scenario"} {
		if err := os.WriteFile(filepath.Join(w.chooser.dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	w.Press("Hand out")
	w.chooser.choice = "broken.md"
	w.Press("Add a scenario from a file")
	w.WantSaid("This scenario cannot be handed out: broken.md:1:1: ")
	w.chooser.choice = "own.md"
	w.Press("Add a scenario from a file")
	w.Want("Vehicles: 1 chosen", "FROM FILES", "Saved by the instructor")
	w.Press("Save the assignment")
	made := must.Have(class.ReadAssignment(bytes.NewReader(must.Have(os.ReadFile(w.chooser.saved))(t))))(t)
	if scenarios := must.Have(made.Scenarios(t.Context(), book))(t); len(scenarios) != 1 || scenarios[0].Title != "Saved by the instructor" {
		t.Errorf("handed out are %v", scenarios)
	}
}

// A vehicle of the open assignment is not practised beside it: who did would know the
// answer there. The list says so and leads to the assignment.
func TestAVehicleOfTheAssignmentIsWorkedAtThere(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.takePart()
	w.Go(place.Scenarios())
	w.Want("A vehicle of the assignment “Practice”.")
	w.Press("A buzz in the knuckles")
	if w.Here() != place.Tasks() {
		t.Errorf("it leads to %+v", w.Here())
	}
	w.Go(place.Scenario("buzz-after-the-rain"))
	w.Want("It is worked at there.")
	if strings.Contains(w.Text(), "On my own") {
		t.Error("it can be practised beside the assignment")
	}
	w.Go(place.Tasks())
	w.Press("Close the assignment")
	w.Go(place.Scenario("buzz-after-the-rain"))
	w.Want("On my own")
}

// What is not an assignment, a full disk, a folder without one, and a reader who
// thinks better of it: a sentence each, and nothing is lost.
func TestWhatGoesWrongIsSaid(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.Press("Take part") // thought better of it
	must.Do(t, os.WriteFile(filepath.Join(w.chooser.dir, "junk.zip"), []byte("no ZIP"), 0o600))
	w.chooser.choice = "junk.zip"
	w.Press("Take part")
	w.WantSaid("This assignment cannot be taken part in.", "not a ZIP file")
	w.chooser.err = errors.New("the folder is gone")
	w.Press("Handed in")
	w.WantSaid("The folder was not opened. The folder is gone.")
	w.chooser.err, w.chooser.choice = nil, "."
	w.Press("Handed in")
	w.WantSaid("There is no assignment in the folder")
	w.Want("Open a folder")
	w.Go(place.Assign())
	w.Check("A buzz in the knuckles", true)
	w.chooser.full = true
	w.Press("Save the assignment")
	w.WantSaid("could not be written", "No space is left")
	w.Want("Vehicles: 1 chosen")
	w.Go(place.Attempt("nobody.zip", 0))
	w.Want("not open any more")
	w.Go(place.Tasks())
	w.Want("No assignment is open")
}

// The handbook is read anew while an assignment is open: what an instructor typed
// stays, and the rest is opened again.
func TestTheHandbookIsReadAnew(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.takePart()
	lib := *unmarked()
	w.session.UseBook(&lib)
	w.Go(place.Class())
	w.Want("1 vehicle chosen so far", "Go on: Practice.")
}

// An assignment, the vehicle that its learner stands before and what he has done at it
// outlive a handbook that is read anew. One that the handbook can no longer read is
// closed, and said; what was done at it is on record.
func TestAnAssignmentOutlivesTheHandbook(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.takePart()
	w.Type("Wren")
	w.Press("Begin")
	w.Press("A buzz in the knuckles")
	w.Press("Go to the vehicle")
	w.Press("Prove the meter")
	again := func(change func(*content.Library)) {
		lib := *unmarked()
		change(&lib)
		w.Return(w.session.UseBook(&lib))
	}
	again(func(*content.Library) {})
	if w.Said() != "" {
		t.Errorf("it says %q", w.Said())
	}
	w.Want("1 reading") // still before the vehicle
	w.Press("Prove the meter")
	w.Go(place.Tasks())
	again(func(*content.Library) {})
	w.Want("You work as Wren.", "Under way.")
	w.Press("Save the file to hand in")
	f := must.Have(class.ReadAttempts(strings.NewReader(string(must.Have(os.ReadFile(w.chooser.saved))(t)))))(t)
	if len(f.Attempts) != 1 || len(f.Attempts[0].Acts) != 2 {
		t.Errorf("handed in is %+v", f.Attempts)
	}
	w.Press("A buzz in the knuckles")
	again(func(lib *content.Library) { lib.Scenarios, lib.Rigs = nil, nil })
	w.WantSaid("The assignment “Practice” is closed, and what was done at it is on record.", "cannot be read with this handbook")
}

// handIn writes what some learners hand in into a folder, with the assignment: each
// does the same few acts, one of them an unsafe one.
func handIn(t *testing.T, dir string, learners ...string) {
	t.Helper()
	lib := shipped()
	a := must.Have(class.NewAssignment(lib, class.Assignment{Title: "Tingles before supper", Made: noon(), Role: faulttree.Qualified},
		[]*content.Scenario{lib.Scenarios["buzz-after-the-rain"], lib.Scenarios["spark-from-the-fleece"]}, true, 0))(t)
	write := func(name string, raw []byte, err error) {
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), raw, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	raw, err := a.Bytes()
	write("handed-out.zip", raw, err)
	for n, learner := range learners {
		f := class.AttemptFile{Learner: learner, Assignment: a.ID, Handbook: lib.Fingerprint(), Saved: noon()}
		for task := range a.Tasks[:2-n%2] {
			s, seed := lib.Scenarios[a.Tasks[task].Scenario], a.Seed(task, learner)
			c := scenes.CaseOf(lib, scenes.VariantOf(s, seed))
			v := must.Have(c.Begin(faulttree.DefaultMeter()))(t)
			try := practice.Attempt{Case: s.ID, Seed: seed, Role: a.Role, Meter: faulttree.DefaultMeter(), Rules: practice.Rules, Started: noon()}
			acts := []practice.Act{{Kind: practice.Prove}, {Kind: practice.Read, Red: "body", Black: "earth"}, {Kind: practice.Read, Red: "panel.l1", Black: "panel.n"}}
			for i, act := range acts[n%2:] {
				act.At, act.Asked = time.Duration(n+1)*time.Duration(i+1)*17*time.Second, true
				if act.Setting != (meter.Setting{}) {
					v.Set(act.Setting)
				}
				done := must.Have(v.Do(act))(t)
				try = try.With(done...)
			}
			f.Attempts = append(f.Attempts, try.Conclude(practice.Conclusion{Faults: []string{c.Truth()[0]}, At: time.Duration(n+3) * time.Minute}))
		}
		raw, err := f.Bytes()
		write(strings.ToLower(learner)+".zip", raw, err)
	}
}

// The instructor opens a folder: the table, names hidden, one attempt act by act,
// feedback, marks and page saved.
func TestStoryMarksAClass(t *testing.T) {
	for _, size := range []fyne.Size{frametest.Wide, frametest.Small} {
		w := open(t, size, shipped())
		handIn(t, w.chooser.dir, "Wren", "Ash", "Juniper")
		w.chooser.choice = "."
		w.Press("Handed in")
		w.Want("Tingles before supper", "Wren", "Juniper", "not handed in", "to the nearest quarter")
		w.WantNothingCut()
		w.Picture(pictured("class-table", size))
		w.Check("Hide the names", true)
		w.Want("Learner 1")
		if text := w.Text(); strings.Contains(text, "Wren") || strings.Contains(text, "Juniper") {
			t.Errorf("a name is shown although names are hidden:\n%s", text)
		}
		w.Check("Hide the names", false)
		w.Press("Save the marks (CSV)")
		w.WantSaid("The list of marks is in ")
		w.Press("Save the page (HTML)")
		w.Press("Save the feedback")
		w.WantSaid("The feedback is in ", "3 pages")
		w.Press("Save the feedback") // a late file came in
		w.WantSaid(filepath.Join(w.chooser.dir, "feedback-Tingles-before-supper-2") + ": 3 pages")
		if got := must.Have(filepath.Glob(filepath.Join(w.chooser.dir, "*.html")))(t); len(got) != 1 { // the page of the class
			t.Errorf("beside what was handed in lie %q", got)
		}
		if size.Width == frametest.Wide.Width && !strings.Contains(look.TextOf(w.Shown().Foot), "Save the feedback") {
			t.Error("what is done with the table stands below all that it lists")
		}
		w.Go(place.Attempt("wren.zip", 0))
		w.Want("Wren · Tingles before supper", "ACT BY ACT", "Body to earth")
		w.Picture(pictured("class-attempt", size))
		w.Press("The next one")
		w.Press("The class")
		w.Go(place.Rubric())
		w.Want("UNSAFE ACTS: WITH ONE OF THESE, AT MOST", "40 of 100", "held", "90 %", "45 points at most")
		w.Picture(pictured("class-rubric", size))
	}
}

// pictured names a picture by the width of the window.
func pictured(name string, size fyne.Size) string { return fmt.Sprintf("%s-%.0f", name, size.Width) }

func TestPicturesOfAClass(t *testing.T) {
	for _, size := range []fyne.Size{frametest.Wide, frametest.Small} {
		w := open(t, size, unmarked())
		w.Picture(pictured("class", size))
		w.Press("Hand out")
		w.Check("A buzz in the knuckles", true)
		w.WantNothingCut()
		w.Picture(pictured("class-assign", size))
		w.Press("Save the assignment")
		w.chooser.choice = "assignment-Practice.zip"
		w.Go(place.Class())
		w.Press("Take part")
		w.Type("Wren")
		w.Press("Begin")
		w.WantNothingCut()
		w.Picture(pictured("class-tasks", size))
	}
}
