package flow

import (
	"cmp"
	"slices"

	"faultwright/content/figure"
	"faultwright/faulttree/lists"
)

// Spaces between what is drawn, in units of the drawing.
const (
	laneGap  = 14.0 // between lines side by side
	linkGap  = 8.0  // between lines from rows to plates
	plateGap = 8.0
	apart    = 6.0 // that lines of different ways keep at least
)

// cluster is a step with its plates and the lines between them, from the left: a lane
// down for each step that it leads to, the box, the plates.
type cluster struct {
	step   Box
	plates []Box
	links  []Line // From and To are rows and plates of the cluster
	lanes  map[int]float64
	width  float64
	height float64
}

// cluster lays out one step, its corner at 0, 0.
func (g Graph) cluster(i int, w widths) cluster {
	u := cluster{lanes: map[int]float64{}}
	x := laneGap
	for _, to := range stepsOf(g.Nodes, i) { // the uppermost row has the outermost lane
		u.lanes[to] = x
		x += laneGap
	}
	u.step = g.stepBox(i, w).moved(x, 0)
	var to []int
	for _, r := range g.Nodes[i].Rows {
		to = lists.With(to, r.To)
	}
	u.place(g, to, w)
	u.width = u.step.Right + laneGap
	u.height = u.step.Bottom
	for _, p := range u.plates {
		u.width, u.height = max(u.width, p.Right+laneGap), max(u.height, p.Bottom)
	}
	return u
}

// wire is the line from the rows of a cluster that lead to one plate.
type wire struct {
	rows []int
	ys   []float64 // of the rows
	port float64   // where it comes to the plate
	top  float64
	low  float64
	x    float64 // where it goes up or down
}

// place puts the plates beside their rows and draws the lines to them.
func (u *cluster) place(g Graph, to []int, size widths) {
	rows := g.Nodes[u.step.Node].Rows
	wires := make([]wire, len(to))
	heights, wanted := make([]float64, len(to)), make([]float64, len(to))
	for k, node := range to {
		p := g.plate(node, size)
		u.plates = append(u.plates, p)
		heights[k] = p.Bottom + plateGap
		for r, row := range rows {
			if row.To == node {
				wires[k].rows = append(wires[k].rows, r)
				wires[k].ys = append(wires[k].ys, u.step.Rows[r].middle())
			}
		}
		wanted[k] = wires[k].ys[0] - p.Bottom/2
	}
	tops := spread(wanted, heights, 0)
	for k := range wires {
		wires[k].reach(tops[k], tops[k]+u.plates[k].Bottom, wires)
	}
	tracks := trackWires(wires)
	left := u.step.Right + 2*linkGap + linkGap*float64(tracks)
	for k, w := range wires {
		u.plates[k] = u.plates[k].moved(left, tops[k])
		x := u.step.Right + linkGap + w.x*linkGap
		for i, r := range w.rows {
			u.links = append(u.links, Line{
				Points: []figure.Point{{X: u.step.Right, Y: w.ys[i]}, {X: x, Y: w.ys[i]}, {X: x, Y: w.port}, {X: left, Y: w.port}},
				From:   r, To: k, Walked: rows[r].Walked,
			})
		}
	}
}

// reach chooses where a wire comes to its plate: level with its first row where it
// can, and level with no row of another wire.
func (w *wire) reach(top, bottom float64, all []wire) {
	inside := func(y float64) float64 { return min(max(y, top+pad), bottom-pad) }
	free := func(y float64) bool {
		for i := range all {
			if &all[i] == w {
				continue
			}
			if slices.ContainsFunc(all[i].ys, func(other float64) bool { return other-y < apart && y-other < apart }) {
				return false
			}
		}
		return true
	}
	w.port = inside(w.ys[0])
	for _, step := range []float64{0, 1, -1, 2, -2, 3, -3, 4, -4} {
		if y := inside(w.ys[0]) + step*apart; y == inside(y) && free(y) {
			w.port = y
			break
		}
	}
	w.top, w.low = min(slices.Min(w.ys), w.port), max(slices.Max(w.ys), w.port)
}

// trackWires gives each wire the column in which it goes up or down, so that few
// cross, and returns how many columns there are. Those that go down stand the further
// right the higher they begin, those that go up the other way round.
func trackWires(wires []wire) int {
	order := make([]int, len(wires))
	for i := range order {
		order[i] = i
	}
	down := func(w wire) bool { return w.port >= w.ys[0] }
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := wires[i], wires[j]
		switch {
		case down(a) && down(b):
			return cmp.Compare(b.ys[0], a.ys[0])
		case !down(a) && !down(b):
			return cmp.Compare(a.ys[0], b.ys[0])
		case down(a):
			return -1
		}
		return 1
	})
	most := 0
	for k, i := range order {
		track := 0
		for _, j := range order[:k] {
			if wires[j].top <= wires[i].low+apart && wires[i].top <= wires[j].low+apart {
				track = max(track, int(wires[j].x)+1)
			}
		}
		wires[i].x = float64(track)
		most = max(most, track+1)
	}
	return most
}

// spread places things of some sizes one after another, each as near as can be to
// where it is wanted, none before low. It is least squares with the order kept: what
// would overlap is moved as a group.
func spread(wanted, sizes []float64, low float64) []float64 {
	type group struct {
		first, count int
		sum, size    float64 // of what its first is wanted at, and of the sizes
	}
	var groups []group
	at := func(g group) float64 { return max(g.sum/float64(g.count), low) }
	for i, w := range wanted {
		groups = append(groups, group{i, 1, w, sizes[i]})
		for n := len(groups); n > 1; n = len(groups) {
			a, b := groups[n-2], groups[n-1]
			if at(a)+a.size <= at(b) {
				break
			}
			groups = append(groups[:n-2], group{a.first, a.count + b.count, a.sum + b.sum - float64(b.count)*a.size, a.size + b.size})
		}
	}
	out := make([]float64, len(wanted))
	for _, g := range groups {
		y := at(g)
		for i := g.first; i < g.first+g.count; i++ {
			out[i] = y
			y += sizes[i]
		}
	}
	return out
}
