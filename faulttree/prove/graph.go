package prove

import (
	"maps"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// exitKind says which of a step's exits an edge is.
type exitKind uint8

const (
	byBranch exitKind = iota
	byRow
	byChoice
	byAct
	byOverRange
	byNotPossible
	byNotApplicable
	byThen
)

// edge is an exit with the node it leads to; to is -1 where there is none.
type edge struct {
	faulttree.Exit
	kind  exitKind
	index int // of the branch, row or choice
	to    int
}

// node is a step with its exits resolved.
type node struct {
	step  *faulttree.Step
	tree  *faulttree.Tree
	edges []edge // in document order, then last
}

// graph is every step of a forest as nodes: trees by id, steps in document
// order. It relies on no lookup of the trees themselves.
type graph struct {
	trees  []*faulttree.Tree
	nodes  []node
	index  map[faulttree.Ref]int
	starts []int // the trees' first steps
	jumps  []int // where danger limits send supplied readings
	looks  int   // at exits, that following ways may still cost
}

func newGraph(f *faulttree.Forest) graph {
	g := graph{index: map[faulttree.Ref]int{}}
	for _, id := range f.IDs() {
		t := f.Trees[id]
		if t == nil {
			continue
		}
		g.trees = append(g.trees, t)
		for _, s := range t.Steps {
			if s == nil {
				continue
			}
			g.index[faulttree.Ref{Tree: t.ID, Step: s.ID}] = len(g.nodes)
			g.nodes = append(g.nodes, node{step: s, tree: t})
		}
	}
	for i := range g.nodes {
		g.connect(&g.nodes[i])
	}
	for _, t := range g.trees {
		if i, ok := g.index[faulttree.Ref{Tree: t.ID, Step: t.Start}]; ok {
			g.starts = append(g.starts, i)
		}
		g.jumps = append(g.jumps, g.jumpTargets(t)...)
	}
	return g
}

func (g *graph) connect(n *node) {
	s := n.step
	add := func(e faulttree.Exit, kind exitKind, index int) {
		to, ok := g.index[e.To]
		if !ok || !e.Set() {
			to = -1
		}
		n.edges = append(n.edges, edge{e, kind, index, to})
	}
	optional := func(e faulttree.Exit, kind exitKind) {
		if e.Set() {
			add(e, kind, 0)
		}
	}
	switch s.Kind {
	case faulttree.KindMeasure:
		for i, b := range s.Branches {
			add(b.Exit, byBranch, i)
		}
		optional(s.OverRange, byOverRange)
		optional(s.NotPossible, byNotPossible)
		optional(s.NotApplicable, byNotApplicable)
	case faulttree.KindChart:
		if s.Chart != nil {
			for i, r := range s.Chart.Rows {
				add(r.Exit, byRow, i)
			}
		}
		optional(s.NotPossible, byNotPossible)
		optional(s.NotApplicable, byNotApplicable)
	case faulttree.KindObserve:
		for i, c := range s.Choices {
			add(c.Exit, byChoice, i)
		}
	case faulttree.KindAct:
		add(s.Act.Exit, byAct, 0)
	}
	if s.Recheck > 0 {
		optional(s.Then, byThen)
	}
}

// jumpTargets are the steps at which readings supplied in advance meet the
// danger limits of t: per quantity the first step open to anyone that measures
// it, one that asks nothing else with it before others.
func (g *graph) jumpTargets(t *faulttree.Tree) []int {
	first := map[string]*faulttree.Step{}
	for _, s := range t.Steps {
		if !open(s) {
			continue
		}
		for _, v := range s.Measure {
			known := first[v.Quantity.ID]
			if known == nil || asksSeveral(known) && !asksSeveral(s) {
				first[v.Quantity.ID] = s
			}
		}
	}
	var out []int
	for _, id := range slices.Sorted(maps.Keys(t.Danger)) {
		if s := first[id]; s != nil {
			out = append(out, g.index[s.Ref()])
		}
	}
	return out
}

// asksSeveral reports whether s takes several readings at once; a chart asks one
// after the other.
func asksSeveral(s *faulttree.Step) bool {
	return s.Kind == faulttree.KindMeasure && len(s.Measure) > 1
}

// open reports whether s takes readings of anyone.
func open(s *faulttree.Step) bool { return s != nil && s.Reads() && s.For == faulttree.Owner }

// pos is the place of an exit of n, or the nearest that is known.
func (n *node) pos(e faulttree.Exit) source.Pos { return firstValid(e.Pos, n.step.Pos, n.tree.Pos) }

// provesSpike reports whether n reads what proves the spike, whatever branch is
// taken: not one that facts may rule out of several.
func (n *node) provesSpike() bool {
	return n.step.Kind == faulttree.KindMeasure && slices.ContainsFunc(n.step.Measure, func(v faulttree.Variable) bool {
		return v.Quantity.Proves == faulttree.ProvesSpike && (len(n.step.Measure) == 1 || len(v.Quantity.Needs) == 0)
	})
}

// stops reports whether node i, on every entry, is a STOP or a DANGER finding: a
// STOP with a recheck passes the walk on once that has run out.
func (g *graph) stops(i int) bool { return g.stopsWithin(i, len(g.nodes)) }

func (g *graph) stopsWithin(i, steps int) bool {
	if i < 0 || steps < 0 {
		return false
	}
	s := g.nodes[i].step
	switch {
	case s.Kind == faulttree.KindFinding:
		return s.Finding.Signal == faulttree.Danger
	case !s.Stop():
		return false
	case s.Recheck == 0:
		return true
	}
	then := slices.IndexFunc(g.nodes[i].edges, func(e edge) bool { return e.kind == byThen })
	return then >= 0 && g.stopsWithin(g.nodes[i].edges[then].to, steps-1)
}

// reachable is a breadth-first search from roots along the edges that follow
// allows. from[i] is the node before i, i itself for a root, -1 if i is not
// reached.
func (g *graph) reachable(roots []int, follow func(n *node, e edge) bool) (from []int) {
	from = make([]int, len(g.nodes))
	for i := range from {
		from[i] = -1
	}
	g.looks -= len(g.nodes)
	queue := make([]int, 0, len(g.nodes))
	for _, r := range roots {
		if from[r] < 0 {
			from[r] = r
			queue = append(queue, r)
		}
	}
	for k := 0; k < len(queue); k++ {
		n := &g.nodes[queue[k]]
		g.looks -= len(n.edges)
		for _, e := range n.edges {
			if e.to >= 0 && from[e.to] < 0 && follow(n, e) {
				from[e.to] = queue[k]
				queue = append(queue, e.to)
			}
		}
	}
	return from
}

// pathWords is the path by which flood reached i, in words; long ones lose their
// middle.
func (g *graph) pathWords(from []int, i int) string {
	var ids []string
	for {
		ids = append(ids, g.nodes[i].step.ID)
		if from[i] == i || from[i] < 0 {
			break
		}
		i = from[i]
	}
	var out string
	for k := len(ids) - 1; k >= 0; k-- {
		if len(ids) > 8 && k < len(ids)-4 && k >= 3 {
			if k == 3 {
				out += ", …"
			}
			continue
		}
		if out != "" {
			out += ", "
		}
		out += ids[k]
	}
	return out
}

// rootOf is the root from which flood reached i.
func rootOf(from []int, i int) int {
	for from[i] != i {
		i = from[i]
	}
	return i
}
