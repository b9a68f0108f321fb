package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree"
)

// Sign is the box that warns: a block in the signal colour with the alert
// symbol and the signal word (ANSI Z535.4), and an outlined box of the same
// colour that holds what is said. Shown by word, colour and shape.
type Sign struct {
	widget.BaseWidget

	signal faulttree.Signal
	word   *Tracked
	body   fyne.CanvasObject
	head   *Prose // the headline of a banner, else nil
}

// NewSignLine is the danger line of a step: the word in a block at the left,
// the text beside it (below it where it is narrow). A run with a Target is a
// link; tapped may be nil if there is none. With NoSignal there is no block.
func NewSignLine(signal faulttree.Signal, tapped func(target string), runs ...Run) *Sign {
	p := NewProse(runs...)
	p.OnTapped = tapped
	return NewCallout(signal, p)
}

// NewCallout is the same box with any body, for callouts in cards.
func NewCallout(signal faulttree.Signal, body fyne.CanvasObject) *Sign {
	return newSign(signal, "", body)
}

// NewBanner is the head of a finding: word and headline on the signal colour,
// the body (what to do now) in the outlined box under it; body may be nil.
func NewBanner(signal faulttree.Signal, headline string, body fyne.CanvasObject) *Sign {
	return newSign(signal, headline, body)
}

func newSign(signal faulttree.Signal, headline string, body fyne.CanvasObject) *Sign {
	_, ink := SignalColors(signal)
	s := &Sign{signal: signal, body: body, word: NewTracked(signal.Word(), SizeText, ink)}
	if headline != "" {
		s.word.Type = SizeTitle
		s.head = NewText(headline)
		s.head.Type, s.head.Ink = SizeTitle, ink
	}
	s.ExtendBaseWidget(s)
	return s
}

func (s *Sign) held() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	if s.signal != faulttree.NoSignal {
		out = append(out, s.word)
	}
	if s.head != nil {
		out = append(out, s.head)
	}
	if s.body != nil {
		out = append(out, s.body)
	}
	return out
}

const (
	signPadX   float32 = 16
	signPadY   float32 = 12
	signRadius float32 = 8
	// A sign narrower than this (times the text size) has its word above; one
	// that is a little wider, only if its text is long.
	signStacked float32 = 340
	signCrowded float32 = 560
)

// CreateRenderer is called by the toolkit.
func (s *Sign) CreateRenderer() fyne.WidgetRenderer {
	r := &signRenderer{s: s, box: canvas.NewRectangle(none), block: canvas.NewRectangle(none), alert: newAlert(s.signal)}
	r.Refresh()
	return r
}

type signRenderer struct {
	s          *Sign
	box, block *canvas.Rectangle
	alert      *alert
}

func (r *signRenderer) banner() bool { return r.s.head != nil }

func (r *signRenderer) Refresh() {
	ground, _ := SignalColors(r.s.signal)
	r.box.FillColor = colorOf(ColorPanel, r.s)
	r.box.StrokeColor, r.box.StrokeWidth, r.box.CornerRadius = colorOf(ground, r.s), 2, signRadius
	r.block.FillColor = colorOf(ground, r.s)
	r.box.Refresh()
	r.block.Refresh()
	for _, o := range r.s.held() {
		o.Refresh()
	}
	r.alert.Refresh()
	canvas.Refresh(r.s)
}

// wordSize is that of the alert symbol and the signal word together.
func (r *signRenderer) wordSize() fyne.Size {
	if r.s.signal == faulttree.NoSignal {
		return fyne.Size{}
	}
	m := r.s.word.MinSize()
	if a := r.alert.MinSize(); a.Width > 0 {
		m = fyne.NewSize(m.Width+a.Width+8, max(m.Height, a.Height))
	}
	return m
}

func (r *signRenderer) placeWord(x, y, h float32) {
	w := r.s.word.MinSize()
	if a := r.alert.MinSize(); a.Width > 0 {
		place(r.alert, x, y+(h-a.Height)/2, a.Width, a.Height)
		x += a.Width + 8
	}
	place(r.s.word, x, y+(h-w.Height)/2, w.Width, w.Height)
}

func (r *signRenderer) stacked(width float32) bool {
	if r.s.signal == faulttree.NoSignal || width >= signCrowded*TextScale() {
		return false
	}
	beside := r.s.body
	if r.s.head != nil {
		beside = r.s.head
	}
	long := beside != nil && natural(beside).Width > 4.2*(width-r.wordSize().Width-4*signPadX)
	return long || width < signStacked*TextScale()
}

// arrange computes, and with set also applies, the layout at a width; it
// returns the height needed.
func (r *signRenderer) arrange(width, height float32, tall heightFunc, set bool) float32 {
	word := r.wordSize()
	first := r.s.head
	var headHeight, blockWidth float32
	switch {
	case r.banner():
		x := signPadX + 4
		if word.Width > 0 {
			x += word.Width + signPadX
		}
		w := width - x - signPadX
		h := word.Height
		if r.stacked(width) { // headline under the word
			x, w = signPadX, width-2*signPadX
			ht := tall(first, w)
			headHeight = signPadY + h + 4 + ht + signPadY
			if set {
				r.placeWord(signPadX, signPadY, h)
				place(first, x, signPadY+h+4, w, ht)
			}
		} else {
			ht := tall(first, w)
			headHeight = max(h, ht) + 2*signPadY + 4
			if set {
				r.placeWord(signPadX+4, 0, headHeight)
				place(first, x, (headHeight-ht)/2, w, ht)
			}
		}
		blockWidth = width
	case r.s.signal == faulttree.NoSignal:
	case r.stacked(width):
		headHeight, blockWidth = word.Height+12, width
		if set {
			r.placeWord(signPadX, 0, headHeight)
		}
	default:
		blockWidth = word.Width + 2*signPadX
	}
	if r.s.body == nil {
		r.corner(set, width, headHeight, true, true)
		return headHeight
	}
	x, y := signPadX, headHeight+signPadY
	if headHeight == 0 {
		x = blockWidth + signPadX
	} else if r.banner() {
		x, y = signPadX+4, headHeight+signPadY+4
	}
	w := width - x - signPadX
	h := tall(r.s.body, w)
	total := y + h + signPadY
	if r.banner() {
		total += 4
	}
	if headHeight == 0 {
		total = max(total, word.Height+2*signPadY)
	}
	if set {
		if headHeight == 0 { // beside the block
			full := max(total, height)
			place(r.s.body, x, (full-h)/2, w, h)
			r.placeWord(signPadX, 0, full)
			r.corner(true, blockWidth, full, false, true)
		} else {
			place(r.s.body, x, y, w, h)
			r.corner(true, width, headHeight, true, false)
		}
	}
	return total
}

// corner sizes the coloured block and rounds those of its corners that meet
// the box's: the top right one, and the bottom left one.
func (r *signRenderer) corner(set bool, width, height float32, topRight, bottomLeft bool) {
	if !set {
		return
	}
	place(r.block, 0, 0, width, height)
	r.block.TopLeftCornerRadius = signRadius
	r.block.TopRightCornerRadius, r.block.BottomLeftCornerRadius, r.block.BottomRightCornerRadius = 0, 0, 0
	if topRight {
		r.block.TopRightCornerRadius = signRadius
	}
	if bottomLeft {
		r.block.BottomLeftCornerRadius = signRadius
	}
	if topRight && bottomLeft {
		r.block.BottomRightCornerRadius = signRadius
	}
	r.block.Refresh()
}

func (r *signRenderer) Layout(size fyne.Size) {
	r.box.Resize(size)
	r.arrange(size.Width, size.Height, heightAt, true)
}

func (r *signRenderer) MinSize() fyne.Size {
	w := r.wordSize().Width + 2*signPadX + 8
	for _, o := range []fyne.CanvasObject{r.s.body, r.s.head} {
		if p, ok := o.(*Prose); ok && p == nil || o == nil {
			continue
		}
		w = max(w, o.MinSize().Width+2*signPadX+8)
	}
	now := func(o fyne.CanvasObject, _ float32) float32 { return o.MinSize().Height }
	return fyne.NewSize(w, r.arrange(max(r.s.Size().Width, w), 0, now, false))
}

func (r *signRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.box, r.block}
	if r.s.signal != faulttree.NoSignal {
		out = append(out, r.alert)
	}
	return append(out, r.s.held()...)
}
func (r *signRenderer) Destroy() {}
