package suspect

import (
	"context"
	"math"
	"slices"

	"faultwright/faulttree/lists"
)

// answers is what the cases of one kind answer to a question.
type answers struct {
	task    int
	rig     string
	of      []int     // positions in the sample of those that answer
	told    []int     // of these, the ones whose faults change the answer, or all where none do
	by      []float64 // by choice, or by code of a reading, how often it is answered
	changed []float64 // the same of those whose faults change the answer
	values  []sample  // by choice, the chances of it; of a reading its codes alone
}

// answers is what each kind of some tasks answers.
func (c *chooser) answers(a asked, changed []bool, tasks [][]int) []*answers {
	var out []*answers
	for task, group := range tasks {
		of := map[int32]*answers{}
		for _, k := range group {
			if a.column != nil && a.column[k] != a.column[k] { // not a number: it reads nothing
				continue
			}
			i := c.sample[k]
			x := of[c.pool.kind[i]]
			if x == nil {
				x = &answers{task: task, rig: c.pool.cases[i].Rig}
				of[c.pool.kind[i]], out = x, append(out, x)
			}
			x.of = append(x.of, k)
			if changed == nil || changed[k] {
				x.told = append(x.told, k)
			}
		}
	}
	for _, x := range out {
		x.by, x.changed = c.byAnswer(a, x.of), c.byAnswer(a, x.told)
		if len(x.told) == 0 {
			x.told = x.of
		}
		for choice := range max(1, len(a.chances)) {
			x.values = append(x.values, sampleOf(func(k int) float64 { return a.value(k, choice) }, c.weight, x.of))
		}
	}
	return out
}

// value is how likely a case answers with a choice; of a reading its code.
func (a *asked) value(k, choice int) float64 {
	if a.chances == nil {
		return float64(a.codes[k])
	}
	return float64(a.chances[choice][k])
}

// byAnswer is how often some of the sample give each answer.
func (c *chooser) byAnswer(a asked, of []int) []float64 {
	if a.chances == nil {
		by := make([]float64, slices.Max(a.codes)+1)
		for _, k := range of {
			by[a.codes[k]] += c.weight[k]
		}
		return by
	}
	by := make([]float64, len(a.chances))
	for choice, chance := range a.chances {
		for _, k := range of {
			if p := float64(chance[k]); p > 0 { // a number
				by[choice] += p * c.weight[k]
			}
		}
	}
	return by
}

// total is the sum of how often each answer is given.
func total(by []float64) float64 { return lists.Sum(by, func(w float64) float64 { return w }) }

// changed reports by case of the sample whether what is wrong with it changes the answer to
// a question: before that it answered otherwise. Nil where nobody knows.
func (c *chooser) changed(ctx context.Context, a asked) ([]bool, error) {
	if c.before == nil || a.Again {
		return nil, nil
	}
	out := make([]bool, len(c.sample))
	if a.Observation == nil && a.Intervention == nil {
		column, err := c.before.Column(ctx, *a.Quantity)
		bins := newBins(c.reasoner.meter, *a.Quantity)
		for k := range column {
			out[k] = !bins.alike(float64(column[k]), float64(a.column[k]))
		}
		return out, err
	}
	for choice, chances := range a.chances {
		before, err := c.answeredBefore(ctx, a, choice)
		if err != nil {
			return nil, err
		}
		for k, p := range chances {
			out[k] = out[k] || !(math.Abs(float64(p-before[k])) < hardly) // also what is not a number
		}
	}
	return out, nil
}

// hardly is a difference between two chances that is none. Common practice, no source.
const hardly = 0.02

// answeredBefore is how likely each case answered with a choice before anything went wrong.
func (c *chooser) answeredBefore(ctx context.Context, a asked, choice int) ([]float32, error) {
	if a.Observation != nil {
		return c.before.Seen(ctx, a.Observation.ID, a.Observation.Choices[choice].ID)
	}
	gone, err := c.before.Gone(ctx, a.Intervention.ID, c.reader.Tree)
	if choice == 0 {
		return gone, err
	}
	return lists.Each(gone, func(p float32) float32 { return 1 - p }), err
}

// leastApart is how many bits tell two kinds apart at all; less is rounding.
const leastApart = 1e-9

// furthest is the two kinds of different tasks that a question tells apart best; nil where
// it tells none.
func furthest(all []*answers) (one, other *answers) {
	most := leastApart
	for i, y := range all {
		for _, x := range all[:i] {
			if x.task == y.task {
				continue
			}
			if bits := x.bitsBeside(y); bits > most {
				one, other, most = x, y, bits
			}
		}
	}
	return one, other
}

// bitsBeside is what the answer tells about which of two kinds it is, by what their faults
// change alone: where these change nothing both answer alike. Kinds of two rigs differ by
// more than faults, and tell what they answer where that is no chance.
func (x *answers) bitsBeside(y *answers) float64 {
	if x.rig != y.rig {
		if x.differs(y) {
			return bitsBetween(x.by, y.by)
		}
		return 0
	}
	ofX, ofY := slices.Clone(x.changed), slices.Clone(y.changed)
	aloneX, aloneY := total(x.by)-total(ofX), total(y.by)-total(ofY)
	if alone := aloneX + aloneY; alone > 0 {
		for i := range ofX {
			part := (x.by[i] - x.changed[i] + y.by[i] - y.changed[i]) / alone
			ofX[i] += aloneX * part
			ofY[i] += aloneY * part
		}
	}
	return bitsBetween(ofX, ofY)
}

// differs reports whether two kinds answer differently by more than chance.
func (x *answers) differs(y *answers) bool {
	for choice := range x.values {
		if x.values[choice].differs(y.values[choice]) {
			return true
		}
	}
	return false
}

// bitsBetween is what an answer tells about which of two it is of, each with how often it
// gives every answer.
func bitsBetween(x, y []float64) float64 {
	log := func(w float64) float64 {
		if w <= 0 {
			return 0
		}
		return w * math.Log2(w)
	}
	bits := log(total(x)+total(y)) - log(total(x)) - log(total(y))
	for i, a := range x {
		bits += log(a) + log(y[i]) - log(a+y[i])
	}
	return bits
}
