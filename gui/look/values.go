package look

import (
	"cmp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree/source"
)

// ValueRow is a line of [Values]: what, and how much.
type ValueRow struct{ Name, Text string }

// Values is a table of names and values in as many columns as fit. It is made
// to change many times a second: only texts that differ are set anew.
type Values struct {
	widget.BaseWidget

	// Room is how wide values get, in points at text size 1; 0 means 84.
	Room float32

	rows []ValueRow
}

// NewValues makes a table.
func NewValues(rows ...ValueRow) *Values {
	v := &Values{}
	v.ExtendBaseWidget(v)
	v.SetRows(rows)
	return v
}

// SetRows shows other rows.
func (v *Values) SetRows(rows []ValueRow) {
	v.rows = slices.Clone(rows)
	for i, r := range v.rows {
		v.rows[i] = ValueRow{source.Shown(r.Name), source.Shown(r.Text)}
	}
	v.Refresh()
}

// Plain is the table as text, a line for each row.
func (v *Values) Plain() string {
	var b strings.Builder
	for i, r := range v.rows {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(r.Name + "\t" + r.Text)
	}
	return b.String()
}

// AccessibilityLabel is the table as text.
func (v *Values) AccessibilityLabel() string { return v.Plain() }

// AccessibilityRole is that of a text.
func (v *Values) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// CreateRenderer is called by the toolkit.
func (v *Values) CreateRenderer() fyne.WidgetRenderer {
	r := &valuesRenderer{v: v}
	r.Refresh()
	return r
}

type valuesRenderer struct {
	v     *Values
	cells []*canvas.Text // name and value of each row
	lines []*canvas.Rectangle
	full  []string // names before they were cut to fit
}

const nameWidth float32 = 246 // of a column, at text size 1

func (r *valuesRenderer) room() float32 {
	if r.v.Room > 0 {
		return r.v.Room * TextScale()
	}
	return 84 * TextScale()
}

func (r *valuesRenderer) rowHeight() float32 { return sizeOf(SizeLead, r.v)*1.3 + 9 }

func (r *valuesRenderer) columns(width float32) int {
	return min(max(int(width/(nameWidth*TextScale()+r.room())), 1), 3)
}

func (r *valuesRenderer) Refresh() {
	ink, soft, line, size := colorOf(ColorInk, r.v), colorOf(ColorSoftInk, r.v), colorOf(ColorLine, r.v), sizeOf(SizeLead, r.v)
	laidOut := len(r.cells) == 2*len(r.v.rows)
	for len(r.cells) < 2*len(r.v.rows) {
		r.cells = append(r.cells, canvas.NewText("", ink), canvas.NewText("", ink))
		r.lines = append(r.lines, canvas.NewRectangle(line))
		r.full = append(r.full, "")
	}
	r.cells, r.lines, r.full = r.cells[:2*len(r.v.rows)], r.lines[:len(r.v.rows)], r.full[:len(r.v.rows)]
	for i, row := range r.v.rows {
		name, value := r.cells[2*i], r.cells[2*i+1]
		changed := r.full[i] != row.Name || value.Text != row.Text || name.TextSize != size || name.Color != soft
		if !changed {
			continue
		}
		if r.full[i] != row.Name || name.TextSize != size {
			laidOut = false
		}
		r.full[i], name.Color, name.TextSize = row.Name, soft, size
		value.Text, value.Color, value.TextSize = row.Text, ink, size
		value.TextStyle.Bold, value.Alignment = true, fyne.TextAlignTrailing
		r.lines[i].FillColor = line
		if laidOut {
			value.Refresh()
		}
	}
	if !laidOut {
		r.Layout(r.v.Size())
		canvas.Refresh(r.v)
	}
}

func (r *valuesRenderer) MinSize() fyne.Size {
	n := r.columns(r.v.Size().Width)
	rows := (len(r.v.rows) + n - 1) / n
	return fyne.NewSize(200, float32(rows)*r.rowHeight())
}

func (r *valuesRenderer) Layout(size fyne.Size) {
	n := r.columns(size.Width)
	rows := (len(r.v.rows) + n - 1) / n
	const gap = 28
	w := (size.Width - float32(n-1)*gap) / float32(n)
	h := r.rowHeight()
	for i := range r.v.rows {
		x, y := float32(i/max(rows, 1))*(w+gap), float32(i%max(rows, 1))*h
		room := r.room()
		name, value := r.cells[2*i], r.cells[2*i+1]
		name.Text = fitText(r.full[i], w-room-8, name.TextSize)
		place(name, x, y+2, max(w-room-8, 0), h-5)
		place(value, x+w-room, y+2, room, h-5)
		place(r.lines[i], x, y+h-1, w, theme.Size(theme.SizeNameSeparatorThickness))
	}
}

// fitText cuts a text at a word so that it fits, if any of its words does.
func fitText(text string, width, size float32) string {
	fits := func(s string) bool { return fyne.MeasureText(s, size, fyne.TextStyle{}).Width <= width }
	if fits(text) {
		return text
	}
	return cmp.Or(cutAtWord(text, fits), text)
}

// cutAtWord is as many words of a text as fit, or "".
func cutAtWord(text string, fits func(string) bool) string {
	words := strings.Fields(text)
	for n := len(words) - 1; n > 0; n-- {
		if s := strings.TrimRight(strings.Join(words[:n], " "), ",.:;") + "…"; fits(s) {
			return s
		}
	}
	return ""
}

func (r *valuesRenderer) Objects() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, 0, 3*len(r.lines))
	for _, c := range r.cells {
		out = append(out, c)
	}
	for _, l := range r.lines {
		out = append(out, l)
	}
	return out
}
func (r *valuesRenderer) Destroy() {}
