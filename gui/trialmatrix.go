package gui

import (
	"image/color"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"faultwright/content/matrix"
	"faultwright/gui/look"
)

// trialMatrix is the picture of a [trialTable]: faults down, findings across, each
// cell darker the larger its share and with the share in it. One cell has the
// cursor: the arrow keys move it, Enter or a tap opens it, and what it says
// stands in words beside it. A tap on the head of a column opens the finding.
type trialMatrix struct {
	widget.BaseWidget

	onOpen    func(trialCell)
	onFinding func(trialColumn)
	onMove    func() // the cursor went elsewhere

	table   trialTable
	words   func(trialCell) string
	at      int // cell with the cursor
	hovered int // cell under the pointer, -1 for none
	focused bool
}

func newTrialMatrix(t trialTable, words func(trialCell) string) *trialMatrix {
	m := &trialMatrix{table: t, words: words, hovered: -1}
	m.ExtendBaseWidget(m)
	return m
}

// Plain is the matrix in words, a line for each cell.
func (m *trialMatrix) Plain() string {
	var b strings.Builder
	for i, c := range m.table.cells {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(m.words(c))
	}
	return b.String()
}

// AccessibilityLabel is what the cell with the cursor says.
func (m *trialMatrix) AccessibilityLabel() string {
	if m.at >= len(m.table.cells) {
		return "matrix of faults and findings, empty"
	}
	return m.words(m.table.cells[m.at])
}

// AccessibilityRole is that of a button: Enter opens the cell.
func (m *trialMatrix) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

// FocusGained shows the cursor.
func (m *trialMatrix) FocusGained() {
	m.focused = true
	m.moved()
}

// FocusLost hides it.
func (m *trialMatrix) FocusLost() {
	m.focused = false
	m.Refresh()
}

func (m *trialMatrix) moved() {
	m.hovered = -1
	m.Refresh()
	if m.onMove != nil {
		m.onMove()
	}
}

// TypedRune leaves characters to the window.
func (m *trialMatrix) TypedRune(r rune) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(m); r != ' ' && c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

// TypedKey moves the cursor or opens its cell; other keys belong to the
// window.
func (m *trialMatrix) TypedKey(ev *fyne.KeyEvent) {
	to := m.at
	switch ev.Name {
	case fyne.KeyLeft:
		to--
	case fyne.KeyRight:
		to++
	case fyne.KeyUp:
		to = m.inRow(-1)
	case fyne.KeyDown:
		to = m.inRow(1)
	case fyne.KeyHome:
		to = 0
	case fyne.KeyEnd:
		to = len(m.table.cells) - 1
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if m.onOpen != nil && m.at < len(m.table.cells) {
			m.onOpen(m.table.cells[m.at])
		}
		return
	default:
		if c := fyne.CurrentApp().Driver().CanvasForObject(m); c != nil && c.OnTypedKey() != nil {
			c.OnTypedKey()(ev)
		}
		return
	}
	if to >= 0 && to < len(m.table.cells) && to != m.at {
		m.at = to
		m.moved()
	}
}

// inRow is the cell of the next or previous row that is nearest to the cursor.
func (m *trialMatrix) inRow(by int) int {
	best, off := m.at, 1<<30
	if m.at >= len(m.table.cells) {
		return best
	}
	now := m.table.cells[m.at]
	for i, c := range m.table.cells {
		if d := max(c.column-now.column, now.column-c.column); c.row == now.row+by && d < off {
			best, off = i, d
		}
	}
	return best
}

// Tapped opens the cell or the finding under the pointer.
func (m *trialMatrix) Tapped(ev *fyne.PointEvent) {
	if ev == nil {
		m.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		return
	}
	g := m.grid(m.Size().Width)
	if column := g.columnAt(ev.Position.X); ev.Position.Y < g.head && column >= 0 && column < len(m.table.columns) {
		if m.onFinding != nil {
			m.onFinding(m.table.columns[column])
		}
		return
	}
	if i := m.cellAt(ev.Position); i >= 0 {
		m.at = i
		m.moved()
		if m.onOpen != nil {
			m.onOpen(m.table.cells[i])
		}
	}
}

// MouseIn follows the pointer.
func (m *trialMatrix) MouseIn(ev *desktop.MouseEvent) { m.MouseMoved(ev) }

// MouseMoved says what the cell under the pointer is.
func (m *trialMatrix) MouseMoved(ev *desktop.MouseEvent) {
	if i := m.cellAt(ev.Position); i != m.hovered {
		m.hovered = i
		m.Refresh()
	}
}

// MouseOut forgets the pointer.
func (m *trialMatrix) MouseOut() {
	m.hovered = -1
	m.Refresh()
}

// Cursor is a hand.
func (m *trialMatrix) Cursor() desktop.Cursor { return desktop.PointerCursor }

func (m *trialMatrix) cellAt(p fyne.Position) int {
	g := m.grid(m.Size().Width)
	row, column := int((p.Y-g.head)/g.row), g.columnAt(p.X)
	if p.Y < g.head || column < 0 {
		return -1
	}
	return slices.IndexFunc(m.table.cells, func(c trialCell) bool { return c.row == row && c.column == column })
}

// cursorSpan is where the cursor's row lies, from the top of the widget.
func (m *trialMatrix) cursorSpan() (top, bottom float32) {
	g := m.grid(m.Size().Width)
	if m.at < len(m.table.cells) {
		top = g.head + float32(m.table.cells[m.at].row)*g.row
	}
	return top, top + g.row
}

// matrixGrid is where things are at a width of the widget.
type matrixGrid struct {
	size       float32 // of type
	head, row  float32 // heights
	names, col float32 // widths
}

// columnAt is the column at x, -1 left of the first.
func (g matrixGrid) columnAt(x float32) int {
	if x < g.names {
		return -1
	}
	return int((x - g.names) / g.col)
}

// matrixSign is how wide a cell is that holds three characters, as a multiple
// of the type size.
const matrixSign float32 = 2.7

func (m *trialMatrix) grid(width float32) matrixGrid {
	size := theme.SizeForWidget(look.SizeRuler, m)
	g := matrixGrid{size: size, head: size * 2, row: size * 1.75}
	for _, r := range m.table.rows {
		g.names = max(g.names, fyne.MeasureText(r.name(), size, fyne.TextStyle{}).Width+16)
	}
	g.names = min(g.names, width*0.5)
	g.col = min((width-g.names)/float32(max(len(m.table.columns), 1)), size*4.5)
	return g
}

// matrixColumns is how many columns have room for their numbers beside names.
func matrixColumns(width float32) int {
	size := theme.Size(look.SizeRuler)
	return max(int((width-18*size)/(matrixSign*size)), 3)
}

// CreateRenderer is called by the toolkit.
func (m *trialMatrix) CreateRenderer() fyne.WidgetRenderer {
	r := &matrixRenderer{m: m, ground: canvas.NewRectangle(color.Transparent), ring: canvas.NewRectangle(color.Transparent),
		box: canvas.NewRectangle(color.Transparent), note: look.NewText("")}
	r.note.Type = look.SizeLead
	r.Refresh()
	return r
}

type matrixRenderer struct {
	m                 *trialMatrix
	ground, ring, box *canvas.Rectangle
	note              *look.Prose
	drawn             []fyne.CanvasObject
}

// mostShade is how much of the ink the darkest cell takes: more, and the
// number in it could not be read at 4.5 to 1 in every mode.
const mostShade = 0.34

// blend is a colour between two.
func blend(from, to color.Color, share float64) color.Color {
	a, b := color.NRGBAModel.Convert(from).(color.NRGBA), color.NRGBAModel.Convert(to).(color.NRGBA)
	mix := func(x, y uint8) uint8 { return uint8(float64(x) + share*(float64(y)-float64(x)) + 0.5) }
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 255}
}

// colors are the ground and ink of a cell. Grey says how much; the signal
// colours say what is wrong.
func (r *matrixRenderer) colors(c trialCell) (ground, ink color.Color) {
	of := func(n fyne.ThemeColorName) color.Color { return theme.ColorForWidget(n, r.m) }
	switch c.grade {
	case matrix.False:
		return of(look.ColorDanger), of(look.ColorOnDanger)
	case matrix.Silent:
		return of(look.ColorWarning), of(look.ColorOnWarning)
	}
	return blend(of(look.ColorPanel), of(look.ColorInk), 0.04+(mostShade-0.04)*c.share), of(look.ColorInk)
}

func (r *matrixRenderer) rect(fill color.Color, x, y, w, h float32) *canvas.Rectangle {
	o := canvas.NewRectangle(fill)
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
	r.drawn = append(r.drawn, o)
	return o
}

// text writes a line centred in a box, or at its right edge; what does not fit
// is left out.
func (r *matrixRenderer) text(s string, ink color.Color, bold, right bool, x, y, w, h, size float32) {
	t := canvas.NewText(s, ink)
	t.TextSize, t.TextStyle.Bold = size, bold
	for n := []rune(s); t.MinSize().Width > w && len(n) > 1; {
		n = n[:len(n)-1]
		t.Text = string(n) + "…"
	}
	need := t.MinSize()
	left := x + (w-need.Width)/2
	if right {
		left = x + w - need.Width
	}
	t.Move(fyne.NewPos(left, y+(h-need.Height)/2))
	t.Resize(need)
	r.drawn = append(r.drawn, t)
}

func (r *matrixRenderer) build(width float32) {
	m, t := r.m, r.m.table
	g := m.grid(width)
	r.drawn = nil
	of := func(n fyne.ThemeColorName) color.Color { return theme.ColorForWidget(n, m) }
	right := g.names + g.col*float32(len(t.columns))
	bottom := g.head + g.row*float32(len(t.rows))
	r.ground.FillColor, r.ground.StrokeColor, r.ground.StrokeWidth = of(look.ColorPanel), of(look.ColorLine), 1
	r.ground.Resize(fyne.NewSize(right, bottom))
	for i, row := range t.rows {
		y := g.head + float32(i)*g.row
		r.rect(of(look.ColorLine), 0, y, right, 1)
		r.text(row.name(), of(look.ColorInk), false, true, 4, y, g.names-12, g.row, g.size)
	}
	for i, c := range t.columns {
		x := g.names + float32(i)*g.col
		r.rect(of(look.ColorLine), x, 0, 1, bottom)
		r.text(itoa(c.number), of(look.ColorAccent), true, false, x, 0, g.col, g.head, g.size)
	}
	for _, c := range t.cells {
		ground, ink := r.colors(c)
		x, y := g.names+float32(c.column)*g.col, g.head+float32(c.row)*g.row
		o := r.rect(ground, x+1, y+1, g.col-1, g.row-1)
		if c.grade == matrix.Named {
			o.Move(fyne.NewPos(x+1.5, y+1.5))
			o.Resize(fyne.NewSize(g.col-2, g.row-2))
			o.StrokeColor, o.StrokeWidth = of(look.ColorInk), 1.5
		}
		r.text(c.label(), ink, c.grade >= matrix.Silent, false, x, y, g.col, g.row, g.size)
	}
}

// place puts cursor and words where they belong.
func (r *matrixRenderer) place(width float32) {
	m := r.m
	g := m.grid(width)
	at := m.hovered
	if at < 0 && m.focused {
		at = m.at
	}
	for _, o := range []fyne.CanvasObject{r.ring, r.box, r.note} {
		if at < 0 || at >= len(m.table.cells) {
			o.Hide()
		} else {
			o.Show()
		}
	}
	if at < 0 || at >= len(m.table.cells) {
		return
	}
	of := func(n fyne.ThemeColorName) color.Color { return theme.ColorForWidget(n, m) }
	c := m.table.cells[at]
	x, y := g.names+float32(c.column)*g.col, g.head+float32(c.row)*g.row
	r.ring.StrokeColor, r.ring.StrokeWidth, r.ring.CornerRadius = of(look.ColorAccent), 3, 3
	r.ring.Move(fyne.NewPos(x-2, y-2))
	r.ring.Resize(fyne.NewSize(g.col+5, g.row+5))
	if words := m.words(c); r.note.Plain() != words {
		r.note.SetText(words)
	}
	const pad = 12
	w := min(width, 380*look.TextScale())
	r.note.Resize(fyne.NewSize(w-2*pad, 1))
	h := r.note.MinSize().Height
	left := max(0, min(x, width-w))
	top := y + g.row + 6
	if whole := g.head + g.row*float32(len(m.table.rows)); top+h+2*pad > whole && y-6-h-2*pad >= 0 {
		top = y - 6 - h - 2*pad
	}
	r.box.FillColor, r.box.StrokeColor, r.box.StrokeWidth, r.box.CornerRadius = of(look.ColorPage), of(look.ColorAccent), 1, 8
	r.box.Move(fyne.NewPos(left, top))
	r.box.Resize(fyne.NewSize(w, h+2*pad))
	r.note.Move(fyne.NewPos(left+pad, top+pad))
	r.note.Resize(fyne.NewSize(w-2*pad, h))
}

// Layout draws for a width.
func (r *matrixRenderer) Layout(size fyne.Size) {
	r.build(size.Width)
	r.place(size.Width)
}

// MinSize is narrow, and as tall as all rows.
func (r *matrixRenderer) MinSize() fyne.Size {
	g := r.m.grid(max(r.m.Size().Width, 240))
	return fyne.NewSize(240, g.head+g.row*float32(len(r.m.table.rows)))
}

// Refresh draws anew.
func (r *matrixRenderer) Refresh() {
	if r.drawn == nil {
		r.build(r.m.Size().Width)
	}
	r.place(r.m.Size().Width)
	canvas.Refresh(r.m)
}

// Objects are all that is drawn, the words on top.
func (r *matrixRenderer) Objects() []fyne.CanvasObject {
	out := append([]fyne.CanvasObject{r.ground}, r.drawn...)
	return append(out, r.ring, r.box, r.note)
}

// Destroy has nothing to let go of.
func (r *matrixRenderer) Destroy() {}
