package flow

import (
	"cmp"
	"slices"

	"faultwright/content/figure"
)

// Options of a layout. The zero value is a wide page.
type Options struct {
	// Columns is how many steps may stand side by side; 0 for as many as
	// [DefaultColumns].
	Columns int
}

// DefaultColumns is how many steps stand side by side at most where nothing else is
// asked for.
const DefaultColumns = 3

// Layout is a graph with a place for every node and line.
type Layout struct {
	Graph         Graph
	Width, Height float64
	Boxes         []Box // the steps in the order of the graph, then the plates
	Lines         []Line
	Badges        []Badge
}

// Line is the way from a row to a plate, or on to a step.
type Line struct {
	Points   []figure.Point
	From, To int // indexes of boxes
	Row      int // of the box it comes from
	Walked   bool
}

// Badge is a number on a line that goes past other steps.
type Badge struct {
	At   figure.Point
	Node int
}

const (
	margin   = 24.0
	passRoom = 32.0 // beside the boxes, for a line that goes past
	ringSize = 11.0 // radius of a badge
	itemGap  = 26.0
)

// item is what stands side by side on a level: a cluster, or a line that goes past.
type item struct {
	node   int // the step, or the one that the line leads to
	passes bool
	x      float64 // of its left edge
	width  float64
	line   float64 // of a line that goes past, and of the way into a step: where it is, from the left edge
}

// layer lays out a graph, level by level.
type layer struct {
	g        Graph
	widths   widths
	clusters []cluster
	onward   [][]int // by step, the steps that its rows lead to
	level    []int   // of each step
	levels   [][]item
	place    []int // of each step on its level
	top      []float64
	high     []float64
	tracks   []map[int]float64 // above each level, and below the last: height of the line to each step
}

// Lay gives every node of a graph its place.
func Lay(g Graph, o Options) Layout {
	columns := cmp.Or(max(o.Columns, 0), DefaultColumns)
	l := &layer{g: g, widths: ordinary}
	if columns == 1 {
		l.widths = slim
	}
	for i, n := range g.Nodes {
		if n.Step() {
			l.clusters = append(l.clusters, g.cluster(i, l.widths))
			l.onward = append(l.onward, stepsOf(g.Nodes, i))
		}
	}
	l.level = bounded(g.Nodes, len(l.clusters), columns)
	l.fill()
	if columns == 1 {
		l.strip()
	} else {
		for range 6 {
			l.sort(false)
			l.sort(true)
		}
		l.spreadOut()
	}
	l.align()
	l.stack()
	return l.layout()
}

// bounded is a level for each of the steps, so that no level has more than so many.
func bounded(nodes []Node, steps, columns int) []int {
	out, count := make([]int, steps), make([]int, steps+1)
	above := make([][]int, steps)
	for i := range steps {
		for _, to := range stepsOf(nodes, i) {
			if nodes[to].Level > nodes[i].Level {
				above[to] = append(above[to], i)
			}
		}
	}
	for i := range steps {
		for _, from := range above[i] {
			out[i] = max(out[i], out[from]+1)
		}
		for count[out[i]] >= columns {
			out[i]++
		}
		count[out[i]]++
	}
	return out
}

// passed are the levels that the way from one step to another goes past. A way back
// up goes past its own level and that of its end.
func (l *layer) passed(from, to int) (first, last int) {
	if l.level[to] > l.level[from] {
		return l.level[from] + 1, l.level[to] - 1
	}
	return l.level[to], l.level[from]
}

// fill puts on every level its steps and the lines that go past them.
func (l *layer) fill() {
	most := 0
	for _, v := range l.level {
		most = max(most, v)
	}
	l.levels = make([][]item, most+1)
	for i, u := range l.clusters {
		v := l.level[i]
		l.levels[v] = append(l.levels[v], item{node: i, width: u.width + itemGap, line: u.step.Left + 2*laneGap})
	}
	for i := range l.clusters {
		for _, to := range l.onward[i] {
			first, last := l.passed(i, to)
			for v := first; v <= last; v++ {
				if l.pass(v, to) < 0 {
					l.levels[v] = append(l.levels[v], item{node: to, passes: true, width: passRoom, line: passRoom / 2})
				}
			}
		}
	}
}

// pass is the place on a level of the line that goes past it to a step, -1 for none.
func (l *layer) pass(level, to int) int {
	return slices.IndexFunc(l.levels[level], func(it item) bool { return it.passes && it.node == to })
}

// end is a point at which a line comes to the space between two levels: from above or
// from below.
type end struct {
	net   int // the step that the line leads to
	place int // of the item on its level
	x     float64
}

// ends lists where lines come into the space above a level, from the level before and
// into this one.
func (l *layer) ends(v int) (upper, lower []end) {
	if v > 0 {
		for k, it := range l.levels[v-1] {
			if it.passes {
				upper = append(upper, end{it.node, k, it.x + it.line})
				continue
			}
			for _, to := range l.onward[it.node] {
				upper = append(upper, end{to, k, it.x + l.clusters[it.node].lanes[to]})
			}
		}
	}
	if v < len(l.levels) {
		for k, it := range l.levels[v] {
			lower = append(lower, end{it.node, k, it.x + it.line})
		}
	}
	return upper, lower
}

// sort orders every level by where its lines come from, downwards or upwards.
func (l *layer) sort(up bool) {
	for k := 1; k < len(l.levels); k++ {
		v := k
		if up {
			v = len(l.levels) - 1 - k
		}
		upper, lower := l.ends(v)
		mine, theirs := lower, upper
		if up {
			upper, lower = l.ends(v + 1)
			mine, theirs = upper, lower
		}
		weight := make([]float64, len(l.levels[v]))
		for i := range weight {
			weight[i] = float64(i)
		}
		means(weight, mine, theirs, func(_, t end) float64 { return float64(t.place) })
		order := make([]int, len(weight))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(weight[i], weight[j]) })
		sorted := make([]item, len(order))
		for i, from := range order {
			sorted[i] = l.levels[v][from]
		}
		l.levels[v] = sorted
	}
}

// means puts in the place of each item that a line joins with others the mean of what
// is wanted for it by these.
func means(of []float64, mine, theirs []end, wanted func(mine, theirs end) float64) {
	byNet := map[int][]end{}
	for _, t := range theirs {
		byNet[t.net] = append(byNet[t.net], t)
	}
	sums, counts := make([]float64, len(of)), make([]float64, len(of))
	for _, m := range mine {
		for _, t := range byNet[m.net] {
			sums[m.place] += wanted(m, t)
			counts[m.place]++
		}
	}
	for i := range of {
		if counts[i] > 0 {
			of[i] = sums[i] / counts[i]
		}
	}
}

// spreadOut gives every item its left edge, near to what it is joined with.
func (l *layer) spreadOut() {
	for v := range l.levels {
		x := 0.0
		for i := range l.levels[v] {
			l.levels[v][i].x = x
			x += l.levels[v][i].width
		}
	}
	for range 8 {
		for v := 1; v < len(l.levels); v++ {
			upper, lower := l.ends(v)
			l.pull(v, lower, upper)
		}
		for v := len(l.levels) - 2; v >= 0; v-- {
			upper, lower := l.ends(v + 1)
			l.pull(v, upper, lower)
		}
	}
	low := 0.0
	for _, level := range l.levels {
		if len(level) > 0 {
			low = min(low, level[0].x)
		}
	}
	for v := range l.levels {
		for i := range l.levels[v] {
			l.levels[v][i].x += margin - low
		}
	}
}

// strip puts the steps of a layout of one column under one another, and every line
// that goes past them straight, in a lane of its own left of them. The shortest lie
// next to the steps.
func (l *layer) strip() {
	type way struct{ net, first, last, lane int }
	ways := map[int]*way{}
	var order []*way
	for v, level := range l.levels {
		for _, it := range level {
			if it.passes && ways[it.node] == nil {
				ways[it.node] = &way{net: it.node, first: v}
				order = append(order, ways[it.node])
			}
			if it.passes {
				ways[it.node].last = v
			}
		}
	}
	slices.SortStableFunc(order, func(a, b *way) int { return cmp.Compare(a.last-a.first, b.last-b.first) })
	most := 0
	for i, w := range order {
		for _, other := range order[:i] {
			if other.first <= w.last+1 && w.first <= other.last+1 {
				w.lane = max(w.lane, other.lane+1)
			}
		}
		most = max(most, w.lane+1)
	}
	for v := range l.levels {
		for i := range l.levels[v] {
			it := &l.levels[v][i]
			it.x = margin + passRoom*float64(most)
			if it.passes {
				it.x -= passRoom * float64(ways[it.node].lane+1)
			}
		}
	}
}

// pull moves the items of a level towards the other ends of their lines.
func (l *layer) pull(v int, mine, theirs []end) {
	level := l.levels[v]
	wanted, sizes := make([]float64, len(level)), make([]float64, len(level))
	for i, it := range level {
		wanted[i], sizes[i] = it.x, it.width
	}
	means(wanted, mine, theirs, func(m, t end) float64 { return t.x - (m.x - level[m.place].x) })
	for i, x := range spread(wanted, sizes, -1e9) {
		level[i].x = x
	}
}

// align moves the lines into a level, each within its room, so that none lies over a
// line of another way from above; where it can, it goes straight on.
func (l *layer) align() {
	for v := range l.levels {
		upper, _ := l.ends(v)
		for i := range l.levels[v] {
			it := &l.levels[v][i]
			low, high := it.line-passRoom/2+ringSize, it.line+passRoom/2-ringSize
			if !it.passes {
				box := l.clusters[it.node].step
				low, high = box.Left+2*laneGap, box.Left+l.widths.box-2*laneGap
			}
			free := func(line float64) bool {
				return line >= low && line <= high && !slices.ContainsFunc(upper, func(u end) bool {
					d := u.x - it.x - line
					return u.net != it.node && d < apart && -d < apart
				})
			}
			tries := []float64{}
			for _, u := range upper {
				if u.net == it.node {
					tries = append(tries, u.x-it.x)
				}
			}
			for d := 0.0; d <= high-low; d++ {
				tries = append(tries, it.line+d, it.line-d)
			}
			if k := slices.IndexFunc(tries, free); k >= 0 {
				it.line = tries[k]
			}
		}
	}
}
