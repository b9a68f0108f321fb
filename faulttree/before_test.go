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

// What can wait holds up what only comes behind it, on every way, and what stands in
// the same chart.
func TestAskedFirstIsWhatNeedNotWait(t *testing.T) {
	tree := measuring("one", map[string][]string{"a": {"b", "c"}, "b": {"d"}, "c": {"d", "e"}, "e": {"f"}}, "a", "b", "c", "d", "e", "f")
	tree.Step("e").Measure = append(tree.Step("e").Measure, Variable{Name: "y", Quantity: Quantity{ID: "beside"}})
	tree.Step("f").For = Qualified
	f := &Forest{Trees: map[string]*Tree{"one": tree}}
	for waits, want := range map[string][]string{"": {"a", "b", "c", "d", "e", "beside", "f"}, "c": {"a", "b", "d"}, "b": {"a", "c", "d", "e", "beside", "f"}, "e": {"a", "b", "c", "d"}, "a": nil} {
		if got := f.AskedFirst("one", Qualified, func(q Quantity) bool { return q.ID == waits }); !slices.Equal(got, want) {
			t.Errorf("where %q waits, %v come first; want %v", waits, got, want)
		}
	}
	if got := f.AskedFirst("one", Owner, func(Quantity) bool { return false }); slices.Contains(got, "f") {
		t.Errorf("an owner is asked for what is for others: %v", got)
	}
	if got := f.AskedFirst("", Owner, func(Quantity) bool { return false }); got != nil {
		t.Errorf("without a tree, %v come first", got)
	}
}
