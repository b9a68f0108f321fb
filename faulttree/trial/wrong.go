package trial

import "faultwright/faulttree"

// WrongReading is a reading of a walk that went wrong once.
type WrongReading struct {
	Step     string `json:"step"` // tree#step
	Quantity string `json:"quantity"`
	How      string `json:"how"`   // a missed contact, a frozen display, the contact beside
	Shown    string `json:"shown"` // with its unit
	Right    string `json:"right"` // what it would have been
}

// wrongIn lists the readings of a walk of the reader's draw that went wrong, in
// order. One that a slip left as it was is none.
func (t *trial) wrongIn(k *reader, w faulttree.Walk) ([]WrongReading, error) {
	if t.options.Wrong == 0 {
		return nil, nil
	}
	var out []WrongReading
	times := map[string]int{}
	proofs := 0
	for _, e := range w.Trail() {
		asked := w.Asked(e.Step)
		var taken []faulttree.Quantity
		for i, r := range e.Answer.Readings {
			if i >= len(asked.Measure) || r.Quality == faulttree.NotPossible {
				continue
			}
			q := asked.Measure[i].Quantity
			taken = append(taken, q)
			how, wrong := k.slipOf(times[q.ID], q, t.options.Wrong)
			if !wrong {
				continue
			}
			right, err := k.reading(q, proofs)
			if err != nil {
				return nil, err
			}
			if !right.Same(r) {
				out = append(out, WrongReading{e.Step.String(), q.ID, how.String(), r.Show(q.Unit), right.Show(q.Unit)})
			}
		}
		for _, q := range taken {
			times[q.ID]++
			if q.Proves == faulttree.ProvesVoltsAC {
				proofs++
			}
		}
	}
	return out, nil
}
