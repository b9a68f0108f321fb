package parts

import (
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// unlikelyFold is under which name the unlikely suspects are folded.
const unlikelyFold = "unlikely"

// Suspects is what fits: dangers still open first, which are never folded, then
// that none fits where that is likeliest, then the suspects, the likeliest first.
// From is the visit that the readings are of, or [place.Told].
func Suspects(w *frame.Frame, v view.Suspects, f Folds, from string) []fyne.CanvasObject {
	out := []fyne.CanvasObject{openDangers(v, f)}
	for _, said := range v.Taken() {
		out = append(out, look.NewText(said))
	}
	if v.None != nil && v.None.Leads {
		out = append(out, none(*v.None))
	}
	list := look.Stack(14)
	for _, s := range v.Likely {
		list.Add(suspectOf(w, s, from))
		list.Add(look.NewLine())
	}
	out = append(out, list)
	if v.None != nil && !v.None.Leads {
		out = append(out, none(*v.None))
	}
	if len(v.Untested) > 0 {
		out = append(out, brief("Not tested by these readings", v.Untested))
	}
	switch {
	case len(v.Unlikely) == 0:
	case f.Open(unlikelyFold):
		out = append(out, brief("Unlikely", v.Unlikely))
	default:
		out = append(out, look.NewLink(view.Count(len(v.Unlikely), "unlikely one"), func() { f.Unfold(unlikelyFold) }))
	}
	return append(out, look.NewSoft(view.SharesRestOn+" "+view.ClearsNone))
}

// brief names some suspects, a line each.
func brief(caption string, all []view.Suspect) fyne.CanvasObject {
	list := look.Stack(4, look.NewCaption(caption))
	for _, s := range all {
		list.Add(look.NewSoft(s.Share + ": " + s.Headline()))
	}
	return list
}

// restFold is under which name the dangers beyond the first tests are folded.
const restFold = "rest of the dangers"

// openDangers is one line for each test.
func openDangers(v view.Suspects, f Folds) fyne.CanvasObject {
	list := look.Stack(6, look.NewCaption(view.OpenHeading))
	for _, n := range v.Open {
		line := look.NewProse(look.Run{Text: n.Test + ": ", Style: fyne.TextStyle{Bold: true}}, look.Run{Text: n.Brief()})
		line.Type = look.SizeSmall
		list.Add(line)
	}
	switch {
	case v.MoreOpen == "":
	case f.Open(restFold):
		list.Add(look.NewSoft(v.MoreOpen + ": " + v.RestOpen))
	default:
		list.Add(look.NewLink(v.MoreOpen, func() { f.Unfold(restFold) }))
	}
	if len(v.Open) == 0 {
		list.Add(look.NewSoft("No danger of the handbook is left open by these readings alone. That clears nothing."))
	}
	return look.NewPanel(list)
}

func none(n view.None) fyne.CanvasObject {
	text := look.Stack(4, look.NewStrong(n.Title+" · "+n.Share), look.NewText(n.Text))
	if n.Leads {
		return look.NewCallout(faulttree.Warning, text)
	}
	return text
}

// suspectOf is one suspect: the word first, then what it is, then what to do, under
// its signal word.
func suspectOf(w *frame.Frame, s view.Suspect, from string) fyne.CanvasObject {
	out := look.Stack(4, look.NewCaption(s.Word+" · "+s.Share), look.NewTitle(s.Headline()))
	if len(s.Do) > 0 {
		out.Add(look.NewSignLine(s.Signal, nil, look.Run{Text: strings.Join(s.Do, " ")}))
	}
	if s.RepairBy != "" {
		out.Add(look.NewSoft(view.RepairHeading + ": " + s.RepairBy))
	}
	if s.Worst != "" {
		out.Add(look.NewSoft(s.Worst))
	}
	links := look.LinkRow()
	if s.Drawn {
		links.Add(whyLink(w, s, from))
	}
	for _, f := range s.Faults {
		text := f.Title
		if len(s.Faults) == 1 {
			text = "More about it"
		}
		links.Add(look.NewLink(text, func() { w.Go(place.Link(f)) }))
	}
	if len(links.Objects) > 0 {
		out.Add(links)
	}
	return out
}

// whyLink leads to why what was read reads so with a suspect, where it likeliest is.
func whyLink(w *frame.Frame, s view.Suspect, from string) fyne.CanvasObject {
	where := ""
	if len(s.Of.Places) > 0 {
		where = string(s.Of.Places[0])
	}
	return look.NewLink("Show me why", func() { w.Go(place.Why(s.Faults[0].ID, where, from)) })
}

// StillPossible is the same in a narrow column: dangers still open first, then the
// suspects, each in a line or two.
func StillPossible(w *frame.Frame, v view.Suspects, from string) fyne.CanvasObject {
	out := look.Stack(8, look.NewSoft(view.OpenHeading+":"))
	for _, n := range v.Open {
		line := look.NewProse(look.Run{Text: n.Test + ": ", Style: fyne.TextStyle{Bold: true}}, look.Run{Text: n.Brief()})
		line.Type = look.SizeSmall
		out.Add(line)
	}
	if v.MoreOpen != "" {
		out.Add(look.NewSoft(v.MoreOpen + "."))
	}
	out.Add(look.NewLine())
	for _, said := range v.Taken() {
		out.Add(look.NewSoft(said))
	}
	if v.None != nil {
		out.Add(look.NewStrong(v.None.Title + " · " + v.None.Share))
	}
	for _, s := range v.Likely {
		title := look.NewProse(look.Run{Text: s.Headline(), Target: "fault"})
		title.Type = look.SizeLead
		if len(s.Faults) == 0 {
			title = look.NewText(s.Headline())
		} else {
			title.OnTapped = func(string) { w.Go(place.Link(s.Faults[0])) }
		}
		one := look.Stack(2, look.NewSoft(view.Capital(s.Word)+" · "+s.Share), title)
		if s.Drawn {
			one.Add(whyLink(w, s, from))
		}
		out.Add(one)
	}
	out.Add(look.NewSoft(view.ClearsNone))
	return out
}
