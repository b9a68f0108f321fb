package gui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// everywhere lists a location for every page, every document and every step
// of the handbook in use.
func everywhere(w *window) []place.Location {
	all := lists.Each(w.Pages(), func(name place.Page) place.Location { return place.Location{Page: name} })
	for _, k := range view.Kinds() {
		for _, l := range view.All(w.session.Book(), k) {
			if k == view.KindTree {
				all = append(all, place.Document(view.KindTree, l.ID), place.Flow(l.ID, ""), place.Print(l.ID))
				for _, s := range w.session.Book().Forest.Tree(l.ID).Steps {
					all = append(all, place.Reading(s.Ref().String(), "", "58"))
				}
				continue
			}
			all = append(all, place.Document(k, l.ID))
		}
	}
	return all
}

// Every page, card, caution, fault, source and step of the shipped handbook
// opens at three sizes in every mode, says something, and scrolls nowhere
// sideways.
func TestEveryPageOpens(t *testing.T) {
	shipped := shipped
	for i, size := range []fyne.Size{small, middle, wide} {
		w := open(t, size, shipped)
		mode := look.Modes()[1+i]
		w.colours(mode)
		for _, at := range everywhere(w) {
			w.Go(at)
			text := w.Text()
			if strings.TrimSpace(text) == "" {
				t.Errorf("%+v at %v shows nothing", at, size)
			}
			if strings.Contains(text, "Not found") && at.ID != "" {
				t.Errorf("%+v is not found", at)
			}
			look.Walk(w.Window.Window().Content(), func(o fyne.CanvasObject) bool {
				if p, ok := o.(*look.Prose); ok {
					right := fyne.CurrentApp().Driver().AbsolutePositionForObject(p).X + p.Size().Width
					if right > size.Width+1 {
						t.Errorf("%+v at %v: “%s” reaches %v", at, size, p.Plain(), right)
					}
				}
				return true
			})
		}
	}
}

// Every step of the shipped trees can be asked, in a walk that begins there.
func TestEveryStepIsAsked(t *testing.T) {
	w := open(t, small, shipped, unkept)
	w.session.Set(func(s *session.Settings) { s.Role = faulttree.Qualified })
	for _, id := range w.session.Book().Forest.IDs() {
		for _, s := range w.session.Book().Forest.Trees[id].Steps {
			w.beginKnown(s)
			at := w.session.Visit().Walk().At()
			if s.Kind == faulttree.KindChart {
				// asks for one of its columns, each a step of its own
				column, ok := strings.CutPrefix(at.Step, s.ID+"/")
				if w.Here().Page != place.WalkPage || !ok || column == "" || at.Tree != id {
					t.Errorf("%s does not begin; the walk stands at %s", s.Ref(), at)
				}
				w.Want("Why this one next?")
				continue
			}
			if w.Here().Page != place.WalkPage || at != s.Ref() {
				t.Errorf("%s does not begin", s.Ref())
			}
			w.Want(s.Title[:len(s.Title)/2])
		}
	}
}
