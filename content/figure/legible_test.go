package figure

import (
	"testing"

	"faultwright/faulttree"
)

func TestPicturesAreLegible(t *testing.T) {
	every(t, func(name string, q faulttree.Quantity, d Drawing) { legible(t, name, d) })
}

// legible checks that no two texts overlap, that all lie inside, that no line
// runs through words, and that each word stands out from what is under it.
func legible(t *testing.T, name string, d Drawing) {
	t.Helper()
	var texts []Text
	for _, item := range d.Items {
		if text, ok := item.(Text); ok {
			texts = append(texts, text)
		}
	}
	if len(texts) == 0 {
		t.Errorf("%s: no words at all", name)
	}
	for i, a := range texts {
		box := a.Bounds()
		if box.Left < 0 || box.Top < 0 || box.Right > d.Width || box.Bottom > d.Height {
			t.Errorf("%s: %q runs out of the picture: %+v", name, a.Value, box)
		}
		if a.Size < 12 {
			t.Errorf("%s: %q is set in %v, too small", name, a.Value, a.Size)
		}
		for _, b := range texts[i+1:] {
			if overlap(box, b.Bounds()) {
				t.Errorf("%s: %q and %q overlap", name, a.Value, b.Value)
			}
		}
		for _, p := range palettes {
			under := p.Color(groundUnder(d, a))
			if got := Contrast(p.Color(a.Ink), under); got < 4.5 {
				t.Errorf("%s, %s: %q has a contrast of %.2f", name, p.Name, a.Value, got)
			}
		}
	}
	for _, item := range d.Items {
		line, ok := item.(Polyline)
		if !ok {
			continue
		}
		for _, text := range texts {
			if len([]rune(text.Value)) > 2 && crosses(line, text.Bounds()) {
				t.Errorf("%s: a line runs through %q", name, text.Value)
			}
		}
	}
}

// groundUnder is the fill of the last shape drawn under a text.
func groundUnder(d Drawing, text Text) Role {
	box := text.Bounds()
	at := Point{(box.Left + box.Right) / 2, (box.Top + box.Bottom) / 2}
	under := Panel
	for _, item := range d.Items {
		switch it := item.(type) {
		case Text:
			if it == text {
				return under
			}
		case Circle:
			if it.Fill != None && apart(it.Center, at) < it.Radius {
				under = it.Fill
			}
		case Polygon:
			if it.Fill != None && inside(it.Points, at) {
				under = it.Fill
			}
		}
	}
	return under
}

func inside(ring []Point, p Point) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}

func crosses(line Polyline, box Box) bool {
	for i := 0; i+1 < len(line.Points); i++ {
		a, b := line.Points[i], line.Points[i+1]
		for k := 0.0; k <= 1; k += 0.1 {
			x, y := a.X+(b.X-a.X)*k, a.Y+(b.Y-a.Y)*k
			if x > box.Left && x < box.Right && y > box.Top && y < box.Bottom {
				return true
			}
		}
	}
	return false
}

// overlap reports whether two boxes share an area.
func overlap(b, c Box) bool {
	return b.Left < c.Right && c.Left < b.Right && b.Top < c.Bottom && c.Top < b.Bottom
}
