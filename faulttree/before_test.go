package faulttree

import (
	"slices"
	"testing"
)

// measuring is a tree of measure steps named after the quantity that each reads,
// each leading to others.
func measuring(id string, exits map[string][]string, order ...string) *Tree {
	t := &Tree{ID: id, Start: order[0]}
	for _, q := range order {
		s := &Step{Tree: id, ID: q, Kind: KindMeasure, Measure: []Variable{{Name: "x", Quantity: Quantity{ID: q}}}}
		for _, to := range exits[q] {
			s.Branches = append(s.Branches, Branch{Exit: Exit{Text: to, To: ParseRef(to, id)}})
		}
		t.Steps = append(t.Steps, s)
	}
	t.Index()
	return t
}

// Only what lies on every way counts, of all trees that ask the quantity.
func TestBeforeIsWhatEveryTreeAsksFirst(t *testing.T) {
	one := measuring("one", map[string][]string{"a": {"b", "c"}, "b": {"d"}, "c": {"d"}, "d": {"e"}}, "a", "b", "c", "d", "e")
	two := measuring("two", map[string][]string{"d": {"one#e"}}, "d")
	f := &Forest{Trees: map[string]*Tree{"one": one}}
	want := func(role Role, quantity string, want ...string) {
		t.Helper()
		if got, ok := f.Before(role)[quantity]; !ok || !slices.Equal(got, want) {
			t.Errorf("before %s comes %v (%v); want %v", quantity, got, ok, want)
		}
	}
	want(Owner, "a")
	want(Owner, "d", "a") // by b or by c
	want(Owner, "e", "a", "d")
	f.Trees["two"] = two
	want(Owner, "d")
	want(Owner, "e", "d")
	delete(f.Trees, "two")
	one.Step("d").For = Qualified
	if _, asked := f.Before(Owner)["e"]; asked {
		t.Error("an owner is asked for what comes after a step for others")
	}
	want(Qualified, "e", "a", "d")
}

// Of the columns of a chart only those that are pinned or gated come first, and
// what leads on from one has passed them all.
func TestBeforeWithinAChart(t *testing.T) {
	tree := measuring("one", map[string][]string{"chart": {"z"}}, "chart", "z")
	chart := tree.Step("chart")
	chart.Kind, chart.Measure = KindChart, nil
	for _, q := range []string{"a", "b", "c", "d"} {
		chart.Measure = append(chart.Measure, Variable{Name: q, Quantity: Quantity{ID: q}})
	}
	chart.Chart = &Chart{Pins: []int{0}, Before: []Gate{{1, 2}}}
	before := (&Forest{Trees: map[string]*Tree{"one": tree}}).Before(Owner)
	for quantity, want := range map[string][]string{"a": nil, "b": {"a"}, "c": {"a", "b"}, "d": {"a"}, "z": {"a", "b", "c", "d"}} {
		if !slices.Equal(before[quantity], want) {
			t.Errorf("before %s comes %v; want %v", quantity, before[quantity], want)
		}
	}
}
