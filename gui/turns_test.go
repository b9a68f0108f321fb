package gui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/gui/place"
)

// Typed into the search, the name of a page leads to it, Enter alone: an entry of the
// rail, a walk seen whole, anything that is printed. Words that name no page lead to what
// holds them, as ever.
func TestPagesAreGoneToByTyping(t *testing.T) {
	for words, want := range map[string]place.Location{
		"settings":           place.Settings(),
		"vehi":               place.Vehicles(),
		"what fits":          place.Suspects(""),
		"flow half dead":     place.Flow("half-dead", ""),
		"tingle flow":        place.Flow("body-voltage", ""),
		"hot plug whole":     place.Flow("heat", ""),
		"print":              place.Print("handbook"),
		"print tingle":       place.Print("body-voltage"),
		"ghost voltage prin": place.Print("ghost-voltage"),
		"paper 12 v":         place.Print("twelve-volt"),
	} {
		w := open(t, wide, shipped)
		w.StartSearch()
		w.Type(words)
		w.Want("PAGES")
		w.Key(fyne.KeyReturn)
		if !w.Here().Same(want) {
			t.Errorf("%q leads to %+v, want %+v", words, w.Here(), want)
		}
	}
	for _, words := range []string{"tingle", "half of it is dead", "58 V on the bumper", "pin", "what is a flowing current"} {
		w := open(t, wide, shipped)
		w.StartSearch()
		w.Type(words)
		if strings.Contains(w.Text(), "PAGES") {
			t.Errorf("%q asks for a page", words)
		}
	}
}

// The flow that was asked for by typing has the way of the visit under way.
func TestATypedFlowHasTheWayOfTheVisit(t *testing.T) {
	w := open(t, wide, shipped)
	out, err := w.session.Begin(faulttree.Ref{Tree: "half-dead"})
	if err != nil {
		t.Fatal(err)
	}
	w.StartSearch()
	w.Type("flow half dead")
	w.Press("See whole: Half dead")
	if want := place.Flow("half-dead", out.To.ID); !w.Here().Same(want) {
		t.Errorf("at %+v, want %+v", w.Here(), want)
	}
}
