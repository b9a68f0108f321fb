package flow

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"faultwright/content/figure"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// eachLayout lays out every tree of the handbook and some tangles, in one column and in
// several.
func eachLayout(t *testing.T, do func(name string, l Layout)) {
	graphs := []Graph{tangle(12, 2), tangle(30, 3), tangle(40, 6)}
	lib := load.Shipped()
	for _, id := range lib.Forest.IDs() {
		graphs = append(graphs, graphOf(t, lib, id))
	}
	for _, g := range graphs {
		for _, columns := range []int{1, 2, 3, 5} {
			do(fmt.Sprintf("%s in %d columns", g.Title, columns), Lay(g, Options{Columns: columns}))
		}
	}
}

// tangle is a graph whose rows lead anywhere, upwards as well, and to themselves.
func tangle(steps, rows int) Graph {
	g := Graph{Tree: "tangle", Title: fmt.Sprintf("a tangle of %d steps", steps)}
	r := rand.New(rand.NewPCG(1, uint64(steps)))
	for i := range steps {
		n := Node{Kind: Observe, Number: i + 1, Level: i / 3, Title: fmt.Sprintf("Step %d", i+1)}
		for range rows {
			n.Rows = append(n.Rows, Row{Words: "a choice", To: r.IntN(steps + 1)})
		}
		g.Nodes = append(g.Nodes, n)
	}
	g.Nodes = append(g.Nodes, Node{Kind: Finding, Title: "A finding"})
	return g
}

// piece is a straight part of a line, and what the line leads to: a line to a plate
// by its box, a line on to a step by its box as well.
type piece struct {
	a, b figure.Point
	to   int
}

func pieces(l Layout) []piece {
	var out []piece
	for _, line := range l.Lines {
		for i := 1; i < len(line.Points); i++ {
			out = append(out, piece{line.Points[i-1], line.Points[i], line.To})
		}
	}
	return out
}

// inner is a box without its edge.
func inner(b figure.Box) figure.Box {
	return figure.Box{Left: b.Left + 0.5, Top: b.Top + 0.5, Right: b.Right - 0.5, Bottom: b.Bottom - 0.5}
}

func meet(a, b figure.Box) bool {
	return a.Left < b.Right && b.Left < a.Right && a.Top < b.Bottom && b.Top < a.Bottom
}

// around is the box of an upright or level piece.
func (p piece) around() figure.Box {
	return figure.Box{Left: min(p.a.X, p.b.X), Top: min(p.a.Y, p.b.Y), Right: max(p.a.X, p.b.X), Bottom: max(p.a.Y, p.b.Y)}
}

// crosses reports whether a piece runs through a box.
func (p piece) crosses(b figure.Box) bool {
	o := p.around()
	return o.Left < b.Right && b.Left < o.Right && o.Top <= b.Bottom && b.Top <= o.Bottom ||
		o.Left <= b.Right && b.Left <= o.Right && o.Top < b.Bottom && b.Top < o.Bottom
}

func TestLinesRunThroughNoBox(t *testing.T) {
	eachLayout(t, func(name string, l Layout) {
		for _, p := range pieces(l) {
			if p.a.X != p.b.X && p.a.Y != p.b.Y {
				t.Errorf("%s: a line to %q is neither upright nor level", name, l.Graph.Nodes[l.Boxes[p.to].Node].Title)
			}
			for _, b := range l.Boxes {
				if p.crosses(inner(b.Box)) {
					t.Errorf("%s: a line to %q runs through %q", name, l.Graph.Nodes[l.Boxes[p.to].Node].Title, l.Graph.Nodes[b.Node].Title)
				}
			}
		}
	})
}

// Two lines may cross, and lines to one step join; lines that lead elsewhere never lie
// on one another, so that each can be followed.
func TestLinesThatLeadElsewhereStayApart(t *testing.T) {
	const least = 4.0
	eachLayout(t, func(name string, l Layout) {
		all := pieces(l)
		for i, p := range all {
			for _, q := range all[:i] {
				if p.to == q.to || (p.a.X == p.b.X) != (q.a.X == q.b.X) {
					continue
				}
				a, b := p.around(), q.around()
				alongX, alongY := min(a.Right, b.Right)-max(a.Left, b.Left), min(a.Bottom, b.Bottom)-max(a.Top, b.Top)
				if max(alongX, alongY) > least && min(alongX, alongY) > -least {
					t.Errorf("%s: lines to %q and %q lie on one another at %v", name,
						l.Graph.Nodes[l.Boxes[p.to].Node].Name(), l.Graph.Nodes[l.Boxes[q.to].Node].Name(), p.a)
				}
			}
		}
	})
}

func TestBoxesAndWordsStayApart(t *testing.T) {
	eachLayout(t, func(name string, l Layout) {
		for i, b := range l.Boxes {
			if b.Left < 0 || b.Top < 0 || b.Right > l.Width || b.Bottom > l.Height {
				t.Errorf("%s: %q lies outside the drawing", name, l.Graph.Nodes[b.Node].Title)
			}
			for _, c := range l.Boxes[:i] {
				if meet(b.Box, c.Box) {
					t.Errorf("%s: %q lies over %q", name, l.Graph.Nodes[b.Node].Title, l.Graph.Nodes[c.Node].Title)
				}
			}
			for k, text := range b.texts {
				o := text.Bounds()
				if o.Left < b.Left || o.Top < b.Top || o.Right > b.Right+1 || o.Bottom > b.Bottom+1 {
					t.Errorf("%s: %q runs out of its box", name, text.Value)
				}
				for _, other := range b.texts[:k] {
					if meet(o, other.Bounds()) {
						t.Errorf("%s: %q lies over %q", name, text.Value, other.Value)
					}
				}
				for _, s := range b.signs {
					if meet(o, s.Box) && text.Value != s.signal.Word() {
						t.Errorf("%s: %q lies over a signal word", name, text.Value)
					}
				}
			}
		}
	})
}

// A number on a line covers that line only.
func TestBadgesCoverTheirOwnLineOnly(t *testing.T) {
	eachLayout(t, func(name string, l Layout) {
		all := pieces(l)
		for i, b := range l.Badges {
			ring := figure.Box{Left: b.At.X - ringSize, Top: b.At.Y - ringSize, Right: b.At.X + ringSize, Bottom: b.At.Y + ringSize}
			on := false
			for _, p := range all {
				if p.crosses(ring) && l.Boxes[p.to].Node == b.Node {
					on = true
				} else if p.crosses(ring) {
					t.Errorf("%s: badge %d covers a line to %q", name, l.Graph.Nodes[b.Node].Number, l.Graph.Nodes[l.Boxes[p.to].Node].Name())
				}
			}
			if !on {
				t.Errorf("%s: badge %d is on no line of its own", name, l.Graph.Nodes[b.Node].Number)
			}
			for _, box := range l.Boxes {
				if meet(ring, box.Box) {
					t.Errorf("%s: badge %d covers %q", name, l.Graph.Nodes[b.Node].Number, l.Graph.Nodes[box.Node].Title)
				}
			}
			for _, other := range l.Badges[:i] {
				if math.Hypot(other.At.X-b.At.X, other.At.Y-b.At.Y) < 2*ringSize {
					t.Errorf("%s: badges %d and %d overlap", name, l.Graph.Nodes[b.Node].Number, l.Graph.Nodes[other.Node].Number)
				}
			}
		}
	})
}

// Every exit of every step is drawn: to a plate that says where it leads, and on to
// the step if it is one of the tree.
func TestEveryExitIsDrawn(t *testing.T) {
	eachLayout(t, func(name string, l Layout) {
		type way struct{ node, row, to int }
		plates, steps := map[way]bool{}, map[way]bool{}
		for _, line := range l.Lines {
			from, to := l.Boxes[line.From], l.Boxes[line.To]
			w := way{from.Node, line.Row, to.Node}
			first, last := line.Points[0], line.Points[len(line.Points)-1]
			if band := from.Rows[line.Row]; first.Y < band.Top || first.Y > band.Bottom || first.X != from.Left && first.X != from.Right {
				t.Errorf("%s: a line does not begin at its row, in %q", name, l.Graph.Nodes[from.Node].Title)
			}
			if to.Beside < 0 {
				steps[w] = true
				if last.Y != to.Top || last.X < to.Left || last.X > to.Right {
					t.Errorf("%s: a line does not end at the top of %q", name, l.Graph.Nodes[to.Node].Title)
				}
				continue
			}
			plates[w] = true
			if last.X != to.Left || last.Y < to.Top || last.Y > to.Bottom || to.Beside != line.From {
				t.Errorf("%s: a line does not end at the plate %q", name, l.Graph.Nodes[to.Node].Title)
			}
		}
		for i, n := range l.Graph.Nodes {
			for r, row := range n.Rows {
				w := way{i, r, row.To}
				if !plates[w] || l.Graph.Nodes[row.To].Step() && row.To != i && !steps[w] {
					t.Errorf("%s: %q does not lead to %q", name, n.Title, l.Graph.Nodes[row.To].Title)
				}
			}
		}
	})
}

func BenchmarkLargestTree(b *testing.B) {
	lib := load.Shipped()
	largest := ""
	most := 0
	for _, id := range lib.Forest.IDs() {
		if n := len(lib.Forest.Trees[id].Steps); n > most {
			largest, most = id, n
		}
	}
	b.Log(largest)
	for b.Loop() {
		Lay(must.Have(Of(lib, largest, faulttree.Unknown))(b), Options{})
	}
}

// The most that is drawn takes no more than a second.
func BenchmarkMost(b *testing.B) {
	g := tangle(mostSteps, mostRows/mostSteps)
	for b.Loop() {
		Lay(g, Options{})
	}
}
