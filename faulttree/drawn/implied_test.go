package drawn_test

import (
	"maps"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// stands is a rig of these facts with parts that end at some points.
func stands(id string, facts map[string]string, battery bool, points ...string) *rig.Rig {
	r := &rig.Rig{ID: id, Facts: facts}
	source := rig.NewPart("source", rig.Source, "body", "earth")
	source.Direct = battery
	r.Parts = append(r.Parts, source)
	for _, p := range points {
		r.Parts = append(r.Parts, rig.NewPart("part at "+p, rig.Joint, p, "0"))
	}
	return r
}

// coaches are a coach and a trailer at a site, with an adapter and without, a coach
// on its generator, and the 12 V side of a trailer.
func coaches() drawn.Handbook {
	facts := func(service, adapter, source string) map[string]string {
		return map[string]string{"service": service, "adapter": adapter, "source": source}
	}
	return drawn.Handbook{Forest: &faulttree.Forest{}, Rigs: []*rig.Rig{
		stands("coach", facts("50a", "none", "shore"), false, "site.l1", "site.l2", "panel.l1", "panel.l2"),
		stands("coach-wye", facts("50a", "none", "shore"), false, "site.l1", "site.l2", "panel.l1", "panel.l2"),
		stands("trailer", facts("30a", "none", "shore"), false, "site.l1", "panel.l1"),
		stands("adapted", facts("30a", "yes", "shore"), false, "site.l1", "site.l2", "adapter.l1", "panel.l1"),
		stands("own", facts("50a", "none", "generator"), false, "generator.l1", "panel.l1", "panel.l2"),
		stands("battery", facts("30a", "none", "shore"), true, "battery.pos", "site.l1"),
	}}
}

func at(point string) faulttree.Quantity {
	q := quantity(point, faulttree.VoltsAC, point, "")
	if point == "site.l2" {
		q.Needs = faulttree.Needs{"service": {"50a"}}
	}
	return q
}

// A reading implies a fact where only vehicles have it of which that holds, and
// others, alike in all else, have not.
func TestWhatReadingsImply(t *testing.T) {
	for _, c := range []struct {
		name  string
		known map[string]string
		read  []string
		want  map[string]string // fact=choice, and the reading that says so
	}{
		{"nothing is read", nil, nil, nil},
		{"all have it", nil, []string{"panel.l1"}, nil},
		{"a second hot", nil, []string{"panel.l1", "panel.l2"}, map[string]string{"service=50a": "panel.l2"}},
		{"a second hot, stated already", map[string]string{"service": "50a"}, []string{"panel.l2"}, nil},
		{"against what is stated", map[string]string{"service": "30a"}, []string{"panel.l2"}, nil},
		{"at the site: who has an adapter has the second hot in the model, but no reader is asked it", nil, []string{"site.l2"}, map[string]string{"service=50a": "site.l2", "source=shore": "site.l2"}},
		{"on the generator: no trailer has one, which says nothing of the service", nil, []string{"generator.l1"}, map[string]string{"source=generator": "generator.l1"}},
		{"with an adapter", nil, []string{"adapter.l1"}, map[string]string{"adapter=yes": "adapter.l1"}},
		{"two readings together", nil, []string{"panel.l2", "site.l1"}, map[string]string{"service=50a": "panel.l2", "source=shore": "site.l1"}},
		{"no vehicle has both", nil, []string{"adapter.l1", "panel.l2"}, nil},
		{"the battery of any vehicle", nil, []string{"battery.pos"}, nil},
		{"a second hot beside the battery", nil, []string{"battery.pos", "panel.l2"}, map[string]string{"service=50a": "panel.l2"}},
		{"what no vehicle has", nil, []string{"solar.pos"}, nil},
		{"facts that no vehicle has", map[string]string{"service": "15a"}, []string{"panel.l2"}, nil},
	} {
		read := lists.Each(c.read, at)
		got := map[string]string{}
		for _, i := range drawn.ImpliedBy(coaches(), c.known, read) {
			got[i.Fact+"="+i.Choice] = i.By.ID
		}
		if !maps.Equal(got, c.want) && len(got)+len(c.want) > 0 {
			t.Errorf("%s: implied is %v, want %v", c.name, got, c.want)
		}
	}
}

// What is implied leaves vehicles out as what is stated does, but never all of a
// system.
func TestImpliedFactsLeaveNoSystemEmpty(t *testing.T) {
	of := func(o drawn.Options) map[string]bool {
		rigs := map[string]bool{}
		for _, c := range population(t, o).Cases() {
			rigs[c.Rig] = true
		}
		return rigs
	}
	if got := of(drawn.Options{Implied: map[string]string{"source": "generator"}}); len(got) != 1 || !got["on-generator"] {
		t.Errorf("with an implied source vehicles are drawn of %v", got)
	}
	if got := of(drawn.Options{Implied: map[string]string{"source": "inverter"}}); len(got) != 2 {
		t.Errorf("implied facts that none agrees with leave %v", got)
	}
	if got := of(drawn.Options{Facts: shore.Facts, Implied: map[string]string{"source": "generator"}}); len(got) != 1 || !got["trailer"] {
		t.Errorf("implied facts outrank what is stated: %v", got)
	}
}
