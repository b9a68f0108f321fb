package mark

import (
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/rubric"
)

// truth is what is wrong with the vehicle, and where; what comes along is among it,
// mistakes with the meter are not.
func (g *marker) truth() []faulttree.FaultAt {
	var out []faulttree.FaultAt
	for _, a := range g.c.Faults {
		if a.Fault.Variants[a.Variant].Shows() {
			out = append(out, g.placed(a)...)
		}
	}
	return out
}

// placed is a fault in its place, and what comes along with it.
func (g *marker) placed(a rig.Applied) []faulttree.FaultAt {
	v := a.Fault.Variants[a.Variant]
	if !v.Shows() {
		return []faulttree.FaultAt{{Fault: a.Fault.ID, Place: faulttree.MeterOwn}}
	}
	out := []faulttree.FaultAt{{Fault: a.Fault.ID, Place: v.Place}}
	for _, id := range v.With {
		if i := slices.IndexFunc(g.b.Faults, func(f *rig.Fault) bool { return f.ID == id }); i >= 0 {
			out = append(out, faulttree.FaultAt{Fault: id, Place: g.b.Faults[i].Along(v)})
		}
	}
	return out
}

// cleared is the conclusion that no fault was found where there is one that can kill.
func (g *marker) cleared(ended int) {
	if done := g.a.Conclusion; done != nil {
		if what := g.passedBy(*done); what != "" {
			g.add(rubric.ClearedDanger, ended, nil, "You found no fault where there is one that can kill: %s. Whoever believes that uses the vehicle as it is.", what)
		}
	}
}

// passedBy names the first fault that can kill which a conclusion that no fault was found
// passes by; "" where it is another conclusion, or each is named as open, itself or by what
// comes along with it.
func (g *marker) passedBy(done practice.Conclusion) string {
	if !slices.Equal(done.Faults, []string{practice.NoFault}) {
		return ""
	}
	named := func(at faulttree.FaultAt) bool {
		return slices.ContainsFunc(done.Open, func(open faulttree.FaultAt) bool { return open.Covers(at) })
	}
	for _, a := range g.c.Faults {
		kill := lists.Where(g.placed(a), func(at faulttree.FaultAt) bool {
			return g.b.Describe(at.Fault, at.Place).Hazard == faulttree.Danger
		})
		if len(kill) > 0 && !slices.ContainsFunc(kill, named) {
			return fmt.Sprintf("“%s” (%s)", g.b.Describe(kill[0].Fault, kill[0].Place).Title, kill[0].Place.Word())
		}
	}
	return ""
}

// amiss says that something else is wrong. A vehicle that can kill and was found to be in
// order comes first: nothing worse can be said of it.
func (g *marker) amiss(done practice.Conclusion) string {
	if what := g.passedBy(done); what != "" {
		return "You found no fault where there is one that can kill: " + what + "."
	}
	return "It is something else."
}
