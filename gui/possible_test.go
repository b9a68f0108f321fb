package gui

import (
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/place"
	"faultwright/gui/session"
	"faultwright/gui/session/sessiontest"
)

// toNeutral begins a walk with the readings of an open neutral.
func (w *window) toNeutral() {
	w.t.Helper()
	out, err := w.session.BeginTold("half-dead", view.Account{})
	if err != nil {
		w.t.Fatal(err)
	}
	given := w.neutralRead()
	if out, err = w.session.Supply(out.To.ID, faulttree.Supplied{Readings: given, Once: true}); err != nil {
		w.t.Fatal(err)
	}
	w.Go(out.To)
}

// neutralRead is the readings of an open neutral.
func (w *window) neutralRead() map[string][]faulttree.Reading {
	w.t.Helper()
	return w.parsed(map[string]string{"panel.l1-n@loaded": "59", "panel.l2-n@loaded": "177"})
}

// parsed is readings as they were typed.
func (w *window) parsed(typed map[string]string) map[string][]faulttree.Reading {
	w.t.Helper()
	given := map[string][]faulttree.Reading{}
	for id, text := range typed {
		r, err := faulttree.ParseReading(text, w.session.Book().Forest.Quantities[id])
		if err != nil {
			w.t.Fatal(err)
		}
		given[id] = []faulttree.Reading{r}
	}
	return given
}

// Beside every step stands what still fits, folded for an owner, unfolded for a
// qualified person; either may turn it, and it stays so.
func TestStillPossible(t *testing.T) {
	w := open(t, wide, shipped)
	w.toNeutral()
	w.Want("STILL POSSIBLE")
	if strings.Contains(w.Text(), "The neutral is open (cord)") {
		t.Errorf("it is unfolded for an owner:\n%s", w.Text())
	}
	w.Press("Show what fits the readings so far")
	w.Want("The neutral is open (cord)", "Most likely", view.OpenHeading, view.ClearsNone)
	w.WantNothingCut()
	w.Picture("still-possible")
	w.Press("Fold it")
	if strings.Contains(w.Text(), "The neutral is open (cord)") {
		t.Error("it cannot be folded")
	}
	q := open(t, wide, shipped)
	q.set(func(s *session.Settings) { s.Role = faulttree.Qualified })
	q.toNeutral()
	q.Want("The neutral is open (cord)")
	q.Press("Show me why")
	q.Want("The neutral is open", "Why it reads this", "The neutral of the cord is open: the ", "; you read ")
}

// Where it cannot be worked out the walk goes on as ever.
func TestStillPossibleFails(t *testing.T) {
	broken := sessiontest.Vehicles{Meanwhile: func() error { return errors.New("the bench is gone") }}
	w := open(t, wide, shipped, func(o *Options) { o.draw = broken.Draw })
	w.toNeutral()
	w.Press("Show what fits the readings so far")
	w.Want("This could not be worked out.", "the bench is gone")
}

// The sheet lists the suspects and the dangers still open.
func TestSheetListsSuspects(t *testing.T) {
	w := open(t, wide, shipped)
	w.toNeutral()
	w.Go(place.Sheet(w.session.Visit().ID()))
	w.Press("Copy as text")
	w.WantSaid("The sheet is on the clipboard.")
	sheet := fyne.CurrentApp().Clipboard().Content()
	for _, want := range []string{"What fits these readings", "The neutral is open (cord)", view.OpenHeading, "A loop test of the supply, by an electrician", view.ClearsNone} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the sheet does not say %q:\n%s", want, sheet)
		}
	}
}

// A finding that is milder than a danger that its readings leave open says so, and
// counts as DANGER: what is to be done for that stands first.
func TestFindingFollowsTheSafer(t *testing.T) {
	w := open(t, wide, shipped)
	out, err := w.session.Begin(faulttree.Ref{Tree: "half-dead", Step: "outlet-alive"})
	if err != nil {
		t.Fatal(err)
	}
	w.Go(out.To)
	if strings.Contains(w.Text(), "graver than") {
		t.Errorf("nothing was read, and they part:\n%s", w.Text())
	}
	cord := w.parsed(map[string]string{"ohm:plug.n-cord.n@unplugged": "OL"})
	if out, err = w.session.Supply(out.To.ID, faulttree.Supplied{Readings: cord, Once: true}); err != nil {
		t.Fatal(err)
	}
	w.Return("")
	w.Want("leave open a danger that is graver than this finding: “The neutral is open” (cord)", "The safer is followed", "Keep it unplugged and put it out of use.")
	w.Picture("parting")
	w.Go(place.Sheet(out.To.ID))
	w.Press("Copy as text")
	if sheet := fyne.CurrentApp().Clipboard().Content(); !strings.Contains(sheet, "The safer is followed") {
		t.Errorf("the sheet says nothing of it:\n%s", sheet)
	}
}
