package look

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// Prose is flowing text in several styles with links in it. It wraps at the
// width it is given and is never wider. Links can be reached with Tab and
// pressed with Enter, Space or the pointer.
type Prose struct {
	widget.BaseWidget

	Type     fyne.ThemeSizeName  // size of runs without one; SizeText if ""
	Ink      fyne.ThemeColorName // colour of runs without one; ColorInk if ""
	Align    fyne.TextAlign
	Leading  float32 // line height as a multiple of the type size; 0 chooses
	Room     int     // lines that it has room for even while it has fewer, so that what is below it does not move
	Keeps    bool    // it keeps the room of the longest text that it has had at its width, likewise
	Bare     bool    // links without an underline, where all of it is links
	OnTapped func(target string)

	runs  []Run
	links []*link // one for each stretch of runs with one Target, in order
	at    []*link // the link each run belongs to, or nil
}

// NewProse makes prose of runs.
func NewProse(runs ...Run) *Prose {
	p := &Prose{}
	p.ExtendBaseWidget(p)
	p.SetRuns(runs...)
	return p
}

// NewText is body text.
func NewText(text string) *Prose { return NewProse(Run{Text: text}) }

// NewStrong is body text in bold.
func NewStrong(text string) *Prose {
	return NewProse(Run{Text: text, Style: fyne.TextStyle{Bold: true}})
}

// NewSoft is text of size lead in soft ink: second lines, crumbs, hints.
func NewSoft(text string) *Prose {
	p := NewText(text)
	p.Type, p.Ink = SizeLead, ColorSoftInk
	return p
}

// NewQuestion is the one large line of a view.
func NewQuestion(text string) *Prose {
	p := NewStrong(text)
	p.Type = SizeQuestion
	return p
}

// NewTitle is a smaller heading, for parts of a view.
func NewTitle(text string) *Prose {
	p := NewStrong(text)
	p.Type = SizeTitle
	return p
}

// NewLink is a line of its own that can be pressed, as in a list of cards.
func NewLink(text string, tapped func()) *Prose {
	p := NewProse(Run{Text: text, Target: text})
	p.Type, p.Bare = SizeLead, true
	p.OnTapped = func(string) {
		if tapped != nil {
			tapped()
		}
	}
	return p
}

// SetRuns replaces the text.
func (p *Prose) SetRuns(runs ...Run) {
	runs = slices.Clone(runs)
	for i := range runs {
		runs[i].Text = source.Shown(runs[i].Text)
	}
	p.runs = runs
	p.links, p.at = nil, make([]*link, len(runs))
	for i, r := range runs {
		switch {
		case r.Target == "":
		case i > 0 && runs[i-1].Target == r.Target:
			p.at[i] = p.at[i-1]
		default:
			p.at[i] = newLink(p, r)
			p.links = append(p.links, p.at[i])
		}
	}
	p.Refresh()
}

// SetText replaces the text, keeping the style of the first run.
func (p *Prose) SetText(text string) {
	first := Run{}
	if len(p.runs) > 0 {
		first = p.runs[0]
	}
	first.Text, first.Target, first.Break = text, "", false
	p.SetRuns(first)
}

// Plain is the text without styles.
func (p *Prose) Plain() string {
	var b strings.Builder
	for _, r := range p.runs {
		b.WriteString(r.Text)
		if r.Break {
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// Press follows the first link that leads to target, as a tap would; it
// reports whether there is one.
func (p *Prose) Press(target string) bool {
	for _, l := range p.links {
		if l.run.Target == target {
			l.Tapped(nil)
			return true
		}
	}
	return false
}

// Targets lists where the links lead, in order.
func (p *Prose) Targets() []string {
	return lists.Each(p.links, func(l *link) string { return l.run.Target })
}

func (p *Prose) held() []fyne.CanvasObject {
	return lists.Each(p.links, func(l *link) fyne.CanvasObject { return l })
}

func (p *Prose) sizeName(r Run) fyne.ThemeSizeName {
	switch {
	case r.Size != "":
		return r.Size
	case p.Type != "":
		return p.Type
	}
	return SizeText
}

func (p *Prose) colorName(r Run) fyne.ThemeColorName {
	switch {
	case r.Color != "":
		return r.Color
	case r.Target != "":
		return ColorAccent
	case p.Ink != "":
		return p.Ink
	}
	return ColorInk
}

func (p *Prose) wide(text string, run int) float32 {
	r := p.runs[run]
	return fyne.MeasureText(text, sizeOf(p.sizeName(r), p), r.Style).Width
}

// lineHeight is that of the tallest run on a line.
func (p *Prose) lineHeight(line []piece) float32 {
	size := float32(0)
	for _, c := range line {
		size = max(size, sizeOf(p.sizeName(p.runs[c.run]), p))
	}
	if size == 0 {
		size = sizeOf(p.sizeName(Run{}), p)
	}
	leading := p.Leading
	if leading == 0 {
		leading = 1.46
		if size > 19*TextScale() {
			leading = 1.2
		}
	}
	return float32(int(size*leading + 0.5))
}

// Natural is the size without wrapping.
func (p *Prose) Natural() fyne.Size {
	_, line := widest(p.runs, p.wide)
	return fyne.NewSize(line+1, p.lineHeight(nil))
}

// Broken is the first word for which there is no room on a line, so that it stands on two;
// "" for none.
func (p *Prose) Broken() string {
	for _, a := range atoms(p.runs) {
		if !a.gap && p.Size().Width > 0 && p.wide(a.text, a.run) > p.Size().Width+1 {
			return a.text
		}
	}
	return ""
}

// CreateRenderer is called by the toolkit.
func (p *Prose) CreateRenderer() fyne.WidgetRenderer {
	r := &proseRenderer{p: p}
	r.Refresh()
	return r
}

type proseRenderer struct {
	p       *Prose
	objects []fyne.CanvasObject
	width   float32 // what the lines are wrapped for
	height  float32
	kept    float32 // the largest height at that width
	word    float32 // width of the longest word
}

// longestMin is how many points of a single word may hold a window open;
// longer words are cut.
const longestMin = 220

func (r *proseRenderer) MinSize() fyne.Size {
	return fyne.NewSize(min(r.word, longestMin), r.height)
}

func (r *proseRenderer) Layout(size fyne.Size) {
	if size.Width == r.width {
		return
	}
	r.build(size.Width)
}

func (r *proseRenderer) Refresh() {
	r.word, _ = widest(r.p.runs, r.p.wide)
	r.build(r.p.Size().Width)
	canvas.Refresh(r.p)
}

// build wraps for width and makes the texts. Before the first layout there is
// no width, and everything stands on one line.
func (r *proseRenderer) build(width float32) {
	p := r.p
	if r.width != width || width <= 0 {
		r.kept = 0
	}
	r.width = width
	if width <= 0 {
		width = 1e6
	}
	lines := wrap(p.runs, width+0.5, p.wide)
	r.objects = r.objects[:0]
	for _, l := range p.links {
		l.parts = l.parts[:0]
	}
	y := float32(0)
	for _, line := range lines {
		h := p.lineHeight(line)
		r.buildLine(line, y, h, width)
		y += h
	}
	r.height = max(y, float32(p.Room)*p.lineHeight(nil))
	if p.Keeps {
		r.kept = max(r.kept, r.height)
		r.height = r.kept
	}
	for _, l := range p.links {
		l.coverParts()
		r.objects = append(r.objects, l)
	}
}

func (r *proseRenderer) buildLine(line []piece, y, h, width float32) {
	p := r.p
	base, tall := float32(0), float32(0)
	texts := make([]*canvas.Text, len(line))
	bases := make([]float32, len(line))
	for i, c := range line {
		run := p.runs[c.run]
		if i == len(line)-1 { // nothing to see, and an underline would show it
			c.text = strings.TrimRight(c.text, " ")
		}
		t := canvas.NewText(c.text, colorOf(p.colorName(run), p))
		t.TextSize, t.TextStyle = sizeOf(p.sizeName(run), p), run.Style
		size, b := fyne.CurrentApp().Driver().RenderedTextSize(t.Text, t.TextSize, t.TextStyle, nil)
		t.Resize(size)
		texts[i], bases[i] = t, b
		base, tall = max(base, b), max(tall, size.Height)
	}
	shift := float32(0)
	if n := len(line); n > 0 && p.Align != fyne.TextAlignLeading && width < 1e6 {
		last := line[n-1]
		shift = width - last.x - p.wide(strings.TrimRight(last.text, " "), last.run)
		if p.Align == fyne.TextAlignCenter {
			shift /= 2
		}
		shift = max(shift, 0)
	}
	for i, c := range line {
		t := texts[i]
		t.Move(fyne.NewPos(c.x+shift, y+(h-tall)/2+base-bases[i]))
		if l := p.at[c.run]; l != nil {
			t.TextStyle.Underline = !p.Bare || colorOf(ColorAccent, p) == colorOf(ColorInk, p)
			l.parts = append(l.parts, part{t, fyne.NewPos(c.x+shift, y), fyne.NewSize(t.Size().Width, h)})
			continue
		}
		r.objects = append(r.objects, t)
	}
}

func (r *proseRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *proseRenderer) Destroy()                     {}
