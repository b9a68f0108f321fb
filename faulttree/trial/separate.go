package trial

import (
	"context"
	"math"
	"slices"

	"faultwright/faulttree"
)

// Separable is a fault that a finding of no fault leaves possible although one
// more reading would show it.
type Separable struct {
	Fault   string  `json:"fault"`
	Role    string  `json:"role"`
	Reading string  `json:"reading"` // the quantity that shows most
	Share   float64 `json:"share"`   // of what the beliefs at this finding give to the fault: there it shows
}

const (
	falsePositives = 0.01  // share of sound vehicles that a reading may call faulty
	leastShown     = 0.5   // share of a fault's vehicles that a reading must show to be worth telling
	leastLeft      = 0.005 // share of a fault at a finding below which nothing is said
	fewEach        = 10    // vehicles below which nothing is said
)

// separable looks, at every finding of no fault, for single readings open to a
// role: how much of what the beliefs after the walks that ended there give to a
// dangerous fault lies outside what all but one in a hundred sound vehicles show.
func (j *judge) separable(ctx context.Context, judged []judged, role int, r *Report) error {
	for f := range j.endpoints {
		if !j.endpoints[f].noFault {
			continue
		}
		walks, sum := 0, make([][]float64, len(j.peers)) // by peers and case
		for i, p := range j.peers {
			sum[i] = make([]float64, len(p.of))
		}
		for _, v := range judged {
			for _, e := range v.ends[role] {
				if e.endpoint == f {
					walks++
					for _, x := range e.likely {
						sum[j.at[v.rig]][x.at] += float64(x.share)
					}
				}
			}
		}
		if walks < fewEach {
			continue
		}
		for fault := range j.plan.faults {
			if j.onlyMeter(fault) || j.plan.faults[fault].Hazard != faulttree.Danger {
				continue
			}
			best := Separable{Fault: j.plan.id(fault), Role: roles[role].String()}
			for _, q := range j.data.quantities[:j.data.quantityCount[role]] {
				shown, all, err := j.shown(ctx, sum, fault, q)
				if err != nil {
					return err
				}
				if x := shown / max(all, math.SmallestNonzeroFloat64); all >= leastLeft*float64(walks) && x > best.Share {
					best.Reading, best.Share = q.ID, x
				}
			}
			if best.Share >= leastShown {
				r.Findings[f].Separable = append(r.Findings[f].Separable, best)
			}
		}
	}
	return nil
}

// shown is how much of what is given to a fault a reading tells from sound
// vehicles, as finely as a verdict may rest on it, and how much there is.
func (j *judge) shown(ctx context.Context, sum [][]float64, fault int, q faulttree.Quantity) (shown, all float64, err error) {
	for i, shares := range sum {
		column, err := j.peers[i].Column(ctx, q)
		if err != nil {
			return 0, 0, err
		}
		steps := func(c int) float64 { return j.face.Model.Steps(float64(column[c]), q.Unit) }
		var sound []float64
		for c, stratum := range j.peers[i].of {
			if x := column[c]; j.plan.strata[stratum].group == 0 && x == x {
				sound = append(sound, steps(c))
			}
		}
		slices.Sort(sound)
		cut := int(falsePositives / 2 * float64(len(sound)))
		for c, share := range shares {
			group := j.plan.strata[j.peers[i].of[c]].group
			if x := column[c]; share == 0 || x != x || len(sound) == 0 || group == 0 || !slices.Contains(j.plan.groups[group-1], fault) {
				continue
			}
			all += share
			if x := steps(c); x < sound[cut] || x > sound[len(sound)-1-cut] {
				shown += share
			}
		}
	}
	return shown, all, nil
}
