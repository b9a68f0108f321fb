package scenes_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
)

// What was read says which vehicle it is, as far as only some can be read so: the
// contacts of its plug, its source, an adapter. It is said, and to be stated
// otherwise.
func TestReadingsImplyFacts(t *testing.T) {
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	for _, c := range []struct {
		name, list string
		facts      map[string]string
		want       []string
	}{
		{"an open neutral of a 50 A coach", "pedestal, nothing plugged in: L1-N 121, L2-N 120.5\npanel, loads on: L1-N 59, L2-N 177, N-G 59", nil, []string{"service=50a", "source=shore"}},
		{"the panel alone, which a generator feeds as well", "panel, loads on: L1-N 59, L2-N 177", nil, []string{"service=50a"}},
		{"a 30 A trailer: a 50 A coach has these too", "pedestal, nothing plugged in: L1-N 121, N-G 0.2\npanel, loads on: L1-N 96", nil, []string{"source=shore"}},
		{"an adapter", "adapter.out-l1-out-n: 121\npanel, loads on: L1-N 96", nil, []string{"adapter=yes"}},
		{"what is stated is not implied", "panel, loads on: L1-N 59, L2-N 177", map[string]string{"service": "50a", "source": "shore"}, nil},
		{"against what is stated", "panel, loads on: L2-N 177", map[string]string{"service": "30a"}, nil},
		{"readings that no vehicle has together", "adapter.out-l1-out-n: 121\npanel, loads on: L2-N 177", nil, nil},
		{"the battery of any vehicle", "dc.pos-neg: 12.1", nil, nil},
		{"the body of any vehicle", "body-earth: 12 V", nil, nil},
	} {
		a := told(t, c.facts, c.list)
		got := lists.Each(r.Implied(a), func(i drawn.Implied) string { return i.Fact + "=" + i.Choice })
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: implied is %v, want %v", c.name, got, c.want)
		}
	}
	a := told(t, nil, "panel, loads on: L1-N 59, L2-N 177")
	says := func(a view.Account) string {
		b := must.Have(r.Belief(context.Background(), a))(t)
		return r.Worded(a, b).TakenAs
	}
	if got, want := says(a), "Taken as Service: 50 A (by “Panel: L2 to neutral, loads on”). Say it if that is wrong."; got != want {
		t.Errorf("it says %q, want %q", got, want)
	}
	if got := says(a.Knowing("service", "50a")); got != "" {
		t.Errorf("of what is stated it says %q", got)
	}
	if got := says(a.Without(1)); got != "" {
		t.Errorf("after the reading is taken back it still says %q", got)
	}
	for name, change := range map[string]func(*faulttree.Reading, *bool){
		"not sure of it": func(_ *faulttree.Reading, doubtful *bool) { *doubtful = true },
		"not possible":   func(r *faulttree.Reading, _ *bool) { *r = faulttree.NotTaken("there is none") },
	} {
		other := a
		other.Evidence = slices.Clone(a.Evidence)
		change(&other.Evidence[1].Reading, &other.Evidence[1].Doubtful)
		if got := says(other); got != "" {
			t.Errorf("%s: it says %q", name, got)
		}
	}
}

// With the facts implied the vehicles of a side are those that are drawn with them
// stated.
func TestImpliedDrawsAsIfStated(t *testing.T) {
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	a := told(t, nil, "pedestal, nothing plugged in: L1-N 121, L2-N 120.5\npanel, loads on: L1-N 59, L2-N 177")
	rigs := func(a view.Account) (out []string) {
		b := must.Have(r.Belief(context.Background(), a))(t)
		for _, c := range b.Cases() {
			if c.System == "120 V" && !slices.Contains(out, c.Rig) {
				out = append(out, c.Rig)
			}
		}
		slices.Sort(out)
		return out
	}
	implied, stated := rigs(a), rigs(a.Knowing("service", "50a").Knowing("source", "shore"))
	if !slices.Equal(implied, stated) || len(stated) == 0 {
		t.Errorf("implied, vehicles are drawn of %v, stated, of %v", implied, stated)
	}
	v := must.Have(r.Suspects(context.Background(), a))(t)
	if v.TakenAs == "" || !strings.HasPrefix(v.Text(), v.TakenAs) {
		t.Errorf("it does not say first as what it is taken:\n%s", v.Text())
	}
}

// byPlace is what an account gives to each place, or to several at once.
func byPlace(t *testing.T, r *scenes.Reasoning, a view.Account) map[string]float64 {
	t.Helper()
	b := must.Have(r.Belief(context.Background(), a))(t)
	out := map[string]float64{}
	for _, s := range b.Suspects() {
		out[fmt.Sprint(s.Places)] += s.Share
	}
	return out
}

// A technician's list of an open neutral says without facts what it says with them: of
// the vehicles of all rigs few decided, and none had the neutral open in the supply. A
// volt more or less in a reading moves no place by more than five points.
func TestAListWithoutFactsIsSteady(t *testing.T) {
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	list := func(l1, l2 int) view.Account {
		return told(t, nil, fmt.Sprintf("pedestal, nothing plugged in: L1-N 121, L2-N 120, L1-L2 241, N-G 0.1\npanel, loads on: L1-N %d, L2-N %d, L1-L2 236, N-G 58", l1, l2))
	}
	far := func(a, b map[string]float64) float64 {
		most := 0.0
		for place, share := range a {
			most = max(most, math.Abs(share-b[place]))
		}
		return most
	}
	base := byPlace(t, r, list(59, 177))
	if stated := byPlace(t, r, list(59, 177).Knowing("service", "50a").Knowing("source", "shore")); far(stated, base) > 0.1 {
		t.Errorf("without facts the places have %v, with facts %v", base, stated)
	}
	for _, l := range []view.Account{list(60, 177), list(58, 177), list(59, 178), list(59, 176)} {
		if got := byPlace(t, r, l); far(base, got) > 0.05 {
			t.Errorf("by one volt the places have %v in place of %v", got, base)
		}
	}
}

// Readings of both sides count, although the 12 V side that is drawn is a trailer's.
func TestImpliedFactsKeepTheOtherSide(t *testing.T) {
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	b := must.Have(r.Belief(context.Background(), told(t, nil, "panel, loads on: L1-N 59, L2-N 177\ndc.pos-neg: 11.2")))(t)
	for _, s := range b.Systems() {
		if s.Pieces == 0 {
			t.Errorf("nothing counts on the %s side", s.Name)
		}
	}
}
