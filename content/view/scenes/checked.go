package scenes

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
)

// Checked is what an author should know of a scenario before it is handed out.
// All of it is advice: what makes a scenario unusable, its loader says.
type Checked struct {
	Solved      Solved
	Unsolved    string   // why it counts as not solvable, a sentence; "" where it can be solved
	Contradicts []string // where the answer speaks of another fault or place, or the story of what cannot be seen
	GivesAway   []string // where the story says what is to be found
	Meter       string   // where a mistake with the meter shows, a sentence; "" without one
}

// Fine reports whether nothing is to be mended.
func (c Checked) Fine() bool {
	return c.Unsolved == "" && len(c.Contradicts) == 0 && len(c.GivesAway) == 0
}

// Check says whether what is permitted can solve a scenario, whether its answer or its
// story contradicts what is hidden, and whether its story gives that away.
func (r *Reasoning) Check(ctx context.Context, s *content.Scenario) (Checked, error) {
	solved, err := r.Solve(ctx, s)
	if err != nil {
		return Checked{}, err
	}
	unseen, err := unseen(r.lib, s)
	if err != nil {
		return Checked{}, err
	}
	out := Checked{Solved: solved, GivesAway: givesAway(r.lib, s), Contradicts: append(contradicts(r.lib, s), unseen...)}
	out.Unsolved = unsolved(r.lib, s, solved)
	if len(s.Meter) > 0 {
		shows, err := r.meterShows(s)
		if err != nil {
			return Checked{}, err
		}
		if out.Meter = "The mistake with the meter shows at " + shows + "."; shows == "" {
			out.Meter = "The mistake with the meter shows nowhere: neither its proof nor a reading of this vehicle is otherwise than with a right one."
			out.Unsolved = strings.TrimSpace(out.Unsolved + " " + out.Meter)
		}
	}
	return out, nil
}

// unsolved says why a scenario counts as not solvable. A vehicle in order, which
// nothing clears, and dangers that the scenario itself leaves open are no reason.
func unsolved(lib *content.Library, s *content.Scenario, v Solved) string {
	left := slices.DeleteFunc(slices.Clone(v.Rest), func(at faulttree.FaultAt) bool {
		return slices.ContainsFunc(s.Expect.Open, func(open faulttree.FaultAt) bool { return open.Covers(at) })
	})
	switch {
	case v.Held(), len(Hidden(lib, s)) == 0:
		return ""
	case len(v.Rest) > 0 && len(left) == 0:
		return ""
	case len(v.Else) == 0:
		return fmt.Sprintf("All that is permitted leaves %s for what is hidden; nothing else fits better.", view.ShareText(v.Share))
	}
	return fmt.Sprintf("All that is permitted leaves %s for what is hidden. What fits as well: %s.", view.ShareText(v.Share), strings.Join(v.Else, "; "))
}

// meterShows says where the mistakes with the meter show: in its proof, or only in
// readings of the vehicle; "" where they show nowhere.
func (r *Reasoning) meterShows(s *content.Scenario) (string, error) {
	c := CaseOf(r.lib, s)
	v, err := standing(s)
	if err != nil {
		return "", err
	}
	right, wrong := meter.New(meter.NewFace(r.meter), nil), meter.New(meter.NewFace(r.meter), nil)
	wrong.Apply(c.Faults)
	differs := func(qs []faulttree.Quantity) (bool, error) {
		for _, q := range qs {
			a, err := right.Read(v.Asked(v.Legs()), q)
			if err != nil {
				return false, err
			}
			b, err := wrong.Read(v.Asked(v.Legs()), q)
			if err != nil {
				return false, err
			}
			if a.Text != b.Text || a.Hazard != b.Hazard {
				return true, nil
			}
		}
		return false, nil
	}
	var proofs []faulttree.Quantity
	for _, id := range r.lib.Forest.Quantities.IDs() {
		if q := r.lib.Forest.Quantities[id]; q.OfMeter() && (q.Unit != faulttree.VoltsDC || c.Direct()) && (q.Unit != faulttree.VoltsAC || !c.Direct()) {
			proofs = append(proofs, q)
		}
	}
	// A hold is proved by a second reading: the first one stays.
	for _, x := range []struct {
		at []faulttree.Quantity
		in string
	}{{proofs, "its proof"}, {Permitted(r.lib, s)[0], "readings of the vehicle"}} {
		if shows, err := differs(x.at); shows || err != nil {
			return x.in, err
		}
	}
	return "", nil
}
