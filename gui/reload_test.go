package gui

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// copied is a copy of the small handbook of the tests.
func copied(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	must.Do(t, os.CopyFS(dir, os.DirFS("../testdata/handbook")))
	return dir
}

// edit replaces a word of a file.
func edit(t *testing.T, file, old, by string) {
	t.Helper()
	text := must.Have(os.ReadFile(file))(t)
	if !strings.Contains(string(text), old) {
		t.Fatalf("%s does not have %q", file, old)
	}
	must.Do(t, os.WriteFile(file, []byte(strings.ReplaceAll(string(text), old, by)), 0o600))
}

// A handbook that is read again takes the visit along: new limits judge, and
// answers to a step that was renamed are told to have lapsed.
func TestTheHandbookIsReadAgainUnderAVisit(t *testing.T) {
	dir := copied(t)
	tree := filepath.Join(dir, "trees", "tingle.md")
	w := open(t, wide, folder(dir))
	w.toBody()
	w.Type("20")
	w.Want("Leads to: look further")
	edit(t, tree, "touch: {value: 30 V", "touch: {value: 15 V")
	w.handbook.Load()
	w.WantSaid("The handbook was read again.")
	w.Want("Leads to: stop") // what was typed is judged by the new limit
	edit(t, tree, "prove}", "prove-it}")
	edit(t, tree, "prove,", "prove-it,")
	w.handbook.Load()
	w.WantSaid("1 answer no longer fits")
	w.Want("Prove the meter on an outlet that works", "1 answer no longer fits")
	w.Answer("119.8")
	w.Want("Measure from bare metal")
	for range 4 { // over the answers, those of the step that was renamed among them
		w.Back()
		w.WantNothingCut()
	}
}

// While the handbook is read again the one before is in use: answers are taken
// and the way back works. What comes after that counts.
func TestAnsweringWhileTheHandbookIsReadAgain(t *testing.T) {
	var meanwhile func()
	w := open(t, wide, func(o *Options) {
		o.read = func(ctx context.Context) (*content.Library, error) {
			if meanwhile != nil {
				meanwhile()
			}
			return load.Dir(ctx, "../testdata/handbook")
		}
	})
	w.toBody()
	meanwhile = func() {
		w.WantSaid("being read again")
		w.Answer("58")
		w.Want("Stop, the body is live")
		w.Back()
		w.Want("Measure from bare metal")
		w.Forward()
		w.Go(place.Problems())
		w.Want("Stop reading")
		w.Back()
	}
	w.handbook.Load()
	w.Want("Stop, the body is live")
	if n := len(w.session.Visit().Walk().Trail()); n != 3 {
		t.Errorf("%d answers stand, want 3", n)
	}
	w.Pick("1")
	w.Answer("OL")
	w.Want("The grounding conductor is lost")
}

// A handbook that cannot be read again, or is stopped, leaves the one before
// and the visit.
func TestReadingAgainFails(t *testing.T) {
	fail := error(nil)
	var w *window
	w = open(t, wide, func(o *Options) {
		o.read = func(ctx context.Context) (*content.Library, error) {
			if fail == context.Canceled {
				w.handbook.CancelLoad()
			}
			if fail != nil {
				return nil, fail
			}
			return load.Dir(ctx, "../testdata/handbook")
		}
	})
	w.toBody()
	book := w.session.Book()
	for _, fail = range []error{errors.New("the folder has gone"), context.Canceled} {
		w.handbook.Load()
		w.WantSaid("was not read again", "stays in use")
		w.Want("Measure from bare metal")
		if w.session.Book() != book {
			t.Error("another handbook is in use")
		}
	}
	w.Answer("58")
	w.Want("Stop, the body is live")
}

// A handbook that is read again, or followed as its author saves it, leaves what is under
// way: the visit, the assignment, the vehicle that its learner stands before, and what the
// assignment closes. What would break the assignment is not used before its reader says so.
func TestAReloadKeepsWhatIsUnderWay(t *testing.T) {
	broken, saved := false, 0
	w := open(t, wide, shipped, func(o *Options) {
		read := o.read
		o.read = func(ctx context.Context) (*content.Library, error) {
			book := *must.Have(read(ctx))(t)
			if broken {
				book.Rigs, book.Scenarios = nil, nil
			}
			return &book, nil
		}
		o.changed = func(context.Context) error {
			if saved--; saved < 0 {
				return context.Canceled
			}
			return nil
		}
	})
	must.Have(w.session.Begin(faulttree.Ref{Tree: "body-voltage"}))(t)
	visit := w.session.Visit().ID()
	s := w.session.Book().Scenarios["buzz-after-the-rain"]
	of := must.Have(class.NewAssignment(w.session.Book(), class.Assignment{Title: "Tingles", Made: w.session.Now(), Role: faulttree.Qualified}, []*content.Scenario{s}, false, 0))(t)
	w.session.TakePart(of, []*content.Scenario{s})
	w.session.Assign(session.Task{Assignment: of, Learner: "Wren", Scenario: s, Header: practice.Header{Case: s.ID, Role: faulttree.Qualified, For: of.For("Wren")}})
	w.Go(place.Task(s.ID))
	w.Press("Go to the vehicle")
	w.Press("Prove the meter")
	for name, again := range map[string]func(){"read again": w.handbook.Load, "followed": func() { saved = 1; w.handbook.Follow() }} {
		before := w.session.Book()
		again()
		if w.session.Book() == before {
			t.Fatalf("%s: the handbook was not read", name)
		}
		w.Want("1 reading")
		w.Go(place.Handbook("", ""))
		w.WantSaid("Your assignment closes this while you are at the vehicle.")
		if kept, _ := w.session.TakesPart(); kept != of || w.session.Visit() == nil || w.session.Visit().ID() != visit {
			t.Errorf("%s: the assignment is %v, the visit %v", name, kept, w.session.Visit())
		}
	}
	broken, saved = true, 1
	w.handbook.Follow()
	w.WantSaid("What was saved is not in use yet, so that what is under way keeps its place.")
	w.Press("Prove the meter")
	w.Want("2 readings")
}
