package practice

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scene"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// play is a scenario while it is worked on: what changes when something is
// done.
type play struct {
	a *Area
	t *trying

	plan    *figure.Oneline
	planned float32 // the width that it was laid out for
	width   float32

	drawing    *look.LiveFigure
	display    *look.Prose
	note       *look.Prose
	red, black *look.Select
	ranges     *fyne.Container
	take       *look.Button
	again      *look.Button
	log        *look.Values
	logTitle   *look.Prose
}

// mostNote is how many lines a note under the display takes at most. Their room
// is kept, so that nothing moves under the pointer when a note comes or goes.
const mostNote = 3

func newPlay(a *Area, t *trying) *play {
	p := &play{a: a, t: t, drawing: look.NewLiveFigure(figure.Drawing{}), display: look.NewStrong(""), note: look.NewSoft(""), log: look.NewValues(), logTitle: look.NewSoft("")}
	p.display.Type = look.SizeReading
	p.note.Room = mostNote
	p.log.Room = 110
	p.ranges = look.Stack(0)
	p.drawing.OnTapped = p.touch
	p.drawing.OnWidth = func(width float32) {
		p.width = width
		p.redraw()
	}
	return p
}

// page is the page.
func (p *play) page() frame.Page {
	a, s := p.a, p.t.scenario
	out := frame.Page{Keys: map[rune]func(){}}
	story := look.NewPanel(look.Stack(10, look.NewCaption("As the customer tells it"), parts.Blocks(a.window, s.Body)))
	work := look.Grid(330, 20, 2, look.NewPanel(p.metering()), look.Stack(look.GapBlock, look.NewPanel(p.switching()), look.NewPanel(p.noting())))
	p.redraw()
	p.showTaken()
	out.Body = append(out.Body, parts.Head(a.window, "Practice · "+s.Rig.Title, s.Title), story)
	how := look.NewSoft("Nothing is shown here that you have not measured. Tap a test point to put the red probe on it, then the black one, or choose both from the lists. " +
		"What lies inside is reached by the step, with a hand on the body.")
	if a.window.Narrow() {
		out.Body = append(out.Body, work, p.drawing, how)
	} else {
		out.Body = append(out.Body, p.drawing, how, work)
	}
	out.Body = append(out.Body, look.NewPanel(p.naming()))
	row := look.Row(12)
	if s.Tree != "" && a.session.Book().Forest.Tree(s.Tree) != nil {
		row.Add(look.NewButton("Take the walk beside it", func() { a.window.Go(place.Document(view.KindTree, s.Tree)) }))
	}
	p.again = look.NewButton("Begin again", func() { a.again(s) })
	row.Add(p.again)
	p.showLog()
	row.Add(look.NewButton("Other scenarios", func() { a.window.Go(place.Scenarios()) }))
	row.Add(look.NewButton("Back", a.window.Back))
	out.Body = append(out.Body, row)
	out.Focus = p.red
	return out
}

// metering is the meter and where its probes are.
func (p *play) metering() fyne.CanvasObject {
	points := p.t.scene.Points()
	names := make([]string, len(points)+1)
	names[0] = "nowhere"
	for i, id := range points {
		names[i+1] = view.Capital(p.t.scene.PointTitle(id))
	}
	place := func(probe *string) *look.Select {
		return look.NewSelect(names, slices.Index(points, *probe)+1, func(i int) {
			*probe = ""
			if i > 0 {
				*probe = points[i-1]
			}
			p.moved()
		})
	}
	p.red, p.black = place(&p.t.red), place(&p.t.black)
	functions := look.Row(6)
	var all []*look.Nav
	for _, f := range append(p.t.scene.Functions(), meter.Continuity) {
		title := view.Capital(scene.FunctionTitle(f))
		if f == meter.Continuity {
			title = "Beeper"
		}
		n := parts.Option(title, p.t.v.Setting().Function == f, nil)
		n.OnTapped = func() {
			p.dial(func(s *meter.Setting) { s.Function, s.Range = f, 0 })
			for _, other := range all {
				other.SetChosen(other == n)
			}
			p.showRanges()
			p.a.window.Relayout()
		}
		all = append(all, n)
		functions.Add(n)
	}
	p.showRanges()
	set := p.t.v.Setting()
	switches := look.Row(18,
		look.NewCheck("Hold", set.Hold, func(on bool) { p.dial(func(s *meter.Setting) { s.Hold = on }) }),
		look.NewCheck("Red lead in the ampere jack", set.Jack == meter.AmpereJack, func(on bool) {
			p.dial(func(s *meter.Setting) {
				s.Jack = meter.VoltJack
				if on {
					s.Jack = meter.AmpereJack
				}
			})
		}))
	p.take = look.NewPrimary("Take this reading", func() { p.do(practice.Act{Kind: practice.Read, Red: p.t.red, Black: p.t.black}) })
	prove := look.NewButton("Prove it on a live source", func() { p.do(practice.Act{Kind: practice.Prove}) })
	return look.Stack(12, look.NewCaption("Meter"), p.display, p.note,
		look.Labelled("Red probe on", p.red), look.Labelled("Black probe on", p.black),
		look.Row(12, p.take, prove), functions, p.ranges, switches)
}

// showRanges lets the range be chosen that the function has.
func (p *play) showRanges() {
	f := p.t.v.Setting().Function
	ends := p.t.v.Face().Ranges(f.Unit())
	names := []string{"automatic"}
	for _, end := range ends {
		names = append(names, scenes.RangeText(end, f))
	}
	list := look.NewSelect(names, slices.Index(ends, p.t.v.Setting().Range)+1, func(i int) {
		p.dial(func(s *meter.Setting) {
			s.Range = 0
			if i > 0 {
				s.Range = ends[i-1]
			}
		})
	})
	p.ranges.Objects = []fyne.CanvasObject{look.Labelled("Range", list)}
	p.ranges.Refresh()
}

// dial sets the meter.
func (p *play) dial(change func(*meter.Setting)) {
	s := p.t.v.Setting()
	change(&s)
	p.t.v.Set(s)
	p.moved()
}

// switching is what may be plugged, thrown and turned on.
func (p *play) switching() fyne.CanvasObject {
	list := look.Stack(4, look.NewCaption("Plugs, breakers and loads"))
	for _, sw := range p.t.c.Rig.Switches {
		if !slices.Contains(p.t.c.May, sw.Name) {
			continue
		}
		list.Add(look.NewCheck(view.Capital(sw.Title), !p.t.v.Off(sw.Name), func(on bool) {
			p.do(practice.Act{Kind: practice.Throw, Name: sw.Name, On: on})
		}))
	}
	for _, leg := range p.t.c.Rig.Legs() {
		if leg == "l1l2" && !p.t.c.Loads[leg] {
			continue // there is no such appliance in this vehicle
		}
		list.Add(look.NewCheck(scenes.LegTitle(leg), p.t.v.On(leg), func(on bool) {
			p.do(practice.Act{Kind: practice.Load, Name: leg, On: on})
		}))
	}
	return list
}

// noting is all that was done so far.
func (p *play) noting() fyne.CanvasObject { return look.Stack(8, p.logTitle, p.log) }

// naming is the list to name the fault from.
func (p *play) naming() fyne.CanvasObject {
	faults := scenes.Nameable(p.a.session.Book(), p.t.c.Rig)
	names, ids := []string{scenes.FaultTitle(p.a.session.Book(), practice.NoFault)}, []string{practice.NoFault}
	for _, f := range faults {
		names, ids = append(names, f.Title), append(ids, f.ID)
	}
	name := look.NewPrimary("Name it and see", nil)
	list := look.NewSelect(names, p.t.naming-1, func(i int) {
		p.t.naming = i + 1
		parts.Enable(name, i >= 0)
	})
	list.PlaceHolder = "choose from the catalogue"
	name.OnTapped = func() {
		if i := p.t.naming - 1; i >= 0 && i < len(ids) {
			p.a.name(p.t, ids[i])
		}
	}
	parts.Enable(name, p.t.naming > 0)
	return look.Stack(12, look.NewCaption("What is wrong with it?"), look.Labelled("Fault", list), look.Row(12, name))
}

// do does something and shows what came of it.
func (p *play) do(a practice.Act) {
	a.Asked = true
	done, err := p.t.v.Do(a)
	if err != nil {
		p.t.last = practice.Act{Kind: practice.Reject, Note: err.Error()}
		p.showTaken()
		return
	}
	for _, act := range done {
		if act.Kind != practice.Reject {
			p.t.attempt = p.t.attempt.With(act)
		}
		p.t.last = act
	}
	p.redraw()
	p.showTaken()
	p.showLog()
	p.a.window.Relayout()
}

// moved is a probe put elsewhere or a dial turned: the display waits for the
// next reading, unless its hold is on.
func (p *play) moved() {
	if !p.t.v.Setting().Hold || p.t.last.Shown == "" {
		p.t.last = practice.Act{}
	}
	p.showTaken()
	p.redraw()
}

// showTaken shows the last reading on the display.
func (p *play) showTaken() {
	a := p.t.last
	text, note := "– – –", view.Sentence(a.Note)
	switch {
	case a.Kind == practice.Read || a.Kind == practice.Prove:
		if a.Shown != "" {
			text = a.Shown
		}
	case a.Kind == 0:
		note = p.missing()
	}
	if a.Hazard {
		note = "DANGER: " + note
	}
	if p.t.v.Setting().Hold {
		text += "   H"
	}
	clamp := p.t.v.Setting().Function.Unit() == faulttree.AmpsAC
	parts.Enable(p.take, p.t.red != "" && (p.t.black != "" || clamp))
	p.display.SetRuns(look.Run{Text: text, Style: fyne.TextStyle{Bold: true}})
	if p.note.Plain() != note {
		p.note.SetText(note)
		p.a.window.Relayout()
	}
}

// missing says what has to be done before a reading.
func (p *play) missing() string {
	switch {
	case p.t.v.Setting().Function.Unit() == faulttree.AmpsAC:
		if p.t.red == "" {
			return "Put the red mark on a point: the clamp goes around the conductor there."
		}
	case p.t.red == "":
		return "Put the red probe on a test point."
	case p.t.black == "":
		return "Put the black probe on a test point."
	}
	return ""
}

// showLog lists what was done.
func (p *play) showLog() {
	rows := actRows(p.t)
	p.log.SetRows(rows)
	title := "Done so far: nothing yet"
	if n := len(p.t.attempt.Readings()); len(rows) > 0 {
		title = "Done so far: " + view.Count(n, "reading")
	}
	p.logTitle.SetText(title)
	parts.Enable(p.again, len(rows) > 0)
}

// actRows words all acts of an attempt, numbered.
func actRows(t *trying) []look.ValueRow {
	var rows []look.ValueRow
	for i, a := range t.attempt.Acts {
		what, came := scenes.ActLine(a, t.c.Rig)
		rows = append(rows, look.ValueRow{Name: strconv.Itoa(i+1) + "  " + what, Text: came})
	}
	return rows
}

// touch puts the next probe where the drawing was tapped.
func (p *play) touch(at figure.Point, reach float64) {
	node, ok := p.plan.Nearest(at, reach)
	if !ok || !slices.Contains(p.t.scene.Points(), node) {
		return
	}
	if p.t.blackNext {
		p.t.black = node
	} else {
		p.t.red = node
	}
	p.t.blackNext = !p.t.blackNext
	p.red.ShowChosen(slices.Index(p.t.scene.Points(), p.t.red) + 1)
	p.black.ShowChosen(slices.Index(p.t.scene.Points(), p.t.black) + 1)
	p.moved()
}

// redraw draws the rig as it stands, without what only a meter shows.
func (p *play) redraw() {
	if p.width <= 0 {
		return
	}
	st := p.t.v.State()
	if p.plan == nil || p.width != p.planned {
		p.planned = p.width
		p.plan = figure.NewOneline(figure.OnelinePlan{
			Rig: p.t.c.Rig, Loads: p.t.c.Loads, Width: float64((p.width - 24) / look.TextScale()),
			Points: func(node string) bool { return slices.Contains(p.t.scene.Points(), node) },
		})
	}
	p.drawing.SetDrawing(p.plan.Draw(figure.OnelineState{Off: st.Off, Loads: st.Loads, Values: p.t.c.Values, Red: p.t.red, Black: p.t.black}))
}
