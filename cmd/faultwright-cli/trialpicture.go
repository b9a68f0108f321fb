package main

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"faultwright/content/figure"
	"faultwright/faulttree/trial"

	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
)

// drawMatrix draws the confusion matrix as an SVG or PNG picture.
func drawMatrix(w io.Writer, r *trial.Report, ending string) error {
	d := matrixOf(r)
	if ending == ".svg" {
		_, err := io.WriteString(w, figure.SVG(d, figure.Light()))
		return err
	}
	return png.Encode(w, raster(d, figure.Light()))
}

// raster paints a drawing that is made of upright boxes and texts, one pixel a
// unit. All texts have the one small face of the library; larger and bold ones
// are struck twice.
func raster(d figure.Drawing, p figure.Palette) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, int(math.Ceil(d.Width)), int(math.Ceil(d.Height))))
	for _, item := range d.Items {
		switch it := item.(type) {
		case figure.Polygon:
			paintBox(img, it, p)
		case figure.Text:
			paintText(img, it, p.Color(it.Ink))
		}
	}
	return img
}

func paintBox(img *image.NRGBA, it figure.Polygon, p figure.Palette) {
	low, high := it.Points[0], it.Points[0]
	for _, q := range it.Points {
		low.X, low.Y, high.X, high.Y = min(low.X, q.X), min(low.Y, q.Y), max(high.X, q.X), max(high.Y, q.Y)
	}
	box := image.Rect(int(low.X), int(low.Y), int(math.Ceil(high.X)), int(math.Ceil(high.Y)))
	fill := func(r image.Rectangle, c color.NRGBA) {
		draw.Draw(img, r, image.NewUniform(c), image.Point{}, draw.Src)
	}
	if it.Fill != figure.None {
		fill(box, p.Color(it.Fill))
	}
	if it.Stroke != figure.None {
		c := p.Color(it.Stroke)
		fill(image.Rect(box.Min.X, box.Min.Y, box.Max.X, box.Min.Y+1), c)
		fill(image.Rect(box.Min.X, box.Max.Y-1, box.Max.X, box.Max.Y), c)
		fill(image.Rect(box.Min.X, box.Min.Y, box.Min.X+1, box.Max.Y), c)
		fill(image.Rect(box.Max.X-1, box.Min.Y, box.Max.X, box.Max.Y), c)
	}
}

func paintText(img *image.NRGBA, it figure.Text, c color.NRGBA) {
	pen := font.Drawer{Dst: img, Src: image.NewUniform(c), Face: basicfont.Face7x13}
	width := pen.MeasureString(it.Value).Ceil()
	x := int(it.At.X)
	switch it.Anchor {
	case figure.Middle:
		x -= width / 2
	case figure.End:
		x -= width
	}
	strikes := 1
	if it.Bold {
		strikes = 2
	}
	for k := range strikes {
		pen.Dot = fixed.P(x+k, int(it.At.Y))
		pen.DrawString(it.Value)
	}
}
