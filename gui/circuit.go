package gui

import (
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
	"faultwright/gui/look"
)

// bench is the rig on show. It outlives a new build of the page.
type bench struct {
	book  *content.Library
	at    Location // what it was made for
	scene *scene.Scene
	taken []scene.Taken // the reader's own readings, if a finding led here
	focus string        // the control that was used last, by its caption
}

// circuitPane shows a rig with live voltages and currents. ID is the rig, Query
// the fault, Kind the visit whose readings stand beside the model's.
func (d *Desk) circuitPane(at Location) pane {
	if len(d.book.Rigs) == 0 {
		return d.missingPane("This handbook has no circuits.")
	}
	if err := d.putOnBench(at); err != nil {
		return d.missingPane("This circuit can not be computed. " + view.Sentence(err.Error()))
	}
	if d.bench.scene == nil {
		return d.missingPane("No circuit of this handbook can have this fault.")
	}
	return newCircuit(d).pane()
}

// putOnBench makes the scene of a place, unless it is there already.
func (d *Desk) putOnBench(at Location) error {
	at.Offset = 0
	if b := &d.bench; b.book == d.book && b.at == at && b.scene != nil {
		return nil
	}
	b := bench{book: d.book, at: at, focus: d.bench.focus}
	rigs := view.Rigs(d.book)
	if r := d.book.Rigs[at.ID]; r != nil {
		rigs = []*rig.Rig{r}
	}
	var to scene.Situation
	if at.Kind != "" && d.visit != nil && d.visit.id() == at.Kind {
		w := d.visit.walk()
		to = view.SituationOf(w, at.Query)
		b.taken = to.Taken
		if at.ID == "" {
			rigs = view.RigsOf(d.book, w.Start().Tree)
		}
	}
	var err error
	known := view.SceneBook(d.book, d.settings.Meter)
	switch {
	case at.Query != "":
		to.Fault = at.Query
		var shown scene.Shown
		shown, err = scene.Why(rigs, known, to)
		b.scene = shown.Scene
		if b.scene == nil && err == nil && at.ID != "" { // the rig was changed under the fault
			b.scene, err = scene.New(rigs[0], known)
		}
	default:
		b.scene, err = scene.New(rigs[0], known)
	}
	if err == nil && b.scene != nil {
		red, black := d.lastProbes()
		b.scene.SetProbes(red, black)
	}
	d.bench = b
	return err
}

// lastProbes is where the probes were, if the next rig may have these points.
func (d *Desk) lastProbes() (red, black string) {
	if d.bench.scene == nil {
		return "", ""
	}
	return d.bench.scene.Probes()
}

// moveTo makes the present place another rig or fault, and shows it.
func (d *Desk) moveTo(change func(*Location), focus string) {
	at := d.Here()
	change(&at)
	d.history.Replace(at)
	d.bench.focus = focus
	d.render()
}

// showWhy opens the circuit with a fault in force and this visit's readings
// beside it, or the fault's card where no circuit can have it.
func (d *Desk) showWhy(fault view.Link) {
	f := d.book.Faults[fault.ID]
	if f != nil && f.Edits != nil && slices.ContainsFunc(view.Rigs(d.book), func(r *rig.Rig) bool { return len(f.Edits.In(r)) > 0 }) {
		d.Go(Location{Page: pageCircuit, Query: fault.ID, Kind: d.visit.id()})
		return
	}
	d.open(fault)
}

// circuit is the page while it is shown: what is redrawn when something turns.
type circuit struct {
	d *Desk
	s *scene.Scene

	plan    *figure.Oneline
	planned planKey
	width   float32

	drawing  *look.LiveFigure
	keys     []*look.Readout
	keyRow   *fyne.Container
	warning  *look.Prose
	opened   *look.Prose
	warnBox  fyne.CanvasObject
	openBox  fyne.CanvasObject
	display  *look.Prose
	note     *look.Prose
	red      *look.Select
	black    *look.Select
	points   *look.Values
	parts    *look.Values
	compared *look.Values
}

// planKey is all that the layout of the drawing depends on.
type planKey struct {
	fault *rig.Variant
	loads string
	width float32
}

func newCircuit(d *Desk) *circuit {
	c := &circuit{d: d, s: d.bench.scene}
	c.drawing = look.NewLiveFigure(figure.Drawing{})
	c.warning, c.opened = look.NewStrong(""), look.NewStrong("")
	c.warnBox, c.openBox = look.NewCallout(faulttree.Danger, c.warning), look.NewCallout(faulttree.Notice, c.opened)
	c.warnBox.Hide()
	c.openBox.Hide()
	c.display, c.note = look.NewStrong(""), look.NewSoft("")
	c.display.Type = look.SizeReading
	c.points, c.parts, c.compared = look.NewValues(), look.NewValues(), look.NewValues()
	c.compared.Room = 190
	c.keyRow = look.Row(10)
	c.drawing.OnTapped = c.touch
	c.drawing.OnWidth = func(width float32) {
		c.width = width
		c.redraw()
	}
	return c
}

// touch puts the next probe where the drawing was tapped.
func (c *circuit) touch(at figure.Point, reach float64) {
	if node, ok := c.plan.Nearest(at, reach); ok && c.isPoint(node) {
		c.s.Touch(node)
		c.showProbes()
		c.update()
	}
}

func (c *circuit) isPoint(node string) bool { return slices.Contains(c.s.Points(), node) }

// update solves the circuit and shows it everywhere, in drawing and words.
func (c *circuit) update() {
	v := c.redraw()
	if v == nil {
		return
	}
	for i, row := range v.Key {
		if i == len(c.keys) {
			c.keys = append(c.keys, look.NewReadout(view.Capital(row.Name), row.Text))
			c.keyRow.Add(c.keys[i].Object)
		}
		c.keys[i].Set(row.Text, row.Danger)
	}
	again := c.say(c.warnBox, c.warning, v.Warning)
	again = c.say(c.openBox, c.opened, v.Opened) || again
	c.showDisplay(v.Display)
	c.points.SetRows(rowsOf(v.Points))
	c.parts.SetRows(rowsOf(v.Parts))
	c.compare()
	if again {
		c.d.shell.relayout()
	}
}

// redraw solves the circuit and draws it; it returns nil where there is
// nothing to see.
func (c *circuit) redraw() *scene.View {
	v, err := c.s.Look()
	if err != nil {
		c.note.SetText("This can not be computed. " + view.Sentence(err.Error()))
		return nil
	}
	if c.width > 0 {
		c.replan(v)
		c.drawing.SetDrawing(c.plan.Draw(c.state(v)))
	}
	return &v
}

// replan lays the drawing out anew if anything has changed that moves it.
func (c *circuit) replan(v scene.View) {
	key := planKey{fault: c.s.Variant(), width: c.width}
	for _, l := range c.s.Loads() {
		if v.State.Loads[l.Name] {
			key.loads += l.Name + " "
		}
	}
	if c.plan != nil && key == c.planned {
		return
	}
	c.planned = key
	var kind *bool
	if alternating, direct := c.s.Kinds(); alternating && direct {
		shown := c.s.Direct()
		kind = &shown
	}
	c.plan = figure.NewOneline(figure.OnelinePlan{
		Direct: kind, Rig: c.s.Rig(), Fault: key.fault, Loads: v.State.Loads, Points: c.isPoint,
		Width: float64((c.width - 24) / look.TextScale()),
	})
}

// state is what the drawing shows.
func (c *circuit) state(v scene.View) figure.OnelineState {
	red, black := c.s.Probes()
	s := figure.OnelineState{
		Live: true, Direct: c.s.Direct(), Volts: v.Volts, Amps: v.Amps, Tripped: v.Tripped, Off: v.State.Off, Loads: v.State.Loads,
		Values: v.Values, Fault: c.s.Variant(), Red: red, Black: black, Danger: v.Danger,
	}
	dial, _ := c.s.Severity()
	s.Severity = dial.Value
	return s
}

// say shows a sentence in its box; it reports whether the page must be laid
// out anew.
func (c *circuit) say(box fyne.CanvasObject, line *look.Prose, text string) bool {
	was := box.Visible()
	if text != "" && line.Plain() != text {
		line.SetRuns(look.Run{Text: text, Style: fyne.TextStyle{Bold: true}})
	}
	show(box, text != "")
	return was != box.Visible()
}

func (c *circuit) showDisplay(d scene.Display) {
	text := d.Text
	if text == "" {
		text = "– – –"
	}
	if c.display.Plain() != text {
		c.display.SetRuns(look.Run{Text: text, Style: fyne.TextStyle{Bold: true}})
	}
	note := view.Sentence(d.Note)
	if d.Hazard {
		note = "DANGER: " + note
	}
	if c.note.Plain() != note {
		c.note.Ink = look.ColorSoftInk
		if d.Hazard {
			c.note.Ink = look.ColorInk
		}
		c.note.SetText(note)
		c.d.shell.relayout()
	}
}

func (c *circuit) compare() {
	if len(c.d.bench.taken) == 0 {
		return
	}
	rows, err := c.s.Compare(c.d.bench.taken)
	if err != nil {
		return
	}
	out := []look.ValueRow{{Name: "", Text: "read · model"}}
	for _, r := range rows {
		out = append(out, look.ValueRow{Name: r.Title, Text: r.Taken + " · " + r.Model})
	}
	c.compared.SetRows(out)
}

func rowsOf(all []scene.Row) []look.ValueRow {
	out := make([]look.ValueRow, len(all))
	for i, r := range all {
		out[i] = look.ValueRow{Name: view.Capital(r.Name), Text: r.Text}
	}
	return out
}
