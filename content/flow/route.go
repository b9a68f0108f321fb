package flow

import (
	"cmp"
	"slices"

	"faultwright/content/figure"
)

const (
	trackGap  = 12.0
	spaceHead = 14.0 // above the first line between two levels
	spaceFoot = 22.0 // below the last, for the heads of arrows

	mostSwaps = 20000 // pairs looked at for few crossings between two levels
)

// span is a line across the space between two levels.
type span struct {
	net          int
	upper, lower []float64
	from, to     float64
}

// over is how bad it is if s lies above t: how often their lines cross, and far more
// where the end of one would lie on that of the other.
func (s span) over(t span) int {
	const upon = 1000
	n := 0
	for _, x := range t.upper {
		if s.from < x && x < s.to {
			n++
		}
		for _, y := range s.lower {
			if x-y < apart && y-x < apart {
				n += upon
			}
		}
	}
	for _, x := range s.lower {
		if t.from < x && x < t.to {
			n++
		}
	}
	return n
}

// sift moves each line to where between the others the fewest cross, until none gets
// better or enough was looked at.
func sift(out []span) {
	for range min(len(out), mostSwaps/max(len(out)*len(out), 1)+1) {
		better := false
		for i := range out {
			best, most := i, 0
			for gain, j := 0, i-1; j >= 0; j-- {
				if gain += out[j].over(out[i]) - out[i].over(out[j]); gain > most {
					best, most = j, gain
				}
			}
			for gain, j := 0, i+1; j < len(out); j++ {
				if gain += out[i].over(out[j]) - out[j].over(out[i]); gain > most {
					best, most = j, gain
				}
			}
			if most > 0 {
				moved := out[i]
				out = slices.Insert(slices.Delete(out, i, i+1), best, moved)
				better = true
			}
		}
		if !better {
			return
		}
	}
}

// spans lists the lines across the space above a level, in an order in which few
// cross.
func (l *layer) spans(v int) []span {
	byNet := map[int]*span{}
	var nets []int
	of := func(e end) *span {
		if byNet[e.net] == nil {
			byNet[e.net] = &span{net: e.net, from: e.x, to: e.x}
			nets = append(nets, e.net)
		}
		s := byNet[e.net]
		s.from, s.to = min(s.from, e.x), max(s.to, e.x)
		return s
	}
	upper, lower := l.ends(v)
	for _, e := range upper {
		s := of(e)
		s.upper = append(s.upper, e.x)
	}
	for _, e := range lower {
		if it := l.levels[v][e.place]; !it.passes && byNet[e.net] == nil && l.pass(v, e.net) < 0 {
			continue // nothing leads to it
		}
		s := of(e)
		s.lower = append(s.lower, e.x)
	}
	out := make([]span, len(nets))
	for i, net := range nets {
		out[i] = *byNet[net]
	}
	slices.SortStableFunc(out, func(a, b span) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to)) })
	sift(out)
	return out
}

// stack gives every level its height, and every line between them.
func (l *layer) stack() {
	y := margin
	for v := range len(l.levels) + 1 {
		all := l.spans(v)
		tracks, most := make([]int, len(all)), 0
		for i, s := range all {
			for j, t := range all[:i] {
				if s.from < t.to+trackGap && t.from < s.to+trackGap {
					tracks[i] = max(tracks[i], tracks[j]+1)
				}
			}
			most = max(most, tracks[i]+1)
		}
		at := map[int]float64{}
		for i, s := range all {
			at[s.net] = y + spaceHead + trackGap*float64(tracks[i])
		}
		l.tracks = append(l.tracks, at)
		if len(all) > 0 {
			y += spaceHead + trackGap*float64(most) + spaceFoot
		}
		if v == len(l.levels) {
			break
		}
		high := 0.0
		for _, it := range l.levels[v] {
			if !it.passes {
				high = max(high, l.clusters[it.node].height)
			}
		}
		l.top, l.high = append(l.top, y), append(l.high, high)
		y += high
	}
	l.top = append(l.top, y)
}

// layout puts everything where it was found to stand.
func (l *layer) layout() Layout {
	out := Layout{Graph: l.g, Height: l.top[len(l.levels)] + margin}
	l.place = make([]int, len(l.clusters))
	origin := make([]figure.Point, len(l.clusters))
	for v, level := range l.levels {
		for k, it := range level {
			out.Width = max(out.Width, it.x+it.width-itemGap+margin)
			if it.passes {
				out.Badges = append(out.Badges, Badge{figure.Point{X: it.x + it.line, Y: l.top[v] + 2*ringSize}, it.node})
				continue
			}
			l.place[it.node] = k
			origin[it.node] = figure.Point{X: it.x, Y: l.top[v]}
		}
	}
	for i, u := range l.clusters {
		out.Boxes = append(out.Boxes, u.step.moved(origin[i].X, origin[i].Y))
	}
	for i, u := range l.clusters {
		first := len(out.Boxes)
		for _, p := range u.plates {
			p.Beside = i
			out.Boxes = append(out.Boxes, p.moved(origin[i].X, origin[i].Y))
		}
		for _, link := range u.links {
			link.Row, link.From, link.To = link.From, i, link.To+first
			points := slices.Clone(link.Points)
			for k := range points {
				points[k] = points[k].Add(origin[i].X, origin[i].Y)
			}
			link.Points = straight(points)
			out.Lines = append(out.Lines, link)
		}
		for r, row := range l.g.Nodes[i].Rows {
			if to := row.To; l.g.Nodes[to].Step() && to != i {
				y := out.Boxes[i].Rows[r].middle()
				points := append([]figure.Point{{X: out.Boxes[i].Left, Y: y}, {X: origin[i].X + u.lanes[to], Y: y}}, l.way(i, to)...)
				out.Lines = append(out.Lines, Line{Points: straight(points), From: i, To: to, Row: r, Walked: row.Walked})
			}
		}
	}
	return out
}

// way is the line from the lane of a step to the top of another, space by space.
func (l *layer) way(from, to int) []figure.Point {
	v := l.level[from] + 1 // the space below it
	x := l.levels[l.level[from]][l.place[from]].x + l.clusters[from].lanes[to]
	var out []figure.Point
	across := func(next float64) {
		y := l.tracks[v][to]
		out = append(out, figure.Point{X: x, Y: y}, figure.Point{X: next, Y: y})
		x = next
	}
	past := func(level int) float64 {
		it := l.levels[level][l.pass(level, to)]
		return it.x + it.line
	}
	for v < l.level[to] {
		across(past(v))
		v++
	}
	for v > l.level[to] {
		across(past(v - 1))
		v--
	}
	end := l.levels[v][l.place[to]]
	across(end.x + end.line)
	return append(out, figure.Point{X: x, Y: l.top[v]})
}

// straight leaves out points that lie on the line between their neighbours.
func straight(points []figure.Point) []figure.Point {
	var out []figure.Point
	for _, p := range points {
		if n := len(out); n > 0 && out[n-1] == p {
			continue
		}
		if n := len(out); n > 1 && (out[n-2].X == out[n-1].X && out[n-1].X == p.X || out[n-2].Y == out[n-1].Y && out[n-1].Y == p.Y) {
			out[n-1] = p
			continue
		}
		out = append(out, p)
	}
	return out
}
