package flow

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/figure"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
)

func graphOf(t *testing.T, lib *content.Library, tree string) Graph {
	t.Helper()
	return must.Have(Of(lib, tree, faulttree.Unknown))(t)
}

// Every step of a tree is a node, every exit a row, and leads where the document says.
func TestAGraphHasEveryStepAndExit(t *testing.T) {
	lib := load.Shipped()
	for _, id := range lib.Forest.IDs() {
		g := graphOf(t, lib, id)
		for _, s := range lib.Forest.Trees[id].Steps {
			i := g.Index(s.Ref())
			if i < 0 {
				t.Errorf("%s is not in the graph", s.Ref())
				continue
			}
			n := g.Nodes[i]
			if exits := s.Exits(); s.Kind != faulttree.KindFinding && len(n.Rows) != len(exits) {
				t.Errorf("%s has %d rows for %d exits", s.Ref(), len(n.Rows), len(exits))
			}
			for k, r := range n.Rows {
				if e := s.Exits()[k]; g.Nodes[r.To].Ref != lib.Forest.Canonical(e.To) || r.Signal != e.Signal || n.Limit(r) == "" {
					t.Errorf("%s, %q leads to %s with %s, want %s with %s", s.Ref(), n.Limit(r), g.Nodes[r.To].Ref, r.Signal, e.To, e.Signal)
				}
			}
		}
		for i, n := range g.Nodes {
			if n.Step() != (n.Number == i+1) {
				t.Errorf("%s: node %d has the number %d", id, i, n.Number)
			}
			for _, r := range n.Rows {
				if to := g.Nodes[r.To]; to.Step() && to.Number > n.Number && to.Level <= n.Level {
					t.Errorf("%s: %d leads to %d, on no lower level", id, n.Number, to.Number)
				}
			}
		}
	}
}

// Limits are told as their author wrote them, OL as the meter shows it, and no bare
// number of the engine.
func TestRowsSayTheirLimits(t *testing.T) {
	lib := load.Shipped()
	g := graphOf(t, lib, "half-dead")
	text := g.Text()
	for _, want := range []string{
		"below 90 V (gives way)",       // {#firm}: {v: {below: 90 V}, label: gives way}
		"90 V and more (holds)",        // {v: {from: 90 V}}
		"neutral OL; hot OL",           // {#cord}: | OL | OL | above whole or OL |
		"cover 15 V and more",          // {#supply}: | live and more |, live is 15 V
		"lack: across − leg 1 − leg 2", // derive
		"OL, over the range",
		"anything else",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("nowhere: %q", want)
		}
	}
	for _, id := range lib.Forest.IDs() {
		if text := graphOf(t, lib, id).Text(); strings.Contains(text, "922337") {
			t.Errorf("%s tells the highest number of the engine", id)
		}
	}
}

// A step for a qualified person ends an owner's way: what stands behind it only he
// reaches.
func TestWhatAnOwnerReaches(t *testing.T) {
	lib := must.Have(load.Dir(context.Background(), "../../cmd/faultwright-cli/testdata/handbook"))(t)
	g := graphOf(t, lib, "in-the-panel")
	for _, n := range g.Nodes {
		if n.Owner {
			t.Errorf("an owner reaches %q, behind a step for a qualified person", n.Title)
		}
	}
	if g.Nodes[0].For != faulttree.Qualified || !strings.Contains(g.Text(), qualifiedOnly) {
		t.Errorf("nothing says for whom it is:\n%s", g.Text())
	}
	svg := figure.SVG(Lay(g, Options{}).Draw(NoMarks()), figure.Light())
	for _, want := range []string{"Measure · a qualified person", "Only a qualified person comes"} {
		if !strings.Contains(svg, ">"+want) {
			t.Errorf("the drawing does not say %q", want)
		}
	}
	for _, id := range load.Shipped().Forest.IDs() {
		for _, n := range graphOf(t, load.Shipped(), id).Nodes {
			if !n.Owner { // no step of the shipped trees is for a qualified person only
				t.Errorf("%s: an owner does not reach %q", id, n.Title)
			}
		}
	}
}

// For a 30 A vehicle there is no second leg, neither as a column nor as what it leads to;
// for a 50 A one there is.
func TestOnlyWhatTheVehicleHasIsDrawn(t *testing.T) {
	lib := load.Shipped()
	thirty, fifty := graphOf(t, lib, "pedestal-30a"), graphOf(t, lib, "pedestal-50a")
	if text := thirty.Text(); strings.Contains(text, "L2") {
		t.Errorf("a 30 A pedestal has an L2:\n%s", text)
	}
	if !strings.Contains(fifty.Text(), "L2") || len(fifty.Nodes) <= len(thirty.Nodes) {
		t.Error("a 50 A pedestal has no L2, or no more boxes")
	}
	told := must.Have(Of(lib, "pedestal", func(fact string) string { return map[string]string{"service": "30a"}[fact] }))(t)
	if told.Text() != strings.Replace(thirty.Text(), thirty.Title, told.Title, 1) {
		t.Error("a fact that is told draws another flow than one that the tree states")
	}
	for i, n := range told.Nodes {
		if n.Step() != (n.Number == i+1) {
			t.Errorf("node %d has the number %d", i, n.Number)
		}
	}
}

// What cannot be drawn is told in a sentence.
func TestWhatCannotBeDrawn(t *testing.T) {
	lib := load.Shipped()
	for name, tree := range map[string]*faulttree.Tree{
		"there is no walk":        nil,
		"the walk has no step":    {ID: "odd", Start: "away"},
		"the walk has 301 steps,": {ID: "odd", Start: "s0", Steps: lists.Each(make([]int, mostSteps+1), func(int) *faulttree.Step { return &faulttree.Step{Tree: "odd", ID: "s0"} })},
	} {
		forest := faulttree.Forest{Trees: map[string]*faulttree.Tree{}}
		if tree != nil {
			tree.Index()
			forest.Trees["odd"] = tree
		}
		odd := *lib
		odd.Forest = &forest
		if _, err := Of(&odd, "odd", faulttree.Unknown); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("told as %v, want %q", err, name)
		}
	}
}

// walked is a walk through a tree with the readings of a file.
func walked(t *testing.T, lib *content.Library, file, tree string) faulttree.Walk {
	t.Helper()
	in := must.Have(os.Open(file))(t)
	defer in.Close()
	given, diags := load.Readings(in, file, lib.Forest)
	if diags.HasErrors() {
		t.Fatal(diags.Err())
	}
	w := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: tree}, faulttree.Owner, faulttree.DefaultMeter()))(t)
	w, _, err := w.Supply(given)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// The way of every walk on file is marked from the first step to where it stands,
// without a gap, and nothing else is.
func TestTheWayWalkedIsMarkedWithoutAGap(t *testing.T) {
	lib := load.Shipped()
	files := must.Have(filepath.Glob("../../testdata/walks/*.yaml"))(t)
	seen := 0
	for _, file := range files {
		for _, tree := range []string{"half-dead", "twelve-volt", "own-source", "heat", "trips"} {
			if !strings.HasPrefix(filepath.Base(file), tree) {
				continue
			}
			w := walked(t, lib, file, tree)
			if slices.ContainsFunc(w.Trail(), func(e faulttree.Entry) bool { return e.Stood != faulttree.Ref{} }) {
				continue // a reading that hurts was judged out of its turn
			}
			seen++
			g := graphOf(t, lib, tree).Along(w)
			on := map[int]bool{slices.IndexFunc(g.Nodes, func(n Node) bool { return n.First }): true}
			for range g.Nodes {
				for i, n := range g.Nodes {
					for _, r := range n.Rows {
						if on[i] && r.Walked {
							on[r.To] = true
						}
					}
				}
			}
			for i, n := range g.Nodes {
				if n.Walked != on[i] && !(n.Kind == Door && n.Here) { // which the walk may have come to through its own tree
					t.Errorf("%s: %q: marked %v, on the way %v", filepath.Base(file), n.Title, n.Walked, on[i])
				}
				if n.Here != (n.Ref == w.At()) {
					t.Errorf("%s: %q: marked as where the walk stands %v, it stands at %s", filepath.Base(file), n.Title, n.Here, w.At())
				}
			}
		}
	}
	if seen < 50 {
		t.Errorf("only %d walks were looked at", seen)
	}
	for _, n := range graphOf(t, lib, "heat").Nodes {
		if n.Walked || n.Here {
			t.Errorf("%q is marked without a walk", n.Title)
		}
	}
}

func TestFindHoldsEveryWord(t *testing.T) {
	g := graphOf(t, load.Shipped(), "half-dead")
	found := g.Find("CORD neutral poor")
	if len(found) == 0 {
		t.Fatal("nothing is found")
	}
	for _, i := range found {
		if text := strings.ToLower(g.Nodes[i].words()); !strings.Contains(text, "cord") || !strings.Contains(text, "neutral") {
			t.Errorf("%q is found", g.Nodes[i].Title)
		}
	}
	if len(g.Find(" ")) > 0 || len(g.Find("zebra")) > 0 {
		t.Error("something is found for nothing")
	}
}

// What stands uppermost is where a walk can begin: a step to which only a way round leads,
// such as reading once more, stands below the one that leads to it.
func TestWalksBeginAtTheTop(t *testing.T) {
	eachGraph(t, func(name string, g Graph) {
		for _, n := range g.Nodes {
			if name != "hostile" && n.Step() && n.Level == 0 && !n.First && !n.Lone {
				t.Errorf("%s: %s stands at the top", name, n.Name())
			}
		}
	})
}
