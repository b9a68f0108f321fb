package look

import (
	"image/color"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"pgregory.net/rapid"

	"faultwright/content/figure"
)

func TestPaintsWhereItShould(t *testing.T) {
	d := figure.Drawing{Width: 100, Height: 50, Items: []figure.Item{
		figure.Polygon{Points: []figure.Point{{X: 10, Y: 10}, {X: 40, Y: 10}, {X: 40, Y: 40}, {X: 10, Y: 40}}, Fill: figure.DangerFill},
		figure.Circle{Center: figure.Point{X: 75, Y: 25}, Radius: 15, Fill: figure.NoticeFill, Stroke: figure.Ink, Width: 4},
		figure.Polyline{Points: []figure.Point{{X: 0, Y: 45}, {X: 100, Y: 45}}, Ink: figure.WarningFill, Width: 2},
	}}
	p := figure.Light()
	img := paintFigure(d, p, 200, 100)
	at := func(x, y int) color.NRGBA {
		return color.NRGBAModel.Convert(img.At(2*x, 2*y)).(color.NRGBA)
	}
	for _, c := range []struct {
		x, y int
		want figure.Role
	}{{25, 25, figure.DangerFill}, {75, 25, figure.NoticeFill}, {60, 25, figure.Ink}, {75, 10, figure.Ink}, {50, 45, figure.WarningFill}, {50, 25, figure.None}, {99, 2, figure.None}} {
		if got := at(c.x, c.y); got != p.Color(c.want) {
			t.Errorf("at %d, %d: %v, want %v", c.x, c.y, got, p.Color(c.want))
		}
	}
}

// No drawing, however odd, stops the painter.
func TestPaintsAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.Float64Range(-300, 300)
		point := rapid.Custom(func(t *rapid.T) figure.Point {
			return figure.Point{X: number.Draw(t, "x"), Y: number.Draw(t, "y")}
		})
		points := rapid.SliceOfN(point, 0, 6)
		width := rapid.Float64Range(-1, 40)
		d := figure.Drawing{Width: 100, Height: 100, Items: []figure.Item{
			figure.Polygon{Points: points.Draw(t, "polygon"), Fill: figure.Ink, Stroke: figure.RedLead, Width: width.Draw(t, "w")},
			figure.Polyline{Points: points.Draw(t, "line"), Ink: figure.Ink, Width: width.Draw(t, "w")},
			figure.Circle{Center: point.Draw(t, "c"), Radius: width.Draw(t, "r"), Fill: figure.Ink, Stroke: figure.Soft, Width: width.Draw(t, "w")},
		}}
		paintFigure(d, figure.Dark(), rapid.IntRange(0, 60).Draw(t, "pixels"), rapid.IntRange(0, 60).Draw(t, "high"))
	})
}

func TestFigureKeepsItsProportions(t *testing.T) {
	start(t)
	d := figure.Drawing{Width: 400, Height: 200, Title: "A picture", Description: "What it shows.", Items: []figure.Item{
		figure.Text{At: figure.Point{X: 200, Y: 100}, Value: "body", Size: 14, Anchor: figure.Middle, Ink: figure.Ink},
	}}
	f := NewFigure(d)
	f.Resize(fyne.NewSize(324, heightAt(f, 324)))
	if got, want := f.MinSize().Height, float32(150+24); got != want {
		t.Errorf("at 324 it is %v tall, want %v", got, want)
	}
	f.MaxHeight = 100
	f.Refresh()
	if got := f.MinSize().Height; got != 100 {
		t.Errorf("held to 100 it is %v tall", got)
	}
	if !strings.Contains(TextOf(f), "What it shows.") {
		t.Errorf("in words it is %q", TextOf(f))
	}
}

func TestFigurePaletteFollowsTheMode(t *testing.T) {
	start(t)
	for mode, want := range map[Mode]string{Light: "light", Dark: "dark", HighContrast: "high contrast"} {
		fyne.CurrentApp().Settings().SetTheme(NewTheme(mode, 1))
		if got := FigurePalette().Name; got != want {
			t.Errorf("%v has the palette %q", mode, got)
		}
	}
}
