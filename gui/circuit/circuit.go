package circuit

import (
	"cmp"
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
	"faultwright/gui/look"
	"faultwright/gui/parts"
)

// circuit is the page while it is shown: what is redrawn when something turns.
type circuit struct {
	a *Area
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

func newCircuit(a *Area) *circuit {
	c := &circuit{a: a, s: a.bench.scene}
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
		c.a.window.Relayout()
	}
}

// redraw solves the circuit and draws it; it returns nil where there is
// nothing to see.
func (c *circuit) redraw() *scene.View {
	v, err := c.s.Look()
	if err != nil {
		c.note.SetText("This cannot be computed. " + view.Sentence(err.Error()))
		return nil
	}
	if c.width > 0 {
		c.replan(v)
		c.drawing.SetDrawing(c.plan.Draw(parts.OnelineState(c.s, v)))
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
	c.plan = parts.Oneline(c.s, v, c.isPoint, c.width)
}

// say shows a sentence in its box; it reports whether the page must be laid
// out anew.
func (c *circuit) say(box fyne.CanvasObject, line *look.Prose, text string) bool {
	was := box.Visible()
	if text != "" && line.Plain() != text {
		line.SetRuns(look.Run{Text: text, Style: fyne.TextStyle{Bold: true}})
	}
	parts.Show(box, text != "")
	return was != box.Visible()
}

func (c *circuit) showDisplay(d scene.Display) {
	text := cmp.Or(d.Text, "– – –")
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
		c.a.window.Relayout()
	}
}

func (c *circuit) compare() {
	if len(c.a.bench.taken) == 0 {
		return
	}
	rows, err := c.s.Compare(c.a.bench.taken)
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
