package figure

import (
	"math"

	"faultwright/faulttree/rig"
)

// Oneline is the plan of a one-line drawing: where each node and each part of
// a rig stands. Groups of nodes are columns from the supply to the vehicle,
// wires are rows, what stands between rows (sources, loads, filters) hangs in
// its column, and body and earth lie below. A plan is made once for a rig and a
// fault; [Oneline.Draw] then draws it with other numbers as often as they
// change.
type Oneline struct {
	width, height float64
	step          float64 // between two wires
	rig           *rig.Rig
	bands         []olBand
	level         []olLevel   // parts along a row, from the supply
	upright       []olUpright // parts between two rows
	nodes         []olNode
	at            map[string]int // index in nodes of the first spot
	lie           lying          // where the probes lie that touch nothing
}

// olBand is one line of columns; a drawing has more than one where there is
// little room.
type olBand struct {
	columns     []olColumn
	top         float64
	left, right float64 // where wires that go on enter and leave
	rows        []olRow // wires, from the top
	bars        []olBar // body, spike and earth
}

type olColumn struct {
	index  int // in the planner's groups
	title  string
	x0, x1 float64
	lanes  []float64 // the middle of each
}

type olRow struct {
	wire string
	y    float64
	used bool // something stands on it in this band
}

type olBar struct {
	node      string
	level     int // of the bars, from the highest
	y, x0, x1 float64
}

type olNode struct {
	name  string
	at    Point   // where a probe touches; the voltage stands above
	x1    float64 // right end of its bus
	wire  string
	bar   bool
	probe bool // a test point, with its voltage
}

type olLevel struct {
	part    rig.Part
	pieces  [][]Point // from the left to the right
	forward bool      // A is the left end
	mid     Point     // where the symbol stands
	row     int
	ink     Role
}

type olUpright struct {
	part      rig.Part
	top, foot Point
	down      bool // A is the upper end
	ink       Role
}

// Spot is where a node can be touched in the drawing.
type Spot struct {
	Node string
	At   Point
}

// Spots lists the nodes as they stand, from the supply to the vehicle. A bar
// that is drawn in more than one band has a spot in each.
func (o *Oneline) Spots() []Spot {
	out := make([]Spot, 0, len(o.nodes))
	for _, n := range o.nodes {
		out = append(out, Spot{n.name, n.at})
	}
	return out
}

// Nearest is the node whose spot is nearest to a point and not farther than
// reach.
func (o *Oneline) Nearest(at Point, reach float64) (node string, ok bool) {
	best := reach
	for _, n := range o.nodes {
		d := math.Hypot(n.at.X-at.X, n.at.Y-at.Y)
		if n.bar && at.X >= n.at.X && at.X <= n.x1 || !n.bar && at.X >= n.at.X && at.X <= n.at.X+24 {
			d = math.Abs(n.at.Y - at.Y)
		}
		if d <= best {
			best, node, ok = d, n.name, true
		}
	}
	return node, ok
}
