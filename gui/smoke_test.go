package gui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
)

// everywhere lists a location for every page, every document and every step
// of the handbook in use.
func everywhere(d *Desk) []Location {
	var all []Location
	for name := range pages {
		all = append(all, Location{Page: name})
	}
	for _, k := range view.Kinds() {
		for _, l := range view.All(d.book, k) {
			if k == view.KindTree {
				all = append(all, Location{Page: pageTree, ID: l.ID})
				for _, s := range d.book.Forest.Trees[l.ID].Steps {
					all = append(all, Location{Page: pageStep, ID: s.Ref().String(), Query: "58"})
				}
				continue
			}
			all = append(all, Location{Page: pageRead, Kind: string(k), ID: l.ID})
		}
	}
	return all
}

// Every page, card, caution, fault, source and step of the shipped handbook
// opens at three sizes in every mode, says something, and scrolls nowhere
// sideways.
func TestEveryPageOpens(t *testing.T) {
	shipped := func(o *Options) { o.ContentDir = "" }
	for i, size := range []fyne.Size{small, middle, wide} {
		d := desk(t, size, shipped)
		mode := look.Modes()[1+i]
		d.set(func(s *Settings) { s.Mode = mode })
		for _, at := range everywhere(d) {
			d.Go(at)
			text := d.shown()
			if strings.TrimSpace(text) == "" {
				t.Errorf("%+v at %v shows nothing", at, size)
			}
			if strings.Contains(text, "Not found") && at.ID != "" {
				t.Errorf("%+v is not found", at)
			}
			look.Walk(d.window.Content(), func(o fyne.CanvasObject) bool {
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
	d := desk(t, small, func(o *Options) { o.ContentDir = ""; o.Visits = nil })
	d.settings.Role = faulttree.Qualified
	for _, id := range d.book.Forest.IDs() {
		for _, s := range d.book.Forest.Trees[id].Steps {
			if s.Kind == faulttree.KindWeigh {
				continue // asks nothing
			}
			d.begin(s.Ref())
			if d.Here().Page != pageWalk || d.visit.walk().At() != s.Ref() {
				t.Errorf("%s does not begin", s.Ref())
			}
			d.wantShown(t, s.Title[:len(s.Title)/2])
		}
	}
}
