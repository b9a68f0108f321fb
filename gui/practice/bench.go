package practice

import (
	"cmp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scene"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
)

// surface is a drawing on whose test points probes are put: a [figure.Oneline] or a
// [figure.Picture].
type surface interface {
	Draw(figure.OnelineState) figure.Drawing
	Spots() []figure.Spot
	Nearest(at figure.Point, reach float64) (node string, ok bool)
	Grab(at figure.Point, reach float64, s figure.OnelineState) (figure.Probe, bool)
}

// bench is a scenario while it is worked on: the vehicle, the meter and the
// switches, seen together.
type bench struct {
	a *Area
	t *trying

	surface surface // the one shown
	diagram *figure.Oneline
	picture *figure.Picture
	planned float32 // the width that both were laid out for
	width   float32
	held    figure.Held

	drawing    *look.Surface
	display    *look.Prose
	shown      *look.Panel // around the display
	limits     scene.Book  // what can hurt
	note       *look.Prose
	red, black *look.Select
	ranges     *fyne.Container
	take       *look.Button
	prove      *look.Button
	again      *look.Button
	asking     practice.Act // what is asked before it is done; the zero act where nothing is
	question   string
	asker      fyne.Focusable // what had the keyboard when it was asked
	confirm    *look.Button
	leave      *look.Button
	back       *look.Button
	switches   []*turned
	tries      *look.Select
	trying     []practice.Act // what the list of tries offers
	last       *look.Values   // the last readings
	log        *look.Values
	logTitle   *look.Prose

	help         *look.Prose  // the step or the hint
	helpPanel    *look.Panel  // around it; nil where there is none
	reads, tells *look.Select // what is foreseen of the step; nil where none is proposed
}

// Room is kept for what comes and goes, so that nothing moves under the pointer.
const (
	mostNote = 4 // lines of a note under the display
	fewNote  = 3 // the same where something stands above the drawing
	inFoot   = 2 // the same in the foot of a page, which grows upwards
	mostLast = 3 // readings in the strip
)

func newBench(a *Area, t *trying) *bench {
	b := &bench{a: a, t: t, drawing: look.NewSurface(), display: look.NewStrong(""), note: look.NewSoft(""), last: look.NewValues(), log: look.NewValues(), logTitle: look.NewSoft(""), help: look.NewText("")}
	b.display.Type = look.SizeReading
	b.note.Room = mostNote
	b.last.Room, b.log.Room = 84, 110
	b.limits = scenes.Book(a.session.Book(), a.session.Settings().Meter)
	b.drawing.MaxScale = look.TextScale()
	b.ranges = look.Stack(0)
	b.drawing.OnTapped = b.touch
	b.drawing.OnWidth = func(width float32) {
		b.width = width
		b.redraw()
	}
	b.drawing.OnGrab, b.drawing.OnMove, b.drawing.OnDrop = b.grab, b.move, b.drop
	b.drawing.OnArrow, b.drawing.OnKey, b.drawing.OnRune = b.arrow, b.key, b.typed
	return b
}

// page is the page. In a wide window all that is used stands in view at once; in
// a narrow one it stands below each other, in the order of use, and what the meter shows
// stays in view under it.
func (b *bench) page() frame.Page {
	b.t.bench = b
	shows, setting := b.metering()
	switches, help := b.switching(), b.helping()
	b.showHelp()
	b.redraw()
	b.showTaken()
	b.showLog()
	if b.a.window.Wide() {
		return b.wide(tight(look.Beside(showsWidth, 260, 20, shows, setting)), switches, help)
	}
	head := b.head()
	b.note.Room = inFoot
	if help != nil {
		head = look.Stack(8, head, help)
	}
	return frame.Page{Body: []fyne.CanvasObject{
		head, b.drawing, tight(setting), b.last, switches, b.ways(), b.how(), look.NewPanel(b.noting()),
	}, Foot: shows, Focus: b.drawing, Whole: true, Keys: b.keys()}
}

// wide is the page in a wide window: the switches beside the meter, and what helps beside
// the drawing.
func (b *bench) wide(meter, switches, help fyne.CanvasObject) frame.Page {
	if help != nil || b.t.attempt().Repaired > 0 {
		b.drawing.MaxHeight = fewHeight * look.TextScale()
	}
	beside := func(left, right fyne.CanvasObject) fyne.CanvasObject {
		return look.Beside(meterWidth, switchWidth, 12, left, right)
	}
	work := look.Stack(8, b.head())
	if help == nil {
		work.Objects = append(work.Objects, b.drawing, beside(meter, switches), b.last)
	} else {
		work.Add(beside(look.Stack(8, b.drawing, meter, b.last), look.Stack(8, help, switches)))
	}
	return frame.Page{Body: []fyne.CanvasObject{work, b.ways(), b.how(), look.NewPanel(b.noting())}, Focus: b.drawing, Whole: true, Keys: b.keys()}
}

// Widths of what stands beside each other in a wide bench.
const (
	meterWidth  = 736
	showsWidth  = 376 // of the meter's display and buttons
	switchWidth = 270
)

// fewHeight is that of the drawing where it is narrower for what helps, or where something
// stands above it: the meter and the last readings stand in view with it.
const fewHeight = 350

// head names the vehicle, and offers the story and both views of it.
func (b *bench) head() fyne.CanvasObject {
	title := look.NewTitle(b.t.scenario.Title)
	row := look.Row(6, title)
	diagram := parts.Option("Diagram", !b.a.practice.picture, nil)
	picture := parts.Option("Picture", b.a.practice.picture, nil)
	show := func(on bool) func() {
		return func() {
			b.a.practice.picture = on
			diagram.SetChosen(!on)
			picture.SetChosen(on)
			b.redraw()
			b.a.window.Relayout()
		}
	}
	diagram.OnTapped, picture.OnTapped = show(false), show(true)
	story := look.NewNav("The story again", func() {
		b.t.story = !b.t.story
		b.a.window.Render()
	})
	story.SetChosen(b.t.story)
	for _, o := range append([]fyne.CanvasObject{diagram, picture, story}, b.helps()...) {
		row.Add(o)
	}
	row.Add(b.onward())
	head := look.Stack(8, row)
	if b.t.attempt().Repaired > 0 {
		b.note.Room = fewNote
		then := ", then look back."
		if b.t.held() {
			then = ", then go on with the assignment."
		}
		head.Add(look.NewCallout(faulttree.Notice, look.NewText("Repaired as you concluded. Read again what had shown the fault"+then)))
	}
	if b.t.story {
		head.Add(b.a.story(b.t))
	}
	return head
}

// onward leads on to the conclusion, or after the repair to the look back.
func (b *bench) onward() fyne.CanvasObject {
	if b.t.attempt().Repaired > 0 {
		if b.t.held() {
			return b.a.others(b.t)
		}
		return look.NewButton("Look back", func() { b.a.look(b.t) })
	}
	return look.NewButton("Conclude", func() { b.a.to(b.t, concluding) })
}

// how says how the bench is used.
func (b *bench) how() fyne.CanvasObject {
	return look.NewSoft("Nothing is shown here that you have not measured, but for what has tripped, which anybody sees: it stays so until its switch is turned " +
		"off and on, or it is reset under “Try something else”. Drag a probe to a test point, tap a point, or choose it from the lists. By keyboard, on the drawing: R or B takes a " +
		"probe, the arrows move it, Delete lifts it, Enter reads.")
}

// ways lead on.
func (b *bench) ways() fyne.CanvasObject {
	row, s := look.Row(12), b.t.scenario
	if s.Tree != "" && b.t.walk() && b.a.session.Book().Forest.Tree(s.Tree) != nil {
		row.Add(look.NewButton("Take the walk beside it", func() { b.a.walkBeside(b.t) }))
	}
	b.again = look.NewButton("Begin again", func() { b.a.again(b.t) })
	parts.Enable(b.again, len(b.t.attempt().Acts) > 0)
	row.Add(b.again)
	row.Add(b.a.others(b.t))
	row.Add(look.NewButton("Back", b.a.window.Back))
	return row
}

// noting is all that was done so far.
func (b *bench) noting() fyne.CanvasObject { return look.Stack(8, b.logTitle, b.log) }

// moved is a probe put elsewhere or a dial turned: the display waits for the
// next reading.
func (b *bench) moved() {
	b.asking, b.t.last = practice.Act{}, practice.Act{}
	b.showTaken()
	b.redraw()
}

// read takes the reading between the probes.
func (b *bench) read() {
	if !b.take.Disabled() {
		b.want(practice.Act{Kind: practice.Read, Red: b.t.red, Black: b.t.black})
	}
}

// onDisplay is the reading whose number stands on the display: the last act, or with
// the hold on the last one that showed a number, whatever was done or refused since.
func (b *bench) onDisplay() practice.Act {
	if !b.t.v.Setting().Hold {
		return b.t.last
	}
	all := b.t.attempt().Readings()
	for i := len(all) - 1; i >= 0; i-- {
		if all[i].Shown != "" {
			return all[i]
		}
	}
	return b.t.last
}

// showTaken shows the last reading on the display, and under it the question
// that is asked, what came of the last act, or what is missing before a reading.
func (b *bench) showTaken() {
	a, shown := b.t.last, b.onDisplay()
	text, note := cmp.Or(shown.Shown, "– – –"), view.Sentence(a.Note)
	switch {
	case a.Reads():
		if b.t.v.FuseBlown() && !a.Hazard && a.Setting.Function.Unit() == faulttree.AmpsAC {
			note = "The meter's fuse is blown: it sees no current."
		}
	case a.Kind == 0:
		note = b.missing()
	}
	if a.Hazard {
		note = "DANGER: " + note
	}
	if b.asking.Kind != 0 {
		note = b.question
	}
	if note == "" && a.Reads() {
		note = b.t.help.foreseen
	}
	if b.t.v.Setting().Hold {
		text += "   H"
	}
	why := b.showDanger(shown, a.Hazard)
	if why != "" && a.Reads() && b.asking.Kind == 0 { // what is held from before is coloured, and may be so no longer
		note = "DANGER: " + why
	}
	if b.unsaid() && a.Kind == 0 && b.asking.Kind == 0 {
		note = "Say first what the step will read, and what that would tell."
	}
	tripped := b.t.c.Rig.TrippedText(b.tripped())
	switch {
	case tripped == "" || b.asking.Kind != 0:
	case why != "" || a.Hazard: // what can hurt comes first
		note += " " + tripped
	default:
		note = strings.TrimSpace(tripped + " " + note)
	}
	b.note.Ink = look.ColorSoftInk
	if b.asking.Kind != 0 || a.Hazard || why != "" || tripped != "" {
		b.note.Ink = look.ColorInk
	}
	b.enable()
	b.display.SetRuns(look.Run{Text: text, Style: fyne.TextStyle{Bold: true}})
	if b.note.Plain() != note {
		b.note.SetText(note)
		b.a.window.Relayout()
	}
}

// missing says what has to be done before a reading.
func (b *bench) missing() string {
	switch {
	case b.t.v.Setting().Function.Unit() == faulttree.AmpsAC:
		if b.t.red == "" {
			return "Put the red mark on a point: the clamp goes around the conductor there."
		}
	case b.t.red == "":
		return "Put the red probe on a test point."
	case b.t.black == "":
		return "Put the black probe on a test point."
	}
	return ""
}

// showLog lists what was done.
func (b *bench) showLog() {
	rows := actRows(b.t)
	b.log.SetRows(rows)
	title := "Done so far: nothing yet"
	if n := len(b.t.attempt().Readings()); len(rows) > 0 {
		title = "Done so far: " + view.Count(n, "reading")
	}
	b.logTitle.SetText(title)
	b.last.SetRows(lastRows(b.t))
	if b.again != nil {
		parts.Enable(b.again, len(b.t.attempt().Acts) > 0)
	}
}

// actRows words all acts of an attempt, numbered.
func actRows(t *trying) []look.ValueRow {
	var rows []look.ValueRow
	for i, a := range t.attempt().Acts {
		what, came := scenes.ActLine(a, t.c.Rig)
		rows = append(rows, look.ValueRow{Name: scenes.ActNumber(i) + " " + what, Text: came})
	}
	return rows
}

// lastRows words the last readings, as many as the strip has room for.
func lastRows(t *trying) []look.ValueRow {
	var rows []look.ValueRow
	for i, a := range t.attempt().Acts {
		if a.Kind == practice.Read || a.Kind == practice.Prove {
			rows = append(rows, look.ValueRow{Name: scenes.ActNumber(i) + " " + scenes.Probed(a), Text: scenes.ShownText(a)})
		}
	}
	rows = rows[max(len(rows)-mostLast, 0):]
	for len(rows) < mostLast {
		rows = append(rows, look.ValueRow{})
	}
	return rows
}

// isPoint reports whether a node is a test point.
func (b *bench) isPoint(node string) bool { return slices.Contains(b.t.scene.Points(), node) }

// tripped is what stands open, as everybody sees who stands there.
func (b *bench) tripped() []string {
	names, err := b.t.v.Tripped()
	if err != nil {
		b.a.window.Say("What has tripped is not known. " + view.Sentence(err.Error()))
	}
	return names
}

// state is what the drawing shows: nothing that only a meter shows.
func (b *bench) state() figure.OnelineState {
	st := b.t.v.State()
	return figure.OnelineState{Off: st.Off, Loads: st.Loads, Values: b.t.c.Values, Tripped: b.tripped(), Red: b.t.red, Black: b.t.black, Loose: true, Held: b.held}
}

// plan lays both drawings out. Where they may be only so tall, it tries more room across,
// in which they have fewer lines, and takes what is drawn largest.
func (b *bench) plan() {
	b.planned = b.width
	most := float64((b.drawing.MaxHeight - 24) / look.TextScale())
	largest := 0.0
	for _, more := range []float64{1, 1.1, 1.25, 1.4} {
		plan := figure.OnelinePlan{Rig: b.t.c.Rig, Loads: b.t.c.Loads, Width: more * float64((b.width-24)/look.TextScale()), Points: b.isPoint, Near: true}
		diagram, picture := figure.NewOneline(plan), figure.NewPicture(plan)
		tall := max(diagram.Draw(figure.OnelineState{}).Height, picture.Draw(figure.OnelineState{}).Height)
		scale := min(1, 1/more, most/tall)
		if scale > largest || most <= 0 {
			largest, b.diagram, b.picture = scale, diagram, picture
		}
		if most <= 0 {
			return
		}
	}
}

// redraw draws the vehicle as it stands.
func (b *bench) redraw() {
	if b.width <= 0 {
		return
	}
	if b.surface == nil || b.planned != b.width {
		b.plan()
	}
	other := surface(b.picture)
	if b.surface = b.diagram; b.a.practice.picture {
		b.surface, other = b.picture, b.diagram
	}
	d := b.surface.Draw(b.state())
	like := other.Draw(figure.OnelineState{}) // nothing moves when one is shown for the other
	d.Width, d.Height = max(d.Width, like.Width), max(d.Height, like.Height)
	b.drawing.SetDrawing(d)
}
