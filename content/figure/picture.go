package figure

import (
	"math"
	"slices"

	"faultwright/faulttree/rig"
)

// Picture shows a rig as somebody sees it who stands before it: the face of the
// pedestal, the ends of the cord, the vehicle with its inlet, panel and outlet,
// the spike in the soil. It has the same test points as an [Oneline] of the rig.
// It is planned once for a width; [Picture.Draw] draws it as things stand.
type Picture struct {
	width, height float64
	rig           *rig.Rig
	outside       []station // before the vehicle, and the spike
	inside        []station // on the vehicle and in it
	vehicle       Box       // its outline
	step          Point     // its body, bare metal
	nodes         []Spot
	at            map[string]Point
	lie           lying
}

// station is one thing with test points, and where it stands.
type station struct {
	object  object
	group   string
	left, y float64 // of its box
	width   float64
}

const (
	stationTop  = 70.0 // of what an object draws, in the frame that all share
	stationFoot = 196.0
	captionRoom = 18.0
	stationHigh = stationFoot - stationTop + captionRoom
)

// outsideGroups stand before the vehicle, from the supply to it.
var outsideGroups = []string{"pedestal", "adapter", "adapter.out", "plug", "cord", "earth"}

// wide is the room across that a thing takes, at least.
func wide(name string) float64 {
	switch name {
	case "panel":
		return 172
	case "dc", "converter", "tow", "generator", "inverter":
		return 164
	case "battery", "pedestal":
		return 136
	case "earth":
		return 132
	}
	return 120
}

// NewPicture plans the picture of a rig, as wide as there is room.
func NewPicture(o OnelinePlan) *Picture {
	w := &Picture{width: o.Width, rig: o.Rig, at: map[string]Point{}}
	nodes := pointsOf(o)
	for _, node := range nodes {
		if node == "body" {
			continue
		}
		group, _ := splitNode(node)
		if group == "feed" {
			group = "panel" // its lugs are the panel's
		}
		list := &w.inside
		if slices.Contains(outsideGroups, group) {
			list = &w.outside
		}
		if !slices.ContainsFunc(*list, func(s station) bool { return s.group == group }) {
			*list = append(*list, stationOf(node, group, nodes))
		}
	}
	slices.SortStableFunc(w.outside, func(a, b station) int {
		return slices.Index(outsideGroups, a.group) - slices.Index(outsideGroups, b.group)
	})
	y := w.deal(w.outside, 8, 4, false)
	if len(w.inside) > 0 || o.Rig.HasNode("body") {
		top := y + 18
		foot := w.deal(w.inside, 30, top+6, true)
		w.vehicle = Box{10, top, w.width - 10, max(foot, top+90)}
		y = w.vehicle.Bottom + 42
		w.step = Point{w.width * 0.52, w.vehicle.Bottom + 22}
	}
	w.height = y
	w.lie = lying{Point{22, w.height - 16}, Point{58, w.height - 16}}
	w.findSpots(nodes)
	return w
}

// pointsOf lists the test points of a rig, from the supply to the vehicle.
func pointsOf(o OnelinePlan) []string {
	var out []string
	for _, p := range o.Rig.Parts {
		for _, node := range []string{p.A, p.B} {
			if o.Points(node) && !slices.Contains(out, node) {
				out = append(out, node)
			}
		}
	}
	place := func(node string) int {
		group, _ := split(node)
		if i := slices.Index(o.Rig.Columns, group); i >= 0 {
			return i
		}
		return len(o.Rig.Columns)
	}
	slices.SortStableFunc(out, func(a, b string) int { return place(a) - place(b) })
	return out
}

// shortNames are the captions of things whose name is too long for the picture.
var shortNames = map[string]string{
	"plug": "Plug of the cord", "cord": "Vehicle end of cord", "inlet": "Inlet", "panel": "Panel, cover off",
	"adapter": "Adapter, plug", "adapter-out": "Adapter, face", "earth": "Spike",
}

// stationOf is the thing on which a test point lies.
func stationOf(node, group string, all []string) station {
	face := FaceTT30
	if slices.Contains(all, group+".l2") || slices.Contains(all, group+"-l2") || group == "panel" && slices.Contains(all, "feed.l2") {
		face = Face14_50
	}
	s := station{object: objectOf(node, face), group: group}
	if node == "pedestal.cover" {
		s.object = objectOf("pedestal.g", face)
	}
	if name := shortNames[s.object.name]; name != "" {
		s.object.caption = name
	}
	if s.object.name == "pedestal" {
		s.object.caption = "Pedestal, " + face.Rating()
	}
	s.width = wide(s.object.name)
	return s
}

// deal sets things from the left, in as many lines as they need, spread over the
// width; it returns where the next line would begin.
func (w *Picture) deal(all []station, margin, y float64, spread bool) float64 {
	room := w.width - 2*margin
	for len(all) > 0 {
		n, sum := 0, 0.0
		for n < len(all) && (n == 0 || sum+all[n].width <= room) {
			sum += all[n].width
			n++
		}
		more := min(max(room-sum, 0)/float64(n), 60)
		x := margin
		if spread {
			x += (room - sum - more*float64(n)) / 2
		}
		for i := range all[:n] {
			all[i].left, all[i].y = x+more/2, y
			x += all[i].width + more
		}
		all, y = all[n:], y+stationHigh
	}
	return y
}

// findSpots draws each thing aside to learn where its contacts are.
func (w *Picture) findSpots(nodes []string) {
	var aside Drawing
	for _, s := range slices.Concat(w.outside, w.inside) {
		found := w.thing(pen{&aside}, s)
		for _, node := range nodes {
			group, local := split(node)
			key := node
			if found[key] == nil {
				key = local
			}
			mine := s.group == group || s.group == "panel" && group == "feed" || s.group == "adapter.out" && group == "adapter"
			if spot := found[key]; mine && spot != nil {
				w.at[node] = spot(0).tip.Add(s.left, s.y-stationTop+captionRoom)
			}
		}
	}
	if slices.Contains(nodes, "body") {
		w.at["body"] = w.step
	}
	for _, node := range nodes {
		if at, ok := w.at[node]; ok {
			w.nodes = append(w.nodes, Spot{node, at})
		}
	}
}

// thing draws a station in the frame that all things share.
func (w *Picture) thing(p pen, s station) spots {
	if s.object.name == "pedestal" {
		return w.post(p, s)
	}
	return s.object.draw(p, slotArea{center: s.width / 2, half: true})
}

// post draws the pedestal: a post, its receptacle, and bare metal below.
func (w *Picture) post(p pen, s station) spots {
	middle := s.width / 2
	p.shape(Panel, Ink, 2, rounded(middle-66, stationTop, middle+66, stationFoot, 8)...)
	out := s.object.draw(p, slotArea{center: middle, half: true})
	at := Point{middle + 52, stationFoot - 12}
	p.disc(at, 7, Line, Ink, 1.6)
	p.text(at.Add(-13, 5), End, 12, Ink, "bare metal")
	out["cover"] = func(float64) touch { return touch{tip: at, badge: at} }
	return out
}

// Spots lists the test points as they stand, from the supply to the vehicle.
func (w *Picture) Spots() []Spot { return slices.Clone(w.nodes) }

// Nearest is the test point nearest to a place and not farther than reach.
func (w *Picture) Nearest(at Point, reach float64) (node string, ok bool) {
	best := reach
	for _, s := range w.nodes {
		if d := math.Hypot(s.At.X-at.X, s.At.Y-at.Y); d <= best {
			best, node, ok = d, s.Node, true
		}
	}
	return node, ok
}

// Grab is the probe that lies or stands nearest to a point, and not farther than
// reach.
func (w *Picture) Grab(at Point, reach float64, s OnelineState) (Probe, bool) {
	return grab(at, reach, s, w.tip, w.lie)
}

func (w *Picture) tip(node string) (Point, bool) {
	at, ok := w.at[node]
	return at, ok
}
