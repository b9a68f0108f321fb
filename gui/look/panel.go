package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Panel is a bordered box around something. No boxes in boxes.
type Panel struct {
	widget.BaseWidget

	Content fyne.CanvasObject
	// Fill and Border are colours by name; "" draws none.
	Fill, Border fyne.ThemeColorName
	// Padding is left free around the content.
	Padding float32
	// Radius of the corners; 0 means 12.
	Radius float32
}

// NewPanel is a panel with a thin line around it and space of 20 inside.
func NewPanel(content fyne.CanvasObject) *Panel {
	p := &Panel{Content: content, Fill: ColorPanel, Border: ColorLine, Padding: 20}
	p.ExtendBaseWidget(p)
	return p
}

func (p *Panel) held() []fyne.CanvasObject { return []fyne.CanvasObject{p.Content} }

// Natural is the size its content likes best, with the padding.
func (p *Panel) Natural() fyne.Size {
	return natural(p.Content).AddWidthHeight(2*p.Padding, 2*p.Padding)
}

// CreateRenderer is called by the toolkit.
func (p *Panel) CreateRenderer() fyne.WidgetRenderer {
	radius := p.Radius
	if radius == 0 {
		radius = theme.Size(theme.SizeNameCardRadius)
	}
	r := &panelRenderer{p: p, frame: newFrame(radius)}
	r.Refresh()
	return r
}

type panelRenderer struct {
	p     *Panel
	frame *frame
}

func (r *panelRenderer) Refresh() {
	r.frame.paint(r.p, nil, r.p.Fill, r.p.Border, 1)
	r.p.Content.Refresh()
	canvas.Refresh(r.p)
}

func (r *panelRenderer) MinSize() fyne.Size {
	return r.p.Content.MinSize().AddWidthHeight(2*r.p.Padding, 2*r.p.Padding)
}

func (r *panelRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	w := size.Width - 2*r.p.Padding
	h := max(heightAt(r.p.Content, w), size.Height-2*r.p.Padding)
	place(r.p.Content, r.p.Padding, r.p.Padding, w, h)
}

func (r *panelRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.frame.ground, r.p.Content}
}
func (r *panelRenderer) Destroy() {}

// Line is a thin rule across.
type Line struct{ widget.BaseWidget }

// NewLine is a rule between rows or columns.
func NewLine() *Line {
	l := &Line{}
	l.ExtendBaseWidget(l)
	return l
}

// CreateRenderer is called by the toolkit.
func (l *Line) CreateRenderer() fyne.WidgetRenderer {
	r := &lineRenderer{l: l, rect: canvas.NewRectangle(none)}
	r.Refresh()
	return r
}

type lineRenderer struct {
	l    *Line
	rect *canvas.Rectangle
}

func (r *lineRenderer) Refresh() {
	r.rect.FillColor = colorOf(ColorLine, r.l)
	r.rect.Refresh()
}
func (r *lineRenderer) Layout(size fyne.Size)        { r.rect.Resize(size) }
func (r *lineRenderer) MinSize() fyne.Size           { return fyne.NewSize(1, 1) }
func (r *lineRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.rect} }
func (r *lineRenderer) Destroy()                     {}
