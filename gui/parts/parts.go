// Package parts draws what several pages have in common from the values of
// package content/view: the danger line, chips, links, the trail, entries for
// readings, pictures of probes. It decides nothing and keeps nothing.
package parts

import (
	"errors"
	"net/url"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/scene"
	"faultwright/faulttree/suspect"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// CautionLine is the danger line: the one sentence that matters most, and a way
// to the others. Each leads to its details.
func CautionLine(w *frame.Frame, c view.Caution, folds Folds) fyne.CanvasObject {
	const others = "others"
	runs := []look.Run{{Text: c.First()}, {Text: " "}}
	switch {
	case len(c.Each) == 1:
		runs = append(runs, look.Run{Text: "More about it", Color: look.ColorInk, Target: "caution:" + c.Each[0].ID})
	case folds.Open(others):
		runs = nil
		for _, each := range c.Each {
			runs = append(runs, look.Run{Text: view.Sentence(each.Title), Color: look.ColorInk, Target: "caution:" + each.ID}, look.Run{Text: " "})
		}
	case len(c.Each) > 1:
		runs = append(runs, look.Run{Text: c.More(), Color: look.ColorInk, Target: others})
	}
	return look.NewSignLine(c.Signal, func(target string) {
		if target == others {
			folds.Unfold(others)
			return
		}
		w.Follow(target)
	}, runs...)
}

// Folds remembers what of a page is folded into one line and what was opened.
type Folds interface {
	Open(name string) bool
	Unfold(name string)
}

// Head is what stands above the question, and the question.
func Head(w *frame.Frame, above, question string) fyne.CanvasObject {
	crumb := look.NewSoft(above)
	q := look.NewQuestion(question)
	if w.Narrow() {
		q.Type = look.SizeHeading
	} else {
		crumb.Type = look.SizeText
	}
	return look.Stack(2, crumb, q)
}

// Chips are the settings of the meter and the vehicle.
func Chips(all []view.Chip) fyne.CanvasObject {
	row := look.Row(10)
	for _, c := range all {
		row.Add(look.NewChip(c.Name, c.Value))
	}
	return row
}

// Settings are those of the meter and the vehicle in one line.
func Settings(all []view.Chip) string {
	var set []string
	for _, c := range all {
		if c.Name != "hold" {
			set = append(set, c.Name+" "+c.Value)
		}
	}
	return strings.Join(set, " · ")
}

// Instruction is what a step tells the reader; in a narrow window its beginning,
// until it is unfolded.
func Instruction(w *frame.Frame, s view.Step, folds Folds) fyne.CanvasObject {
	const whole = "instruction"
	first, more := s.Beginning()
	if !w.Narrow() || !more || folds.Open(whole) {
		return Blocks(w, s.Prose)
	}
	p := look.NewProse(look.Run{Text: first + " "}, look.Run{Text: "Read all of it", Target: whole})
	p.OnTapped = func(string) { folds.Unfold(whole) }
	return p
}

// Links is a captioned list of documents to open; nil if there are none.
func Links(w *frame.Frame, caption string, all []view.Link) []fyne.CanvasObject {
	if len(all) == 0 {
		return nil
	}
	list := look.Stack(8, look.NewCaption(caption))
	for _, l := range all {
		list.Add(look.NewLink(l.Title, func() { w.Go(place.Link(l)) }))
	}
	return []fyne.CanvasObject{list}
}

// LinkLine is a sentence that ends in a link to a place.
func LinkLine(w *frame.Frame, text, link string, to place.Location) *look.Prose {
	p := look.NewProse(look.Run{Text: text}, look.Run{Text: link, Target: "place"})
	p.OnTapped = func(string) { w.Go(to) }
	return p
}

// Given is a figure that hurts and that this walk does not judge, with the way to
// the walk that does.
func Given(w *frame.Frame, g view.Given) fyne.CanvasObject {
	text := look.NewStrong(g.Text)
	if g.Walk.ID == "" {
		return look.NewCallout(faulttree.Danger, text)
	}
	return look.NewCallout(faulttree.Danger, look.Stack(8, text, GivenLink(w, g)))
}

// GivenLink leads to the walk that judges a figure, with the figure typed there.
func GivenLink(w *frame.Frame, g view.Given) fyne.CanvasObject {
	to := place.Reading(g.Step, g.Quantity, g.Typed)
	if g.Step == "" {
		to = place.Link(g.Walk)
	}
	return look.NewLink("Begin “"+g.Walk.Title+"” with this reading", func() { w.Go(to) })
}

// Blocks draws a document's blocks with links that work in the window.
func Blocks(w *frame.Frame, all []document.Block) fyne.CanvasObject {
	return look.NewBlocks(all, w.Follow)
}

// Option is one of several, of which one is chosen.
func Option(name string, chosen bool, choose func()) *look.Nav {
	n := look.NewNav(name, choose)
	n.SetChosen(chosen)
	return n
}

// Answer is [Option] below others, with a mark that tells without colour which holds.
func Answer(name string, chosen bool, choose func()) *look.Nav {
	if chosen {
		return Option("●  "+name, chosen, choose)
	}
	return Option("○  "+name, chosen, choose)
}

// Show shows an object or hides it.
func Show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// ShowText changes a line; an empty one takes no room.
func ShowText(p *look.Prose, text string) {
	p.SetText(text)
	Show(p, text != "")
}

// Enable switches a button on or off.
func Enable(b *look.Button, on bool) {
	if on {
		b.Enable()
	} else {
		b.Disable()
	}
}

// Tools lets the reader say what he has beside a multimeter.
func Tools(has suspect.Tools, say func(suspect.Tools)) fyne.CanvasObject {
	out := look.Stack(4)
	for _, t := range suspect.AllTools() {
		out.Add(look.NewCheck(t.Title, has&t.Is != 0, func(bool) { say(has ^ t.Is) }))
	}
	return out
}

// Entry is text entry n of a place, with what was typed there before, or else
// what is known.
func Entry(w *frame.Frame, s *session.Session, at place.Location, n int, hint, known string) *look.Field {
	f := w.Field(hint)
	text, typed := s.Draft(at, n)
	if !typed {
		text = known
	}
	f.SetText(text)
	f.OnChanged = func(text string) { s.Keep(at, n, text) }
	return f
}

// Oneline lays out the drawing of a scene in some width of the window. Points tells
// its test points.
func Oneline(s *scene.Scene, v scene.View, points func(node string) bool, width float32) *figure.Oneline {
	var kind *bool
	if alternating, direct := s.Kinds(); alternating && direct {
		shown := s.Direct()
		kind = &shown
	}
	return figure.NewOneline(figure.OnelinePlan{
		Direct: kind, Rig: s.Rig(), Fault: s.Variant(), Loads: v.State.Loads, Points: points, Width: float64((width - 24) / look.TextScale()),
	})
}

// OnelineState is what the drawing of a scene shows.
func OnelineState(s *scene.Scene, v scene.View) figure.OnelineState {
	red, black := s.Probes()
	dial, _ := s.Severity()
	return figure.OnelineState{
		Live: true, Direct: s.Direct(), Volts: v.Volts, Amps: v.Amps, Tripped: v.Tripped, Off: v.State.Off, Loads: v.State.Loads,
		Values: v.Values, Fault: s.Variant(), Severity: dial.Value, Red: red, Black: black, Danger: v.Danger,
	}
}

// Chosen is what a dialog calls: then with what the reader chose, nothing where he
// thought better of it. Where choosing failed it says what was not done, and why.
func Chosen[T any](window *frame.Frame, undone string, then func(chosen T)) func(T, error) {
	return func(chosen T, err error) {
		switch {
		case err != nil:
			window.Say(undone + " " + view.Capital(view.Sentence(err.Error())))
		case any(chosen) != nil:
			then(chosen)
		}
	}
}

// Save puts text into a file that the reader has chosen. It gives the address of the
// file, nil for one that this machine cannot open, and what is to be said: where it is
// and what it lacks, or why it is not there.
func Save(w fyne.URIWriteCloser, what string, text []byte, lacks string) (at *url.URL, said string) {
	where := w.URI().Path()
	_, err := w.Write(text)
	if closed := w.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return nil, what + " could not be written to " + where + ". " + view.Capital(view.Sentence(err.Error()))
	}
	if w.URI().Scheme() == "file" {
		at = &url.URL{Scheme: "file", Path: where}
	}
	return at, what + " was saved to " + where + "." + lacks
}

// GoOn shows the outcome of an action, or says on this page why there is none.
func GoOn(w *frame.Frame, out session.Outcome, err error) {
	switch {
	case errors.Is(err, session.ErrTree):
		w.Go(place.Problems(), err.Error())
	case err != nil:
		w.Say(err.Error())
	default:
		w.Go(out.To, out.Said)
	}
}
