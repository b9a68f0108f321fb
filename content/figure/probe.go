package figure

import "math"

// Probe is one of the meter's two.
type Probe uint8

const (
	NoProbe Probe = iota
	RedProbe
	BlackProbe
)

// Held is a probe that is being moved, and where it is now.
type Held struct {
	Probe Probe
	At    Point
}

// Toward is the spot next to a node in a direction, X to the right and Y
// downwards: the nearest that lies more in this direction than across it. From
// no node it is the first spot.
func Toward(spots []Spot, node string, dx, dy float64) (string, bool) {
	if len(spots) == 0 {
		return "", false
	}
	from := -1
	for i, o := range spots {
		if o.Node == node {
			from = i
			break
		}
	}
	if from < 0 {
		return spots[0].Node, true
	}
	best, found := math.Inf(1), ""
	for _, o := range spots {
		x, y := o.At.X-spots[from].At.X, o.At.Y-spots[from].At.Y
		along, across := x*dx+y*dy, math.Abs(x*dy)+math.Abs(y*dx)
		if o.Node == node || along <= 1 || across > 2*along {
			continue
		}
		if d := along + 2*across; d < best {
			best, found = d, o.Node
		}
	}
	return found, found != ""
}

// lying is where the probes lie that touch nothing.
type lying struct{ red, black Point }

// stands is one probe as it is drawn.
type stands struct {
	probe      Probe
	tip, badge Point
}

// probesOf says where the probes of a state are drawn, the black one first.
func probesOf(s OnelineState, tip func(node string) (Point, bool), lie lying) []stands {
	var out []stands
	for _, one := range []struct {
		probe Probe
		node  string
		lie   Point
		side  float64
	}{{BlackProbe, s.Black, lie.black, 22}, {RedProbe, s.Red, lie.red, -10}} {
		at, touches := tip(one.node)
		switch {
		case s.Held.Probe == one.probe:
			out = append(out, stands{one.probe, s.Held.At, s.Held.At.Add(one.side, 24)})
		case touches:
			out = append(out, stands{one.probe, at, at.Add(one.side, 24)})
		case s.Loose:
			out = append(out, stands{one.probe, one.lie.Add(9, -9), one.lie})
		}
	}
	return out
}

// putProbes draws the tips of the two leads.
func (p pen) putProbes(s OnelineState, tip func(node string) (Point, bool), lie lying) {
	for _, one := range probesOf(s, tip, lie) {
		if one.probe == RedProbe {
			p.badge(RedLead, "R", one.tip, one.badge)
		} else {
			p.badge(BlackLead, "B", one.tip, one.badge)
		}
	}
}

// grab is the probe nearest to a point, by its tip or its letter.
func grab(at Point, reach float64, s OnelineState, tip func(node string) (Point, bool), lie lying) (Probe, bool) {
	best, found := reach, NoProbe
	for _, one := range probesOf(s, tip, lie) {
		for _, q := range []Point{one.tip, one.badge} {
			if d := math.Hypot(q.X-at.X, q.Y-at.Y); d <= best {
				best, found = d, one.probe
			}
		}
	}
	return found, found != NoProbe
}
