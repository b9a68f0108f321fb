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

// Of is the graph of a tree, by its id or a name of it. The error is a sentence that says
// why it cannot be drawn.
func Of(lib *content.Library, tree string) (Graph, error) {
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
	lib  *content.Library
	tree *faulttree.Tree
	at   map[faulttree.Ref]int
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

// reach marks what a walk of an owner can come to: at a step for a qualified person it
// is handed over.
func (b *builder) reach(start string) {
	todo := []int{b.at[b.tree.Step(start).Ref()]}
	b.Nodes[todo[0]].First = true
	led := map[int]bool{todo[0]: true}
	for _, n := range b.Nodes {
		for _, r := range n.Rows {
			led[r.To] = true
		}
	}
	for i := range b.Nodes {
		if b.Nodes[i].Lone = b.Nodes[i].Step() && !led[i]; b.Nodes[i].Lone {
			todo = append(todo, i)
		}
	}
	for len(todo) > 0 {
		n := &b.Nodes[todo[0]]
		todo = todo[1:]
		if n.Owner || n.Step() && n.For == faulttree.Qualified {
			continue
		}
		n.Owner = true
		for _, r := range n.Rows {
			todo = append(todo, r.To)
		}
	}
}

// order gives every step its level and number, and puts the nodes in that order.
func (b *builder) order(start string) {
	first := b.at[b.tree.Step(start).Ref()]
	levels, met := levelsOf(b.Nodes, first)
	byPlace := make([]int, len(b.Nodes))
	for i := range b.Nodes {
		byPlace[i] = i
		b.Nodes[i].Level = levels[i]
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
	sorted := make([]Node, len(b.Nodes))
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
