package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"faultwright/content/document"
)

// table is a grid with thin lines whose cells wrap. Where even the longest
// words do not fit side by side, each row is written as "header: cell" lines
// instead; nothing scrolls sideways.
type table struct {
	widget.BaseWidget
	cells   [][]*Prose // the header first
	stacked *fyne.Container
}

func newTable(w writer, t document.Table) *table {
	out := &table{}
	bold := Run{Style: fyne.TextStyle{Bold: true}}
	columns := len(t.Header)
	for _, r := range t.Rows {
		columns = max(columns, len(r))
	}
	add := func(row [][]document.Inline, base Run) {
		line := make([]*Prose, columns)
		for i := range line {
			var text []document.Inline
			if i < len(row) {
				text = row[i]
			}
			line[i] = w.prose(text, base)
			line[i].Type = SizeLead
			if i < len(t.Align) {
				line[i].Align = alignOf(t.Align[i])
			}
		}
		out.cells = append(out.cells, line)
	}
	add(t.Header, bold)
	for _, r := range t.Rows {
		add(r, Run{})
	}
	out.stacked = w.stackedTable(t)
	out.ExtendBaseWidget(out)
	return out
}

// NewLargeTable is a table in large type, to be read from the back of a room.
func NewLargeTable(t document.Table, onLink func(target string)) fyne.CanvasObject {
	out := newTable(writer{onLink}, t)
	for _, row := range out.cells {
		for _, cell := range row {
			cell.Type = SizeHeading
		}
	}
	return out
}

func alignOf(a document.Align) fyne.TextAlign {
	switch a {
	case document.AlignCenter:
		return fyne.TextAlignCenter
	case document.AlignRight:
		return fyne.TextAlignTrailing
	}
	return fyne.TextAlignLeading
}

// stackedTable is the narrow form. A table without rows still shows its
// header.
func (w writer) stackedTable(t document.Table) *fyne.Container {
	var rows []fyne.CanvasObject
	for _, r := range t.Rows {
		var lines []fyne.CanvasObject
		for i, cell := range r {
			line := runs(cell, Run{})
			if i < len(t.Header) && len(t.Header[i]) > 0 {
				head := runs(t.Header[i], Run{Color: ColorSoftInk})
				line = append(append(head, Run{Text: ": ", Color: ColorSoftInk}), line...)
			}
			p := NewProse(line...)
			p.Type, p.OnTapped = SizeLead, w.onLink
			lines = append(lines, p)
		}
		rows = append(rows, Stack(4, Stack(2, lines...), NewLine()))
	}
	if len(rows) == 0 {
		for _, h := range t.Header {
			rows = append(rows, w.prose(h, Run{}))
		}
	}
	return Stack(8, rows...)
}

const (
	cellPadX float32 = 10
	cellPadY float32 = 6
)

// columns are the widths of the columns at a width of the table; nil where
// they do not fit.
func (t *table) columns(width float32) []float32 {
	if len(t.cells) == 0 {
		return nil
	}
	n := len(t.cells[0])
	least, best := make([]float32, n), make([]float32, n)
	var sumLeast, sumBest float32
	for c := range n {
		for _, row := range t.cells {
			word, line := widest(row[c].runs, row[c].wide)
			least[c], best[c] = max(least[c], word+1), max(best[c], line+1)
		}
		least[c], best[c] = least[c]+2*cellPadX, best[c]+2*cellPadX
		sumLeast, sumBest = sumLeast+least[c], sumBest+best[c]
	}
	switch {
	case sumBest <= width: // what is left over is shared out
		for c := range best {
			best[c] += (width - sumBest) / float32(n)
		}
		return best
	case sumLeast > width:
		return nil
	}
	for c := range least {
		least[c] += (best[c] - least[c]) * (width - sumLeast) / (sumBest - sumLeast)
	}
	return least
}

func (t *table) wideEnough() bool { return t.Size().Width == 0 || t.columns(t.Size().Width) != nil }

func (t *table) held() []fyne.CanvasObject {
	if !t.wideEnough() {
		return []fyne.CanvasObject{t.stacked}
	}
	var out []fyne.CanvasObject
	for _, row := range t.cells {
		for _, c := range row {
			out = append(out, c)
		}
	}
	return out
}

// CreateRenderer is called by the toolkit.
func (t *table) CreateRenderer() fyne.WidgetRenderer {
	r := &tableRenderer{t: t}
	r.Refresh()
	return r
}

type tableRenderer struct {
	t      *table
	lines  []*canvas.Rectangle
	ground *canvas.Rectangle
	height float32
}

func (r *tableRenderer) MinSize() fyne.Size {
	if !r.t.wideEnough() {
		return fyne.NewSize(120, r.t.stacked.MinSize().Height)
	}
	return fyne.NewSize(120, r.height)
}

func (r *tableRenderer) Refresh() {
	r.Layout(r.t.Size())
	for _, o := range r.t.held() {
		o.Refresh()
	}
	canvas.Refresh(r.t)
}

func (r *tableRenderer) rule(x, y, w, h float32) {
	l := canvas.NewRectangle(colorOf(ColorLine, r.t))
	place(l, x, y, w, h)
	r.lines = append(r.lines, l)
}

func (r *tableRenderer) Layout(size fyne.Size) {
	r.lines, r.ground = nil, canvas.NewRectangle(colorOf(ColorPanel, r.t))
	r.ground.StrokeColor, r.ground.StrokeWidth, r.ground.CornerRadius = colorOf(ColorLine, r.t), 1, 8
	if size.Width == 0 || len(r.t.cells) == 0 {
		return
	}
	widths := r.t.columns(size.Width)
	if widths == nil {
		place(r.t.stacked, 0, 0, size.Width, heightAt(r.t.stacked, size.Width))
		r.ground.Hide()
		return
	}
	y := float32(0)
	for i, row := range r.t.cells {
		if i > 0 {
			r.rule(0, y, size.Width, 1)
		}
		tall := float32(0)
		for c, cell := range row {
			tall = max(tall, heightAt(cell, widths[c]-2*cellPadX))
		}
		x := float32(0)
		for c, cell := range row {
			place(cell, x+cellPadX, y+cellPadY, widths[c]-2*cellPadX, tall)
			x += widths[c]
		}
		y += tall + 2*cellPadY
	}
	x := float32(0)
	for _, w := range widths[:len(widths)-1] {
		x += w
		r.rule(x, 0, 1, y)
	}
	place(r.ground, 0, 0, size.Width, y)
	r.height = y
}

func (r *tableRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.ground}
	for _, l := range r.lines {
		out = append(out, l)
	}
	return append(out, r.t.held()...)
}
func (r *tableRenderer) Destroy() {}
