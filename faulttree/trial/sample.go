package trial

import (
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/asking"
	"faultwright/faulttree/lists"
)

// sample is the vehicles of a dataset as cases of questions.
type sample struct {
	asking.Sample
	asks []int // by question, the quantity; one more than the last is the proof of the meter again
}

// sampleFor makes the cases for one role: questions are what it may ask and some
// walk asked.
func (t *trial) sampleFor(n *tally, role faulttree.Role, until string) *sample {
	d, g := t.data, n.gates[role]
	s := &sample{Sample: asking.Sample{Known: endKnown, Last: map[int]int{}}}
	for q := range d.quantities[:d.quantityCount[role]] {
		if g.taken[q] {
			s.asks = append(s.asks, q)
		}
	}
	proof := slices.Index(s.asks, d.proof())
	if proof >= 0 {
		s.asks = append(s.asks, len(d.quantities))
	}
	for i := range s.asks {
		s.Questions = append(s.Questions, t.question(s, g, i, proof, role))
		s.Columns = append(s.Columns, asking.Column{Needs: []int{i}})
	}
	from := slices.Clone(s.asks) // by column, where its code stands
	for k := range d.derived[:d.derivedCount[role]] {
		if needs, ok := s.needs(d, k); ok {
			s.Columns = append(s.Columns, asking.Column{Needs: needs})
			from = append(from, len(d.quantities)+1+k)
		}
	}
	free := len(d.quantities) + 1 + len(d.derived)
	for k, at := range d.looks {
		if at.For <= role {
			s.Columns = append(s.Columns, asking.Column{})
			from = append(from, free+k)
		}
	}
	for k := range t.forest.Facts {
		s.Columns = append(s.Columns, asking.Column{})
		from = append(from, free+len(d.looks)+k)
	}
	results := t.results(n, until)
	for slot, codes := range d.codes {
		c := asking.Case{Shows: make([]uint8, len(from)), Result: results[d.worst[role][slot].endpoint], Otherwise: float64(d.worst[role][slot].cost)}
		for i, k := range from {
			c.Shows[i] = codes[k]
		}
		s.Cases = append(s.Cases, c)
	}
	if proof >= 0 {
		for e, proved := range g.proved {
			if last, met := s.Last[results[e]]; proved > 0 && (!met || last >= 0) {
				s.Last[results[e]] = len(s.asks) - 1
			} else if proved < 0 {
				s.Last[results[e]] = -1
			}
		}
	}
	return s
}

// question is question i of a sample: one of the dataset's quantities, or the
// proof of the meter again.
func (t *trial) question(s *sample, g *gates, i, proof int, role faulttree.Role) asking.Question {
	d := t.data
	if s.asks[i] == len(d.quantities) {
		return asking.Question{Cost: float64(t.weights().Of(d.quantities[s.asks[proof]])), After: []int{proof}, AfterStop: true}
	}
	q := d.quantities[s.asks[i]]
	out := asking.Question{Cost: float64(t.weights().Of(q)), AfterStop: q.AllowedAfterStop() && (role == faulttree.Qualified || !touchesLive(q))}
	spike := false
	for k, other := range s.asks {
		if k == i || other == len(d.quantities) || !g.before[s.asks[i]][other] {
			continue
		}
		before := d.quantities[other]
		onSpike := q.Exposure == faulttree.AtBody && before.Exposure == faulttree.AtSupply && before.Black == q.Black && !before.OfMeter()
		hurts := d.scales[other].limited && touchesLive(before) && touchesLive(q)
		if hurts || before.OfMeter() || q.Unit == faulttree.Ohms && before.Unit != faulttree.Ohms && before.Has(faulttree.Unplugged) || onSpike && !spike {
			out.After = append(out.After, k)
			spike = spike || onSpike
		}
	}
	if touchesLive(q) && !g.liveFirst[s.asks[i]] && slices.ContainsFunc(s.asks, func(k int) bool { return k < len(d.quantities) && deadTest(d.quantities[k]) }) {
		out.Rank = 1
	}
	for code := range d.scales[s.asks[i]].most() {
		if d.scales[s.asks[i]].hurts(uint8(code)) {
			out.Stops = append(out.Stops, uint8(code))
		}
	}
	return out
}

// needs lists the questions that a sum of the dataset needs; false where one of
// them is not asked.
func (s *sample) needs(d *dataset, k int) ([]int, bool) {
	var out []int
	for _, term := range d.derived[k].of.Terms {
		id := d.derived[k].step.Measure[term.Var].Quantity.ID
		i := slices.IndexFunc(s.asks, func(q int) bool { return q < len(d.quantities) && d.quantities[q].ID == id })
		if i < 0 {
			return nil, false
		}
		out = lists.With(out, i)
	}
	return out, true
}

// results numbers the endpoints: each by itself, or those together that have the
// same signal, clear the same and leave the same to be done.
func (t *trial) results(n *tally, until string) []int {
	out := make([]int, len(t.endpoints))
	at := map[string]int{}
	for i, e := range t.endpoints {
		key := e.ref.String()
		if until == "task" {
			key = fmt.Sprint(e.handed, e.noFault, e.finding.Signal, e.finding.Clears, t.pointedAt(n.tasks, i, whole))
		}
		if _, known := at[key]; !known {
			at[key] = len(at)
		}
		out[i] = at[key]
	}
	return out
}

func (t *trial) weights() faulttree.Weights {
	if t.forest.Weights == (faulttree.Weights{}) {
		return faulttree.DefaultWeights()
	}
	return t.forest.Weights
}
