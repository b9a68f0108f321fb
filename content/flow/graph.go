package flow

import (
	"cmp"
	"fmt"
	"slices"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
)

// Kind is what a node stands for.
type Kind uint8

// The kinds of nodes.
const (
	Measure Kind = iota + 1
	Chart
	Observe
	Act
	Stop    // an act that ends all live work
	Finding // of this tree
	Door    // a step or finding of another tree
)

// String is a word for the kind, as it stands in a box.
func (k Kind) String() string {
	return [...]string{"", "Measure", "Chart", "Look", "Do", "STOP", "Finding", "Other walk"}[k]
}

// Graph is a tree as nodes; the rows of a node lead to others. Steps come first, by
// their numbers.
type Graph struct {
	Tree, Title string
	Nodes       []Node
}

// Node is a step of the tree, a finding, or a door.
type Node struct {
	Ref     faulttree.Ref
	Kind    Kind
	Number  int // of a step, from 1 at the top; 0 for all others
	Level   int // how many steps lie at least above it; steps only
	Title   string
	Signal  faulttree.Signal // of a finding, a STOP, and a door to such
	Walk    string           // title of the tree that a door leads to
	Asks    []string         // what is measured
	Columns []string         // heads of a table; nil where a row is words
	Rows    []Row
	For     faulttree.Role // who may do it
	Owner   bool           // a walk of an owner can come here
	First   bool           // where the tree begins
	Lone    bool           // any other step that nothing leads to: it is there for a reading at hand
	Walked  bool           // on the way of the walk marked
	Here    bool           // where that walk stands
}

// Step reports whether n is a box with rows rather than a plate.
func (n Node) Step() bool { return n.Kind < Finding }

// Row is one exit of a step.
type Row struct {
	Cells  []string // beside the columns of the table; nil for words across them
	Words  string   // when this exit is taken
	Label  string   // what the author calls it; ""
	To     int      // index of the node it leads to
	Signal faulttree.Signal
	Walked bool

	exit faulttree.Exit
}

// The largest graph: a layout of it takes some tenths of a second.
const mostSteps, mostRows = 300, 4000

// Of is the graph of a tree, by its id or a name of it, for a vehicle of which some facts
// are known: what they rule out is not there. [faulttree.Unknown] leaves all of it. The
// error says why the tree cannot be drawn.
func Of(lib *content.Library, tree string, known faulttree.Known) (Graph, error) {
	t := lib.Forest.Tree(tree)
	switch {
	case t == nil:
		return Graph{}, fmt.Errorf("there is no walk %q", tree)
	case t.Step(t.Start) == nil:
		return Graph{}, fmt.Errorf("the walk has no step %q, at which it begins", t.Start)
	}
	rows := 0
	for _, s := range t.Steps {
		rows += len(s.Exits())
	}
	if len(t.Steps) > mostSteps || rows > mostRows {
		return Graph{}, fmt.Errorf("the walk has %d steps, which lead on in %d ways; at most %d and %d are drawn", len(t.Steps), rows, mostSteps, mostRows)
	}
	b := &builder{lib: lib, tree: t, at: map[faulttree.Ref]int{}, Graph: Graph{Tree: t.Own(), Title: t.Title}}
	b.known = func(fact string) string { return cmp.Or(t.Facts[fact], known(fact)) }
	for _, s := range t.Steps {
		b.node(s.Ref())
	}
	for i := range b.Nodes { // doors come up on the way, behind these
		b.rows(i)
	}
	b.reach(t.Start)
	b.order(t.Start)
	return b.Graph, nil
}

// builder makes a graph; at is the index of each node by what it stands for.
type builder struct {
	Graph
	lib   *content.Library
	tree  *faulttree.Tree
	known faulttree.Known
	at    map[faulttree.Ref]int
	drawn []bool // which nodes a walk can come to, by whomever
}

// node is the index of the node for a step, a finding, or a door.
func (b *builder) node(r faulttree.Ref) int {
	r = b.lib.Forest.Canonical(r)
	if i, ok := b.at[r]; ok {
		return i
	}
	n := Node{Ref: r, Kind: Door, Title: r.String()}
	if s := b.lib.Forest.Step(r); s != nil {
		n.Title, n.For = s.Title, s.For
		n.Kind, n.Signal = kindOf(s)
	}
	if r.Tree != b.Tree {
		n.Kind, n.Walk = Door, view.TreeTitle(b.lib, r.Tree)
	}
	b.at[r] = len(b.Nodes)
	b.Nodes = append(b.Nodes, n)
	return b.at[r]
}

func kindOf(s *faulttree.Step) (Kind, faulttree.Signal) {
	switch {
	case s.Kind == faulttree.KindFinding:
		return Finding, s.Finding.Signal
	case s.Stop():
		return Stop, faulttree.Danger
	case s.Kind == faulttree.KindMeasure:
		return Measure, faulttree.NoSignal
	case s.Kind == faulttree.KindChart:
		return Chart, faulttree.NoSignal
	case s.Kind == faulttree.KindAct:
		return Act, s.Act.Signal
	}
	return Observe, faulttree.NoSignal
}

// reach finds what a walk can come to under the facts, and marks what that of an owner
// can: at a step for a qualified person his is handed over.
func (b *builder) reach(start string) {
	first := b.at[b.tree.Step(start).Ref()]
	b.Nodes[first].First = true
	begin := []int{first}
	led := map[faulttree.Ref]bool{} // whatever the facts are
	for _, s := range b.tree.Steps {
		for _, e := range s.Exits() {
			led[b.lib.Forest.Canonical(e.To)] = true
		}
	}
	for i, n := range b.Nodes {
		if n.Step() && i != first && !led[n.Ref] {
			b.Nodes[i].Lone = true
			begin = append(begin, i)
		}
	}
	b.drawn = b.reached(begin, faulttree.Qualified)
	for i, owner := range b.reached(begin, faulttree.Owner) {
		b.Nodes[i].Owner = owner
	}
}

// reached says which nodes somebody comes to who begins at some.
func (b *builder) reached(begin []int, role faulttree.Role) []bool {
	out := make([]bool, len(b.Nodes))
	for todo := begin; len(todo) > 0; todo = todo[1:] {
		n := b.Nodes[todo[0]]
		if out[todo[0]] || n.Step() && n.For > role {
			continue
		}
		out[todo[0]] = true
		for _, r := range n.Rows {
			todo = append(todo, r.To)
		}
	}
	return out
}

// order gives every step its level and number, and puts the nodes that are drawn in that
// order.
func (b *builder) order(start string) {
	first := b.at[b.tree.Step(start).Ref()]
	levels, met := levelsOf(b.Nodes, first)
	var byPlace []int
	for i := range b.Nodes {
		b.Nodes[i].Level = levels[i]
		if b.drawn[i] {
			byPlace = append(byPlace, i)
		}
	}
	slices.SortStableFunc(byPlace, func(i, j int) int {
		n, m := b.Nodes[i], b.Nodes[j]
		switch {
		case n.Step() != m.Step():
			return cmp.Compare(plates(n), plates(m))
		case n.Step():
			return cmp.Or(cmp.Compare(n.Level, m.Level), cmp.Compare(met[i], met[j]))
		}
		return cmp.Compare(n.Kind, m.Kind)
	})
	to := make([]int, len(b.Nodes))
	sorted := make([]Node, len(byPlace))
	for k, i := range byPlace {
		to[i], sorted[k] = k, b.Nodes[i]
		if sorted[k].Step() {
			sorted[k].Number = k + 1
		}
	}
	for _, n := range sorted {
		for i := range n.Rows {
			n.Rows[i].To = to[n.Rows[i].To]
		}
	}
	b.Nodes = sorted
}

func plates(n Node) int {
	if n.Step() {
		return 0
	}
	return 1
}

// Index is that of the node for a step or finding, -1 if the graph has none.
func (g Graph) Index(r faulttree.Ref) int {
	return slices.IndexFunc(g.Nodes, func(n Node) bool { return n.Ref == r })
}
