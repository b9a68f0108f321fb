package content_test

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
)

// nowhere keeps no record.
type nowhere struct{}

func (nowhere) Append([]byte) error { return nil }

// typed are figures for a sheet: ordinary ones, such as hurt, such as lie within
// the meter's error of 5, 15 and 30 V, and such as are none.
var typed = map[faulttree.Unit][]string{
	faulttree.VoltsAC: {"0.0", "0.4", "4.8", "5.2", "14.6", "29.8", "58", "104", "120.1", "139.9", "160", "240", "OL", "wanders 2 to 40", "cannot: a lid in the way"},
	faulttree.VoltsDC: {"0.0", "-0.4", "4.8", "-58", "12.6", "13.8", "-12.6", "58", "OL", "wanders -2 to 40", "cannot: a lid in the way"},
	faulttree.Ohms:    {"0.2", "12.0", "4.7 kΩ", "2 MΩ", "OL", "cannot: a lid in the way"},
	faulttree.AmpsAC:  {"0.1", "12.0", "cannot: no clamp"},
	faulttree.AmpsDC:  {"0.1", "-12.0", "cannot: no clamp"},
}

// TestSheetsOfReadings gives every tree sheets of figures, in whatever mixture: of
// those that reach a danger limit of the tree the one it declares first is judged
// before anything else and stops the walk; one that only another tree declares
// does not lead away, and is told; every figure stays on record; and what stands
// there gives the same walk when it is read again.
func TestSheetsOfReadings(t *testing.T) {
	libs := map[string]*content.Library{"shipped": load.Shipped()}
	for _, fixture := range []string{"handbook", "pedestal"} {
		lib := must.Have(load.Dir(context.Background(), "../testdata/"+fixture))(t)
		libs[fixture] = lib
	}
	random := rand.New(rand.NewPCG(10, 7))
	for _, name := range []string{"handbook", "pedestal", "shipped"} {
		lib := libs[name]
		for _, id := range lib.Forest.IDs() {
			for n := range 60 {
				sheetOf(t, fmt.Sprintf("%s %s, sheet %d", name, id, n), lib.Forest, lib.Forest.Trees[id], random)
			}
		}
	}
}

func sheetOf(t *testing.T, name string, f *faulttree.Forest, tree *faulttree.Tree, random *rand.Rand) {
	t.Helper()
	s := faulttree.Supplied{Readings: map[string][]faulttree.Reading{}, Facts: map[string]string{}, Once: true}
	may := append(slices.Clone(tree.Sheet), tree.Dangers()...)
	for range 3 { // and any of the handbook
		may = append(may, f.Quantities.IDs()[random.IntN(len(f.Quantities))])
	}
	for _, q := range may {
		texts := typed[f.Quantities[q].Unit]
		if r, err := faulttree.ParseReading(texts[random.IntN(len(texts))], f.Quantities[q]); err == nil && random.IntN(2) == 0 {
			s.Readings[q] = []faulttree.Reading{r}
		}
	}
	for _, fact := range f.Facts {
		if tree.Facts[fact.ID] == "" && random.IntN(2) == 0 {
			s.Facts[fact.ID] = fact.Choices[random.IntN(len(fact.Choices))].ID
		}
	}
	h := visit.Header{ID: "2026-05-03-k7fqm", Start: faulttree.Ref{Tree: tree.ID, Step: tree.Start}, Meter: faulttree.DefaultMeter(), Started: time.Unix(0, 0)}
	begun := must.Have(visit.Resume(nowhere{}, visit.Visit{Header: h}, f))(t)
	r, _, err := begun.Supply(time.Unix(60, 0), s)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	w := r.Walk()
	first := ""
	for _, id := range tree.Dangers() {
		limit, _ := tree.DangerLimit(id)
		if first == "" && tree.AtOnce[id] == "" && slices.ContainsFunc(s.Readings[id], func(r faulttree.Reading) bool { return w.Meter().MayHurt(r, f.Quantities[id], limit) }) {
			first = id
		}
	}
	trail := slices.DeleteFunc(w.Trail(), func(e faulttree.Entry) bool { _, fact := e.Step.Fact(); return fact })
	result, ended := w.Finding()
	_, stopped := w.Stop()
	switch {
	case first == "" && slices.ContainsFunc(trail, func(e faulttree.Entry) bool { return e.Stood != faulttree.Ref{} && e.Step.Tree == tree.ID }):
		t.Errorf("%s: nothing reaches a limit of the tree, and %v comes out of its turn", name, trail[0].Step)
	case first == "":
	case len(trail) == 0 || trail[0].Step.Tree != tree.ID || !measures(w, trail[0], first):
		t.Errorf("%s: %s hurts, and is not judged first: %v", name, first, trail)
	case !stopped && !(ended && result.Finding.Signal == faulttree.Danger):
		t.Errorf("%s: %s hurts, and the walk stands at %v", name, first, w.At())
	}
	if ended && len(w.Reached()) > 0 && (result.Finding.Signal != faulttree.Danger || len(result.Finding.Clears) > 0) {
		t.Errorf("%s: %v is left, and the finding is %+v", name, w.Reached(), result.Finding)
	}
	kept(t, name, f, s, r)
	for i, e := range w.Trail() {
		id, told := e.Step.Fact()
		if !told {
			continue
		}
		for _, c := range f.Fact(id).Choices {
			other := faulttree.Answer{Choice: c.ID}
			changed, _, err := r.Change(time.Unix(120, 0), i, other)
			if err != nil {
				t.Fatalf("%s: %s is changed to %s: %v", name, id, c.ID, err)
			}
			end, ended := changed.Walk().Finding()
			if _, stopped := changed.Walk().Stop(); first != "" && !stopped && !(ended && end.Finding.Signal == faulttree.Danger) {
				t.Errorf("%s: %s hurts, %s is changed to %s, and the walk stands at %v", name, first, id, c.ID, changed.Walk().At())
			}
			if slices.ContainsFunc(w.Trail(), func(e faulttree.Entry) bool {
				return slices.ContainsFunc(e.Answer.Readings, func(r faulttree.Reading) bool { return r.Quality == faulttree.NotPossible })
			}) {
				continue // what could not be taken is asked again
			}
			back, _, err := changed.Change(time.Unix(180, 0), i, e.Answer)
			if err != nil || back.Walk().At() != w.At() {
				t.Errorf("%s: %s is changed to %s and back: the walk is at %v, it was at %v, %v", name, id, c.ID, back.Walk().At(), w.At(), err)
			}
		}
	}
	again, err := visit.Resume(nowhere{}, r.Visit(), f)
	if err != nil || again.Walk().At() != w.At() || !slices.EqualFunc(again.Walk().Trail(), w.Trail(), func(a, b faulttree.Entry) bool {
		return a.Step == b.Step && a.Answer.Same(b.Answer) && a.Next == b.Next
	}) ||
		len(again.Current().Lapsed()) > 0 || !maps.EqualFunc(reached(again.Walk()), reached(w), func(a, b string) bool { return a == b }) {
		t.Errorf("%s: read again the walk is at %v, not %v, %v", name, again.Walk().At(), w.At(), err)
	}
}

// kept demands that every figure is in the walk or beside it, and that one which
// may hurt and is not in it is told.
func kept(t *testing.T, name string, f *faulttree.Forest, s faulttree.Supplied, r visit.Recorder) {
	t.Helper()
	w := r.Walk()
	told := reached(w)
	for id, readings := range s.Readings {
		one := readings[0]
		taken := slices.ContainsFunc(w.Trail(), func(e faulttree.Entry) bool {
			return measures(w, e, id) && slices.ContainsFunc(e.Answer.Readings, one.Same)
		})
		beside := slices.ContainsFunc(r.Current().Round.Unasked, func(x visit.Taken) bool { return x.Quantity == id && x.Reading.Same(one) })
		if taken == beside {
			t.Errorf("%s: %s %s is taken %v and kept beside the walk %v", name, id, one.Text, taken, beside)
		}
		if x, hurts := w.Reaches(f.Quantities[id], one); hurts && !taken && told[id] != x.Tree {
			t.Errorf("%s: %s %s reaches a limit of %s, and is told as %q", name, id, one.Text, x.Tree, told[id])
		}
	}
}

// reached is by quantity the tree whose danger limit a figure beside the walk
// reaches.
func reached(w faulttree.Walk) map[string]string {
	out := map[string]string{}
	for _, x := range w.Reached() {
		out[x.Quantity.ID] = x.Tree
	}
	return out
}

func measures(w faulttree.Walk, e faulttree.Entry, quantity string) bool {
	s := w.Asked(e.Step)
	return s != nil && slices.ContainsFunc(s.Measure, func(v faulttree.Variable) bool { return strings.EqualFold(v.Quantity.ID, quantity) })
}

// A fact that is changed in the middle of a chart takes no reading away: what the
// new one rules out stands beside the walk, and counts again once it is changed
// back. Nothing is asked twice.
func TestAFactIsChangedInTheMiddleOfAChart(t *testing.T) {
	lib := pedestal(t)
	h := visit.Header{ID: "2026-05-03-k7fqm", Start: faulttree.Ref{Tree: "pedestal"}, Meter: faulttree.DefaultMeter(), Started: time.Unix(0, 0)}
	r, err := visit.Resume(nowhere{}, visit.Visit{Header: h}, lib.Forest)
	if err != nil {
		t.Fatal(err)
	}
	shows := map[string]string{"pedestal.l1-earth": "120.0", "pedestal.g-earth": "0.4", "pedestal.l1-n": "120.1", "pedestal.l2-n": "120.3", "pedestal.l1-l2": "240.2", "pedestal.n-g": "0.2", "pedestal.l1-g": "120.0"}
	asked := map[string]int{}
	answer := func() {
		t.Helper()
		a := faulttree.Answer{Choice: "50a"}
		if s := r.Walk().Step(); s.Kind == faulttree.KindMeasure {
			q := s.Measure[0].Quantity
			asked[q.ID]++
			one := must.Have(faulttree.ParseReading(shows[q.ID], q))(t)
			a = faulttree.Answer{Readings: []faulttree.Reading{one}}
		}
		if r, err = r.Answer(time.Unix(60, 0), a); err != nil {
			t.Fatal(err)
		}
	}
	for asked["pedestal.l2-n"] == 0 {
		answer()
	}
	before := r.Walk()
	change := func(to string) {
		t.Helper()
		if r, _, err = r.Change(time.Unix(120, 0), 0, faulttree.Answer{Choice: to}); err != nil {
			t.Fatal(err)
		}
	}
	change("30a")
	if w := r.Walk(); w.Fact("service") != "30a" || w.Readings() != before.Readings()-1 || len(r.Current().Round.Undone) == 0 {
		t.Errorf("with a 30 A plug the walk is at %v with %d readings; undone %v", w.At(), w.Readings(), r.Current().Round.Undone)
	}
	change("50a")
	if w := r.Walk(); w.At() != before.At() || w.Readings() != before.Readings() {
		t.Errorf("changed back the walk is at %v with %d readings; it was at %v with %d", w.At(), w.Readings(), before.At(), before.Readings())
	}
	for !r.Walk().Ended() {
		answer()
	}
	for id, n := range asked {
		if n != 1 {
			t.Errorf("%s is asked %d times", id, n)
		}
	}
	if at := r.Walk().At().Step; at != "shown" {
		t.Errorf("it ends at %s", at)
	}
}
