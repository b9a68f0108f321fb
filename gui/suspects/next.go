package suspects

import (
	"cmp"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree/suspect"
	"faultwright/gui/fits"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/session"
)

// mostNext is how many things to find out next are shown.
const mostNext = 4

// showNext shows what to find out next, and with which tools.
func (s *sheet) showNext(found fits.Found) {
	s.listNext(found)
	s.next.Add(s.a.tools())
}

// openTools is under which name the tools are folded.
const openTools = "tools"

// tools says which tools the reader has, and lets him say it.
func (a *Area) tools() fyne.CanvasObject {
	has := a.session.Settings().Tools
	known := "nothing"
	if titles := view.ToolTitles(has); len(titles) > 0 {
		known = strings.Join(titles, ", ")
	}
	link := look.NewLink(view.ToolsHeading+": "+known, func() { a.unfold(openTools) })
	if a.open != openTools {
		return link
	}
	return look.Stack(8, link, parts.Tools(has, func(has suspect.Tools) {
		if err := a.session.Set(func(s *session.Settings) { s.SetTools(has) }); err != nil {
			a.window.Say(err.Error())
		}
		a.reason()
		a.window.Render()
	}))
}

// listNext lists what to find out next: the best in full, the others as lines that
// open.
func (s *sheet) listNext(found fits.Found) {
	a := s.a
	heading := look.NewCaption("Worth finding out next")
	switch {
	case found.NextErr != nil:
		s.next.Add(look.Stack(8, heading, look.NewSoft(a.work.Why(a.session.Account(), found.NextErr))))
		return
	case !found.NextDone:
		s.next.Add(look.Stack(8, heading, look.NewSoft("Working out what would tell most for its effort and exposure.")))
		return
	case len(found.Next) == 0:
		s.next.Add(look.Stack(8, heading, look.NewSoft("Nothing more that you may read, see or try here would tell much. What stands above is left to whoever repairs it.")))
		return
	}
	list := look.Stack(look.GapBlock, heading)
	shown := view.FirstNext(found.Next, mostNext)
	chosen := 0
	for i, n := range shown {
		if a.open == nextName(n) {
			chosen = i
		}
	}
	list.Add(a.nextWhole(shown[chosen]))
	for i, n := range shown {
		if i != chosen {
			name := nextName(n)
			link := look.NewLink(n.Title, func() { a.unfold(name) })
			list.Add(look.Stack(2, link, look.NewSoft(n.Why)))
		}
	}
	s.next.Add(list)
}

func nextName(n view.Next) string { return "next " + n.Of.ID() }

// nextWhole is one thing to find out, with how it is done and where it is told.
func (a *Area) nextWhole(n view.Next) fyne.CanvasObject {
	out := look.Stack(look.GapBlock)
	if n.Caution.Signal > 0 {
		out.Add(parts.CautionLine(a.window, n.Caution, a.folds()))
	}
	title := look.NewTitle(n.Title)
	out.Add(look.Stack(4, title, look.NewSoft(n.Why)))
	account := a.session.Account()
	switch {
	case n.Of.Observation != nil:
		out.Add(a.nextChoices(n, func(id string) suspect.Evidence { return seen(n.Of.Observation.ID, id) }))
	case n.Of.Intervention != nil:
		out.Add(look.NewText(n.Before))
		out.Add(a.nextChoices(n, func(id string) suspect.Evidence { return tried(n.Of.Intervention.ID, account.Tree, id == view.Gone) }))
	default:
		probes := parts.NewProbes(view.Step{Asked: []view.Asked{*n.Reads}, Plug: n.Plug}, a.session.Face(), func(f figure.Face) {
			if err := a.session.Set(func(s *session.Settings) { s.Face = f }); err != nil {
				a.window.Say(err.Error())
				return
			}
			a.window.Render()
		})
		out.Add(a.nextEntry(n))
		pictures := look.Stack(8, probes.Pictures...)
		if probes.Plugs != nil {
			pictures.Add(probes.Plugs)
		}
		out.Add(look.Beside(220, 190, 20, pictures, look.Stack(8, look.NewSoft(parts.Settings(n.Reads.Chips)), parts.Blocks(a.window, n.Prose))))
	}
	return look.NewPanel(out)
}

// nextChoices answers what is seen or tried. The choices have no digits: those
// belong to what is asked at the left.
func (a *Area) nextChoices(n view.Next, evidence func(id string) suspect.Evidence) fyne.CanvasObject {
	row := look.Stack(8)
	for _, c := range n.Choices {
		row.Add(look.NewLink(c.Text, func() { a.change(a.session.Account().With(evidence(c.ID))) }))
	}
	return row
}

// nextDraft is the entry of the page in which the reading proposed is typed.
const nextDraft = 1

// nextEntry takes the reading.
func (a *Area) nextEntry(n view.Next) fyne.CanvasObject {
	q, meter := n.Reads.Quantity, a.session.Settings().Meter
	field := parts.Entry(a.window, a.session, here, nextDraft, "reading", "")
	problem := look.NewSoft("")
	parts.ShowText(problem, "")
	take := func() {
		typed := view.Read(field.Text, q, meter)
		if !typed.Taken {
			typed.Problem = cmp.Or(typed.Problem, "Type what the meter shows, such as 41.5, OL, or wanders 3-8.")
			parts.ShowText(problem, typed.Problem)
			a.window.Relayout()
			return
		}
		a.session.Keep(here, nextDraft, "")
		a.change(a.session.Account().With(suspect.Evidence{Quantity: q, Reading: typed.Reading}))
	}
	field.OnSubmitted = func(string) { take() }
	unit := strings.TrimSpace(n.Reads.Unit)
	row := look.Beside(150, 120, 12, field, look.Row(12, look.Pad(10, 0, 0, 0, look.NewText(unit)), look.NewButton("Take it", take)))
	return look.Stack(8, row, problem)
}
