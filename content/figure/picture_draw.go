package figure

import (
	"slices"
	"strings"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// Draw draws the vehicle as it stands: what is plugged in, what is off, where the
// probes are. It shows nothing that only a meter shows.
func (w *Picture) Draw(s OnelineState) Drawing {
	d := Drawing{Width: w.width, Height: w.height, Title: w.rig.Title, Items: make([]Item, 0, 512)}
	p := pen{&d}
	w.body(p)
	w.cables(p, s)
	tripped := lists.Each(s.Tripped, w.seenAt)
	for _, at := range slices.Concat(w.outside, w.inside) {
		w.put(p, at, slices.Contains(tripped, at.group))
	}
	said := append(w.states(p, s), w.rig.TrippedText(s.Tripped))
	d.Description = strings.TrimSpace("Picture of " + w.rig.Title + ". " + strings.Join(said, " "))
	p.putProbes(s, w.tip, w.lie)
	return d
}

// seenAt is the group of the thing at which somebody sees that a protective device has
// opened: the one it stands in, or else the one that its circuit leads to; "" where
// none is drawn.
func (w *Picture) seenAt(device string) string {
	var near, far []string
	for _, p := range w.rig.Parts {
		if p.Run == device || p.Name == device {
			near = append(near, p.A, p.B)
		}
	}
	for _, p := range w.rig.Parts {
		if slices.Contains(near, p.A) && p.Kind == rig.Conductor {
			far = append(far, p.B)
		}
	}
	for _, node := range append(near, far...) {
		group, _ := split(node)
		if group == "feed" {
			group = "panel"
		}
		if slices.ContainsFunc(slices.Concat(w.outside, w.inside), func(s station) bool { return s.group == group }) {
			return group
		}
	}
	return ""
}

// put draws a thing where it stands, with its caption, which says so where something in
// it has tripped.
func (w *Picture) put(p pen, s station, tripped bool) {
	var aside Drawing
	w.thing(pen{&aside}, s)
	caption := Text{At: Point{s.left + s.width/2, s.y + 12}, Value: s.object.caption, Size: 12, Anchor: Middle, Ink: Soft}
	ground := Panel
	if tripped {
		name, _, _ := strings.Cut(s.object.caption, ",")
		caption.Value = strings.TrimSuffix(name, " inside") + ": tripped"
		ground, caption.Ink = WarningFill, OnWarning
	}
	box := caption.Bounds()
	p.shape(ground, None, 0, rounded(box.Left, box.Top-1, box.Right, box.Bottom+1, 4)...) // a cable may pass here
	p.add(caption)
	for _, item := range aside.Items {
		p.add(shifted(item, s.left, s.y-stationTop+captionRoom))
	}
}

// shifted is an item moved by x and y.
func shifted(item Item, x, y float64) Item {
	move := func(ps []Point) []Point {
		out := make([]Point, len(ps))
		for i, q := range ps {
			out[i] = q.Add(x, y)
		}
		return out
	}
	switch it := item.(type) {
	case Polyline:
		it.Points = move(it.Points)
		return it
	case Polygon:
		it.Points = move(it.Points)
		return it
	case Circle:
		it.Center = it.Center.Add(x, y)
		return it
	case Text:
		it.At = it.At.Add(x, y)
		return it
	}
	return item
}

// body draws the outline of the vehicle: roof, wheels, entry step.
func (w *Picture) body(p pen) {
	b := w.vehicle
	if b.Right == 0 {
		return
	}
	roof := b.Left + (b.Right-b.Left)*0.3
	p.shape(Panel, Ink, 1.6, Point{roof, b.Top}, Point{roof + 6, b.Top - 12}, Point{roof + 64, b.Top - 12}, Point{roof + 70, b.Top})
	p.shape(Panel, Ink, 2.4, rounded(b.Left, b.Top, b.Right, b.Bottom, 16)...)
	for _, share := range []float64{0.24, 0.82} {
		at := Point{b.Left + (b.Right-b.Left)*share, b.Bottom + 14}
		p.disc(at, 20, Panel, Ink, 2.4)
		p.disc(at, 7, None, Ink, 1.6)
	}
	p.dots(Soft, 1.8, Point{b.Left, b.Bottom + 34}, Point{b.Right, b.Bottom + 34})
	at := w.step
	p.shape(Line, Ink, 1.6, at.Add(-30, -4), at.Add(30, -4), at.Add(30, 5), at.Add(-30, 5))
	p.line(Ink, 1.6, at.Add(-22, -20), at.Add(-22, -4))
	p.line(Ink, 1.6, at.Add(22, -20), at.Add(22, -4))
	p.text(at.Add(40, 5), Start, 12, Ink, "body")
}

// cables draws what joins the things while it is plugged in.
func (w *Picture) cables(p pen, s OnelineState) {
	for i := range w.outside {
		from := w.outside[i]
		to, ok := w.next(i)
		if !ok {
			continue
		}
		if w.mates(from.group, to.group, s) {
			w.cable(p, from, to)
		}
	}
}

// next is the thing that the one at an index leads to.
func (w *Picture) next(i int) (station, bool) {
	if i+1 < len(w.outside) && w.outside[i+1].group != "earth" {
		return w.outside[i+1], true
	}
	if k := slices.IndexFunc(w.inside, func(s station) bool { return s.group == "inlet" }); k >= 0 && w.outside[i].group == "cord" {
		return w.inside[k], true
	}
	return station{}, false
}

// mates reports whether two things are joined: by their own cable always, by a
// plug while it is in.
func (w *Picture) mates(from, to string, s OnelineState) bool {
	if from == "plug" && to == "cord" || from == "adapter" && to == "adapter.out" {
		return true
	}
	sw, ok := w.between(from, to)
	return !ok || !s.Off[sw.Name]
}

// between is the switch that joins two things; a plug covers both its halves.
func (w *Picture) between(from, to string) (rig.Switch, bool) {
	return lists.Find(w.rig.Switches, func(sw rig.Switch) bool {
		group := func(g string) string { g, _, _ = strings.Cut(g, "."); return g }
		return slices.Contains(sw.Covers, group(from)) && (slices.Contains(sw.Covers, group(to)) || from == "pedestal")
	})
}

// cable draws a thick cord from one thing to the next.
func (w *Picture) cable(p pen, from, to station) {
	a := Point{from.left + from.width/2, from.y + captionRoom + objectMiddle - stationTop}
	b := Point{to.left + to.width/2, to.y + captionRoom + objectMiddle - stationTop}
	way := []Point{a, b}
	if from.y != to.y {
		way = curve(a, Point{a.X, a.Y + 110}, Point{b.X, b.Y - 110}, b)
	}
	p.line(Ink, 13, way...)
	p.line(Soft, 9, way...)
}

// states says what is plugged in and what is not, beside the things, and returns
// the same in sentences.
func (w *Picture) states(p pen, s OnelineState) []string {
	var out []string
	for _, sw := range w.rig.Switches {
		state := "on"
		if s.Off[sw.Name] {
			state = "off"
		}
		out = append(out, strings.ToUpper(sw.Title[:min(1, len(sw.Title))])+sw.Title[min(1, len(sw.Title)):]+": "+state+".")
	}
	for i, from := range w.outside {
		if from.group == "pedestal" {
			p.handle(Point{from.left + from.width/2 - 56, from.y + captionRoom + 14}, s.Off["pedestal"])
		}
		to, ok := w.next(i)
		if !ok || from.y != to.y || w.mates(from.group, to.group, s) {
			continue
		}
		at := Point{(from.left + from.width + to.left) / 2, from.y + captionRoom + objectMiddle - stationTop}
		p.line(Soft, 2, at.Add(-5, -9), at.Add(-5, 9))
		p.line(Soft, 2, at.Add(5, -9), at.Add(5, 9))
	}
	return out
}

// handle draws the handle of a breaker: up is on.
func (p pen) handle(at Point, off bool) {
	p.shape(Panel, Ink, 1.6, rounded(at.X-6, at.Y-11, at.X+6, at.Y+11, 3)...)
	knob := at.Add(0, -5)
	if off {
		knob = at.Add(0, 5)
	}
	p.shape(Ink, None, 0, rounded(knob.X-4, knob.Y-4, knob.X+4, knob.Y+4, 1.5)...)
}
