package gui

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree/must"
	"faultwright/gui/place"
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
