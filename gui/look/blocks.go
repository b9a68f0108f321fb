package look

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/faulttree"
)

// NewBlocks shows a document, one object for each block under one another. A
// link that is pressed calls onLink with its target; nothing is ever opened by
// this package. No text of the document is left out: what it does not know how
// to draw it shows as plain text.
func NewBlocks(blocks []document.Block, onLink func(target string)) *fyne.Container {
	w := writer{onLink}
	return w.stack(12, blocks)
}

// NewBlock shows one block.
func NewBlock(block document.Block, onLink func(target string)) fyne.CanvasObject {
	return writer{onLink}.block(block)
}

// Numbered shows sentences as a numbered list in the size of titles; a single
// one has no number.
func Numbered(sentences ...string) *fyne.Container {
	line := func(text string) *Prose {
		p := NewText(text)
		p.Type = SizeTitle
		return p
	}
	if len(sentences) == 1 {
		return Stack(0, line(sentences[0]))
	}
	last := line(strconv.Itoa(len(sentences)) + ".")
	list := Stack(8)
	for i, s := range sentences {
		list.Add(container.New(hanging{last}, line(strconv.Itoa(i+1)+"."), line(s)))
	}
	return list
}

type writer struct{ onLink func(string) }

func (w writer) stack(gap float32, blocks []document.Block) *fyne.Container {
	var out []fyne.CanvasObject
	for i, b := range blocks {
		o := w.block(b)
		if _, ok := b.(document.Heading); ok && i > 0 {
			o = Pad(8, 0, 0, 0, o)
		}
		out = append(out, o)
	}
	return Stack(gap, out...)
}

func (w writer) prose(text []document.Inline, base Run) *Prose {
	p := NewProse(runs(text, base)...)
	p.OnTapped = w.onLink
	return p
}

// runs flattens inlines; base gives the style they stand in.
func runs(text []document.Inline, base Run) []Run {
	var out []Run
	for _, in := range text {
		switch in := in.(type) {
		case document.Text:
			r := base
			r.Text = in.Value
			r.Style.Bold = r.Style.Bold || in.Bold
			r.Style.Italic = r.Style.Italic || in.Italic
			r.Style.Monospace = r.Style.Monospace || in.Code
			out = append(out, r)
		case document.Link:
			r := base
			r.Target = in.Target
			out = append(out, runs(in.Text, r)...)
		case document.Break:
			if len(out) == 0 {
				out = append(out, base)
			}
			out[len(out)-1].Break = true
		default:
			r := base
			if r.Text = document.PlainInline([]document.Inline{in}); r.Text == "" {
				r.Text = fmt.Sprintf("%v", in)
			}
			out = append(out, r)
		}
	}
	return out
}

func (w writer) block(b document.Block) fyne.CanvasObject {
	switch b := b.(type) {
	case document.Heading:
		return w.heading(b)
	case document.Paragraph:
		return w.prose(b.Text, Run{})
	case document.List:
		return w.list(b)
	case document.Table:
		return newTable(w, b)
	case document.Callout:
		return NewCallout(b.Signal, w.body(b.Body))
	case document.Quote:
		return quoted(w.body(b.Body))
	case document.Figure:
		return w.figure(b)
	case document.Code:
		return code(b.Text)
	case document.Rule:
		return Pad(8, 0, 8, 0, NewLine())
	}
	return unknown(b)
}

// body is what stands inside a callout or a quote, which may be nothing.
func (w writer) body(blocks []document.Block) fyne.CanvasObject {
	if len(blocks) == 1 {
		return w.block(blocks[0])
	}
	return w.stack(8, blocks)
}

func (w writer) heading(h document.Heading) fyne.CanvasObject {
	p := w.prose(h.Text, Run{Style: fyne.TextStyle{Bold: true}})
	switch h.Level {
	case 1:
		p.Type = SizeHeading
	case 2:
		p.Type = SizeTitle
	}
	return p
}

func (w writer) list(l document.List) fyne.CanvasObject {
	gap := float32(12)
	if l.Tight {
		gap = 8
	}
	last := "•"
	if l.Ordered {
		last = strconv.Itoa(l.Start+len(l.Items)-1) + "."
	}
	widest := NewText(last)
	var items []fyne.CanvasObject
	for i, item := range l.Items {
		mark := "•"
		if l.Ordered {
			mark = strconv.Itoa(l.Start+i) + "."
		}
		items = append(items, container.New(hanging{widest}, NewText(mark), w.stack(8, item)))
	}
	return Pad(0, 0, 0, 4, Stack(gap, items...))
}

func (w writer) figure(f document.Figure) fyne.CanvasObject {
	alt := NewSoft(f.Alt)
	d, ok := figure.Named(f.Name)
	if !ok {
		return NewPanel(Stack(4, NewCaption("Picture"), alt))
	}
	return Stack(8, NewFigure(d), alt)
}

// code keeps the lines and spaces of a text as they are, in fixed width.
func code(text string) fyne.CanvasObject {
	p := NewProse(Run{Text: strings.TrimSuffix(text, "\n"), Style: fyne.TextStyle{Monospace: true}})
	p.Type = SizeLead
	box := NewPanel(p)
	box.Padding, box.Radius = 12, 8
	return box
}

// unknown shows a block of a kind this package was not written for.
func unknown(b document.Block) fyne.CanvasObject {
	text := document.Plain([]document.Block{b})
	if text == "" {
		text = fmt.Sprintf("%v", b)
	}
	return NewCallout(faulttree.NoSignal, NewText(text))
}

// hanging puts a mark at the left and the body beside it. All items of a list
// keep room for the widest mark.
type hanging struct{ widest *Prose }

func (h hanging) room() float32 { return max(h.widest.Natural().Width+6, 20*TextScale()) }

func (h hanging) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	w := h.room()
	place(objects[0], 0, 0, w, objects[0].MinSize().Height)
	rest := max(size.Width-w, 0)
	place(objects[1], w, 0, rest, heightAt(objects[1], rest))
}

func (h hanging) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m, b := objects[0].MinSize(), objects[1].MinSize()
	return fyne.NewSize(h.room()+b.Width, max(m.Height, b.Height))
}

// quoted draws a bar at the left of a quotation.
func quoted(body fyne.CanvasObject) fyne.CanvasObject {
	return container.New(barred{}, NewLine(), Pad(0, 0, 0, 16, body))
}

// barred puts a bar at the left edge of what stands beside it.
type barred struct{}

func (barred) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	place(objects[0], 0, 0, 4, size.Height)
	place(objects[1], 0, 0, size.Width, heightAt(objects[1], size.Width))
}

func (barred) MinSize(objects []fyne.CanvasObject) fyne.Size { return objects[1].MinSize() }
