package figure

import (
	"slices"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// hanging is a part between rows and the column it hangs in.
type hanging struct {
	part        rig.Part
	column      int
	upper, foot int // rows; bars are rows below the wires
	down        bool
	lane        int
}

// planner makes an Oneline.
type planner struct {
	o       *Oneline
	parts   []rig.Part
	groups  []string
	wires   []string // row keys in order
	bars    []string // nodes without a wire, "0" last
	hung    []hanging
	lanes   [][]float64 // by column, the width of each lane
	present map[string]bool
	points  func(node string) bool
	listed  []string // columns that the rig names
	rows    olRows
}

func (pl *planner) row(node string) int {
	_, wire := splitNode(node)
	if wire == "" {
		return len(pl.wires) + slices.Index(pl.bars, node)
	}
	return slices.Index(pl.wires, rowKey(wire))
}

func (pl *planner) column(node string) int {
	g, wire := splitNode(node)
	if wire == "" {
		return -1
	}
	return slices.Index(pl.groups, g)
}

// OnelinePlan says what a one-line drawing is of.
type OnelinePlan struct {
	Rig    *rig.Rig
	Fault  *rig.Variant           // drawn where it is; nil for none
	Direct *bool                  // draw direct current alone, or alternating alone; nil draws all
	Loads  map[string]bool        // legs whose loads are on: those of 0 W otherwise are drawn then
	Points func(node string) bool // test points, which can be touched and show their voltage
	Width  float64                // room across, in units of which text has 12
	Near   bool                   // for probes alone: no room for voltages, and nothing farther off than the first test point is fed from
}

// NewOneline plans a drawing.
func NewOneline(o OnelinePlan) *Oneline {
	pl := &planner{o: &Oneline{rig: o.Rig, at: map[string]int{}}, present: map[string]bool{}, points: o.Points, listed: o.Rig.Columns, rows: olWide}
	pl.parts = visible(o.Rig, o.Fault, o.Loads, o.Direct)
	if o.Near {
		pl.rows = olNear
		pl.parts = nearParts(pl.parts, farGroups(o.Rig, o.Points))
	}
	for _, p := range pl.parts {
		pl.present[p.A], pl.present[p.B] = true, true
	}
	pl.o.step = pl.rows.wire
	pl.groups = slices.DeleteFunc(groupsOf(o.Rig, pl.parts), func(g string) bool { return g != "body" && !pl.grouped(g) })
	pl.findRows()
	pl.hang()
	pl.dealBands(o.Width)
	pl.placeNodes()
	pl.placeParts()
	if o.Near {
		pl.rest()
	}
	return pl.o
}

// farGroups are the columns of a rig that a learner at its test points never
// sees: all but the last before the first that has a test point.
func farGroups(r *rig.Rig, points func(string) bool) []string {
	first := slices.IndexFunc(r.Columns, func(g string) bool {
		return slices.ContainsFunc(r.Parts, func(p rig.Part) bool {
			a, _ := splitNode(p.A)
			b, _ := splitNode(p.B)
			return a == g && points(p.A) || b == g && points(p.B)
		})
	})
	return r.Columns[:max(first-1, 0)]
}

// nearParts is the parts that somebody at the test points has before them: not
// the site behind the pedestal, nor what lies in soil and insulation, but for the
// spike.
func nearParts(parts []rig.Part, far []string) []rig.Part {
	away := func(node string) bool {
		g, _ := splitNode(node)
		return slices.Contains(far, g) || g == "utility" || g == "0"
	}
	return slices.DeleteFunc(parts, func(p rig.Part) bool {
		if p.A == "earth" || p.B == "earth" {
			return false
		}
		return away(p.A) || away(p.B) || p.Kind == rig.Capacitance || p.Kind == rig.Source && (p.A == "soil" || p.B == "soil")
	})
}

// rest makes room for the probes that touch nothing: beside the bars where there
// are any, else below everything.
func (pl *planner) rest() {
	last := pl.o.bands[len(pl.o.bands)-1]
	if len(last.bars) == 0 {
		pl.o.height += 34
	}
	pl.o.lie = lying{Point{22, pl.o.height - 20}, Point{58, pl.o.height - 20}}
}

// grouped reports whether a node of a group is drawn.
func (pl *planner) grouped(group string) bool {
	for node := range pl.present {
		if g, wire := splitNode(node); g == group && wire != "" {
			return true
		}
	}
	return false
}

// findRows lists the wires and the bars that the rig has.
func (pl *planner) findRows() {
	var others []string
	has := map[string]bool{}
	for _, p := range pl.parts {
		for _, node := range []string{p.A, p.B} {
			_, wire := splitNode(node)
			if wire == "" {
				if !slices.Contains(pl.bars, node) && node != "0" && node != "body" {
					pl.bars = append(pl.bars, node)
				}
				continue
			}
			key := rowKey(wire)
			if !has[key] {
				has[key] = true
				others = append(others, key)
			}
		}
	}
	for _, same := range wireOrder {
		if has[same[0]] {
			pl.wires = append(pl.wires, same[0])
		}
	}
	for _, key := range others {
		pl.wires = lists.With(pl.wires, key)
	}
	if pl.present["body"] {
		pl.bars = slices.Insert(pl.bars, 0, "body")
	}
	if pl.present["0"] {
		pl.bars = append(pl.bars, "0")
	}
}

// hang gives every part between rows its column and its lane.
func (pl *planner) hang() {
	pl.lanes = make([][]float64, len(pl.groups))
	last := slices.Index(pl.groups, "body") // what hangs below the wires alone
	if last < 0 {
		last = len(pl.groups) - 1
	}
	for _, p := range pl.parts {
		a, b := pl.column(p.A), pl.column(p.B)
		if a >= 0 && b >= 0 && a != b {
			continue
		}
		h := hanging{part: p, column: max(a, b), upper: pl.row(p.A), foot: pl.row(p.B), down: true}
		if h.column < 0 {
			h.column = pl.nearBars(p, last)
		}
		if h.upper > h.foot {
			h.upper, h.foot, h.down = h.foot, h.upper, false
		}
		if h.upper == h.foot {
			continue
		}
		pl.hung = append(pl.hung, h)
	}
	slices.SortStableFunc(pl.hung, func(a, b hanging) int { return rank(a.part) - rank(b.part) })
	type taken struct{ upper, foot int }
	used := make([][][]taken, len(pl.groups))
	for i := range pl.hung {
		h := &pl.hung[i]
		c := h.column
		lane := 0
		for ; lane < len(used[c]); lane++ {
			free := !slices.ContainsFunc(used[c][lane], func(t taken) bool { return h.upper < t.foot && t.upper < h.foot })
			if free && laneWidth(h.part) <= pl.lanes[c][lane] {
				break
			}
		}
		if lane == len(used[c]) {
			used[c] = append(used[c], nil)
			pl.lanes[c] = append(pl.lanes[c], laneWidth(h.part))
		}
		used[c][lane] = append(used[c][lane], taken{h.upper, h.foot})
		h.lane = lane
	}
}

// nearBars is the column for a part between two bars: where something ties one
// of them to a wire, if that is one place only.
func (pl *planner) nearBars(p rig.Part, otherwise int) int {
	for _, bar := range []string{p.A, p.B} {
		if bar == "0" || bar == "body" {
			continue
		}
		for _, q := range pl.parts {
			if q.A == bar || q.B == bar {
				if c := max(pl.column(q.A), pl.column(q.B)); c >= 0 {
					return c
				}
			}
		}
	}
	return otherwise
}

// rank puts what gives before what takes, and ties last.
func rank(p rig.Part) int {
	switch p.Kind {
	case rig.Source, rig.Charger:
		return 0
	case rig.Load:
		if p.Always {
			return 2
		}
		return 1
	case rig.Capacitance, rig.Inductance:
		return 3
	case rig.Resistance:
		if joined(p) {
			return 6
		}
		return 4
	}
	return 5
}
