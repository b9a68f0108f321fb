package practice

import (
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/content/class"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/practice/store"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

const taskAt = "lamps-like-candles"

// openClass opens a window that keeps attempts and may close pages.
func openClass(t *testing.T) *window {
	t.Helper()
	kept := must.Have(store.Open(t.TempDir()))(t)
	t.Cleanup(func() { kept.Close() })
	s := must.Have(session.New(session.Options{
		Practice: session.OnDisk(kept), Random: func() uint64 { return 7 },
		Now: func() time.Time { return time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC) },
	}))(t)
	s.UseBook(unmarked())
	w := &window{t: t, book: s.Book()}
	direct := func(to place.Location) (place.Location, string) {
		if here, closed := w.area.Closed(to); closed {
			return here, "It is closed."
		}
		return to, ""
	}
	w.Frame, w.Reader = frametest.Open(t, frametest.Wide, frame.Options{Direct: direct}, place.Scenarios(), func(f *frame.Frame) {
		w.area = New(f, s)
		f.Add(w.area.Pages(""))
	})
	return w
}

// assigned is an assignment of one vehicle, the same for everybody.
func assigned() *class.Assignment {
	return &class.Assignment{ID: "a1", Title: "Twelve volts", Level: practice.Free, Role: faulttree.Qualified, Tasks: []class.Task{{Scenario: taskAt}}}
}

// assign puts a task before a learner, and shows it.
func (w *window) assign(a *class.Assignment, learner string, mine map[string]bool) {
	w.t.Helper()
	w.area.session.Assign(session.Task{
		Assignment: a, Learner: learner, Mine: mine, Scenario: scenes.VariantOf(w.book.Scenarios[taskAt], 0),
		Header: practice.Header{Case: taskAt, Level: a.Level, Role: a.Role, Supervised: a.Supervised, Meter: faulttree.DefaultMeter(), Started: w.area.session.Now()},
	})
	w.Go(place.Task(taskAt))
}

func (w *window) task() *trying { return w.area.practice.tries[keyOf(place.Task(taskAt))] }

// While a task is worked on, what its assignment closes leads back to the vehicle:
// asked for, and on the way back; from another vehicle, too. Somebody who has
// concluded reads what he likes.
func TestAnAssignmentClosesTheHandbook(t *testing.T) {
	w := openClass(t)
	book := place.Handbook("", "")
	w.Go(book)
	w.assign(assigned(), "Ada", map[string]bool{})
	w.Go(place.Task(taskAt))
	w.Press("Go to the vehicle")
	closed := func(to place.Location) {
		t.Helper()
		if w.Go(to); w.Here() != place.Task(taskAt) {
			t.Errorf("%+v is open: the window is at %+v", to, w.Here())
		}
		w.WantSaid("It is closed.")
	}
	closed(book)
	closed(place.Search("dim lamps"))
	closed(place.Suspects(""))
	for range 3 {
		if w.Back(); w.Here().Page == place.HandbookPage {
			t.Fatal("the way back leads into the closed handbook")
		}
	}
	w.Go(place.Scenario("buzz-after-the-rain"))
	closed(book)
	a := w.task().task.Assignment
	a.Open.Handbook = true
	if w.Go(book); w.Here() != book {
		t.Errorf("an open handbook leads to %+v", w.Here())
	}
	closed(place.Suspects(""))
	a.Open = class.Open{}
	w.Go(place.Task(taskAt))
	w.Press("Prove the meter")
	w.concludeOnly(w.task(), w.task().c.Truth()[0])
	if w.Go(book); w.Here() != book {
		t.Errorf("after the conclusion the handbook leads to %+v", w.Here())
	}
}

// A trainee is asked at the bench before everything live, and what is left is not booked.
func TestATraineeIsAskedAtTheBench(t *testing.T) {
	const beside = "Live: is a qualified person beside you?"
	w := openClass(t)
	a := assigned()
	a.Supervised = true
	w.assign(a, "Ada", map[string]bool{})
	w.Want("You work as a trainee")
	w.Press("Go to the vehicle")
	acts := func(n int) []practice.Act {
		t.Helper()
		got := w.task().attempt().Acts
		if len(got) != n {
			t.Fatalf("%d acts are booked, want %d: %+v", len(got), n, got)
		}
		return got
	}
	probe := func(red, black string) {
		t.Helper()
		lists := frametest.Find[*look.Select](w.Reader)
		for i, point := range []string{red, black} {
			at := slices.Index(lists[i].Options, point)
			if at < 0 {
				t.Fatalf("there is no %s: %q", point, lists[i].Options)
			}
			lists[i].SetSelectedIndex(at)
		}
	}
	probe("Body", "Earth, at the spike")
	w.Press("Take this reading")
	w.Want(beside)
	w.Press("Leave it")
	acts(0)
	w.Press("Take this reading")
	w.Type("y")
	if !acts(1)[0].Asked {
		t.Error("what was confirmed does not stand in the attempt")
	}
	probe("Battery plus", "Battery minus")
	w.Press("Take this reading")
	acts(2)
}

// A look back that is held is not shown: neither after the conclusion, nor after the
// test that follows the repair, nor where the task is opened again.
func TestAHeldLookBackIsNotShown(t *testing.T) {
	w := openClass(t)
	a := assigned()
	a.Held = true
	mine := map[string]bool{}
	none := func() {
		t.Helper()
		try := w.task()
		if text := w.Text(); strings.Contains(text, "Look back") || strings.Contains(text, "then look back") || strings.Contains(text, try.scenario.Answer) {
			t.Errorf("the look back is held, and there is:\n%s", text)
		}
	}
	w.assign(a, "Ada", mine)
	w.Press("Go to the vehicle")
	w.probe(w.task(), "battery.pos", "battery.neg")
	w.concludeOnly(w.task(), w.task().c.Truth()[0])
	w.Want("Your instructor holds the look back")
	none()
	w.Press("Have it repaired, and read again")
	w.probe(w.task(), "battery.pos", "battery.neg")
	none()
	w.assign(a, "Ada", mine)
	none()
	w.Go(place.Scenarios())
	w.Go(place.Task(taskAt))
	none()
}

// A learner whose program ended between his conclusion and the reading after the repair
// goes on there: what is held back cannot be come upon. Where it is shown at once, nobody
// comes upon it by another's name.
func TestTheRepairIsReadAfterAStartAnew(t *testing.T) {
	for _, held := range []bool{true, false} {
		w := openClass(t)
		a := assigned()
		a.Held = held
		sit := func() {
			t.Helper()
			w.area.session.Assign(session.Task{
				Assignment: a, Learner: "Ada", Mine: map[string]bool{}, Scenario: scenes.VariantOf(w.book.Scenarios[taskAt], 0),
				Header: practice.Header{Case: taskAt, Level: a.Level, Role: a.Role, Meter: faulttree.DefaultMeter(), Started: w.area.session.Now(), For: a.For("Ada")},
			})
			w.Go(place.Task(taskAt))
		}
		sit()
		w.Press("Go to the vehicle")
		w.probe(w.task(), "battery.pos", "battery.neg")
		w.concludeOnly(w.task(), w.task().c.Truth()[0])
		w.task().left()
		w.area.practice.tries = map[string]*trying{} // as after a start anew
		w.Go(place.Scenarios())
		sit()
		if !held {
			if text := w.Text(); strings.Contains(text, "Go on") {
				t.Errorf("what was concluded is open to who types a name:\n%s", text)
			}
			continue
		}
		w.Press("Go on where you were")
		w.Press("Have it repaired, and read again")
		w.Want("then go on with the assignment")
	}
}

// Where the look back is shown at once it leads on to the assignment.
func TestTheLookBackLeadsToTheAssignment(t *testing.T) {
	w := openClass(t)
	w.assign(assigned(), "Ada", map[string]bool{})
	w.Press("Go to the vehicle")
	w.probe(w.task(), "battery.pos", "battery.neg")
	w.concludeOnly(w.task(), w.task().c.Truth()[0])
	w.Press("Look back without reading again")
	if text := w.Text(); strings.Contains(text, "Another scenario") {
		t.Errorf("it leads away from the assignment:\n%s", text)
	}
	w.Want("The assignment")
}

// Somebody else at the same computer sees nothing of what the last one did, and is
// held up by nothing of it; who began it goes on with it.
func TestSomebodyElseSeesNothingOfTheLast(t *testing.T) {
	w := openClass(t)
	a, hers := assigned(), map[string]bool{}
	w.assign(a, "Ada", hers)
	w.Press("Go to the vehicle")
	w.probe(w.task(), "battery.pos", "battery.neg")
	if len(hers) != 1 {
		t.Errorf("what she began is not hers: %v", hers)
	}
	w.area.session.DropTasks()
	if at, ok := w.area.UnderWay(); ok {
		t.Errorf("nobody works, and %+v is under way", at)
	}
	book := place.Handbook("", "")
	if w.Go(book); w.Here() != book {
		t.Errorf("nobody works, and the handbook leads to %+v", w.Here())
	}
	w.assign(a, "Bela", map[string]bool{})
	w.Want("Twelve volts · Bela", "Go to the vehicle")
	if text := w.Text(); strings.Contains(text, "Go on with it") || strings.Contains(text, "1 reading") {
		t.Errorf("the next one sees:\n%s", text)
	}
	w.Press("Go to the vehicle")
	w.Want("Done so far: nothing yet")
	w.area.session.DropTasks()
	w.Go(place.Scenarios())
	w.Go(place.Task(taskAt))
	w.Want("Nobody works at this vehicle now.")
	w.assign(a, "Ada", hers)
	w.Press("Go on where you were")
	w.Want("Done so far: 1 reading")
}

// A task and the scenario that it was made of keep an attempt each.
func TestATaskAndItsScenarioKeepTheirOwn(t *testing.T) {
	w := openClass(t)
	plain := w.toScenario(taskAt)
	w.probe(plain, "battery.pos", "battery.neg")
	w.assign(assigned(), "Ada", map[string]bool{})
	w.Want("Go to the vehicle")
	w.Press("Go to the vehicle")
	w.Want("Done so far: nothing yet")
	w.Press("Prove the meter")
	if at, ok := w.area.UnderWay(); !ok || at != place.Task(taskAt) {
		t.Errorf("under way is %+v", at)
	}
	w.Go(place.Scenario(taskAt))
	w.Want("Done so far: 1 reading", "Battery")
	if w.area.practice.tries[keyOf(w.Here())] != plain || len(plain.attempt().Acts) != 1 || len(w.task().attempt().Acts) != 1 {
		t.Error("they share an attempt")
	}
	w.assign(assigned(), "Ada", map[string]bool{}) // the file was opened anew: another assignment, another attempt
	w.Want("Go to the vehicle")
}
