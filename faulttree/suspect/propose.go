package suspect

import (
	"context"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/asking"
)

// propose makes a question of everything that may be proposed.
func (c *chooser) propose(ctx context.Context) error {
	var qs []faulttree.Quantity
	for _, id := range c.rules.ids {
		if q := c.rules.forest.Quantities[id]; !c.known(id) && c.allowed(q) {
			qs = append(qs, q)
		}
	}
	if err := solveTogether(ctx, c.few, qs); err != nil {
		return err
	}
	for _, id := range c.rules.ids {
		if err := c.quantity(ctx, id); err != nil {
			return err
		}
	}
	if c.untested {
		return nil
	}
	if err := c.repeats(ctx); err != nil {
		return err
	}
	for i := range c.rules.forest.Observations {
		if err := c.observation(ctx, &c.rules.forest.Observations[i]); err != nil {
			return err
		}
	}
	for i := range c.rules.forest.Interventions {
		if err := c.intervention(ctx, &c.rules.forest.Interventions[i]); err != nil {
			return err
		}
	}
	return nil
}

// quantity makes a question of a quantity, behind those of its gates, unless it
// may not be proposed, was read or tells nothing of the system.
func (c *chooser) quantity(ctx context.Context, id string) error {
	if _, done := c.questions[id]; done {
		return nil
	}
	c.questions[id] = -1
	q := c.rules.forest.Quantities[id]
	if c.known(id) || !c.allowed(q) {
		return nil
	}
	column, err := c.few.Column(ctx, q)
	if err != nil {
		return err
	}
	a := asked{Next: Next{Quantity: &q}}
	stops, ok := c.read(&a, column)
	if !ok {
		return nil
	}
	question, ok, err := c.gated(ctx, q)
	if err != nil || !ok {
		return err
	}
	question.Stops = stops
	c.questions[id] = len(c.asked)
	c.asked, c.look.Questions = append(c.asked, a), append(c.look.Questions, question)
	return nil
}

// gated is the question of a quantity, behind those of its gates, for which it makes
// questions too; false where one of them may not be proposed.
func (c *chooser) gated(ctx context.Context, q faulttree.Quantity) (question asking.Question, ok bool, err error) {
	question = asking.Question{Cost: c.price(q.Exposure, q.Effort), AfterStop: c.rules.afterStop(q)}
	if touchesLive(q) {
		question.Rank = 1
	}
	for _, g := range c.rules.gates(q, c.reader.Known) {
		switch passed, open := c.passed(g); {
		case passed:
			continue
		case !open:
			return question, false, nil
		}
		if err := c.quantity(ctx, g.id); err != nil {
			return question, false, err
		}
		before := c.questions[g.id]
		if before < 0 {
			return question, false, nil
		}
		question.After = append(question.After, before)
	}
	return question, true, nil
}

// known reports whether a quantity was read in this round, or was tried in vain.
func (c *chooser) known(id string) bool {
	return slices.ContainsFunc(c.evidence, func(e Evidence) bool { return e.Quantity.ID == id })
}

// passed reports whether a gate is opened by the evidence, and if not, whether it
// still can be. The last reading counts; but pins that were live once stay so.
func (c *chooser) passed(g gate) (passed, open bool) {
	open = true
	for _, e := range c.evidence {
		if e.Quantity.ID != g.id {
			continue
		}
		open = false
		passed = c.rules.opens(g, e.Reading, c.reasoner.meter)
		if !passed && g.why == deadPins {
			return false, false
		}
	}
	return passed, open
}

// allowed reports whether role, state, safety and tools allow q, apart from what
// must come before it.
func (c *chooser) allowed(q faulttree.Quantity) bool {
	switch {
	case !c.reader.has(q):
		return false
	case c.stopped && !c.rules.afterStop(q), c.untested && touchesLive(q):
		return false
	case c.noPlug && q.NeedsPlug():
		return false
	case c.noLoads && q.Has(faulttree.Loaded) || c.noInside && q.Exposure == faulttree.InsideBody:
		return false
	}
	return true
}

// price is what something costs by its exposure, its effort beyond 1 added.
func (c *chooser) price(e faulttree.Exposure, effort int) float64 {
	w := c.rules.forest.Weights
	if w == (faulttree.Weights{}) {
		w = faulttree.DefaultWeights()
	}
	return float64(max(1, w[e]) + max(0, effort-1))
}

// observation makes a question of what can be seen, unless it was said.
func (c *chooser) observation(ctx context.Context, o *faulttree.Observation) error {
	if o.Needs.Unmet(c.reader.Known) || slices.ContainsFunc(c.evidence, func(e Evidence) bool { return e.Seen != nil && e.Seen.Observation == o.ID }) {
		return nil
	}
	a := asked{Next: Next{Observation: o}}
	var chances [][]float32
	for _, s := range o.Choices {
		column, err := c.few.Seen(ctx, o.ID, s.ID)
		if err != nil {
			return err
		}
		chances, a.words = append(chances, column), append(a.words, "“"+faulttree.InSentence(s.Text)+"”")
	}
	c.guess(a, chances, asking.Question{Cost: c.price(faulttree.Unexposed, 1), AfterStop: true})
	return nil
}

// intervention makes a question of what can be tried, unless it was. After a STOP,
// from a dangerous supply and while loads are in doubt nothing is energised to see whether
// it helps.
func (c *chooser) intervention(ctx context.Context, v *faulttree.Intervention) error {
	tried := slices.ContainsFunc(c.evidence, func(e Evidence) bool { return e.Tried != nil && e.Tried.Intervention == v.ID })
	if tried || !v.Offered(c.reader.Tree, c.rules.role, c.reader.Known) || v.Exposure.Live() && c.keepsDead() {
		return nil
	}
	gone, err := c.few.Gone(ctx, v.ID, c.reader.Tree)
	if err != nil {
		return err
	}
	still := make([]float32, len(gone))
	for i, p := range gone {
		still[i] = 1 - p
	}
	question := asking.Question{Cost: c.price(v.Exposure, v.Effort), AfterStop: !v.Exposure.Live()}
	if v.Exposure.Live() {
		question.Rank = 1
	}
	c.guess(asked{Next: Next{Intervention: v}, words: []string{"gone", "still there"}}, [][]float32{gone, still}, question)
	return nil
}

// keepsDead reports whether nothing is energised to see whether something helps.
func (c *chooser) keepsDead() bool { return c.stopped || c.noPlug || c.noLoads }

// guess makes a question whose answers have these chances by case: each case of
// the sample gives one, the one that those before it still owe most of, so that all
// together give each as often as its chance is.
func (c *chooser) guess(a asked, chances [][]float32, question asking.Question) {
	a.codes, a.chances = make([]uint8, len(c.sample)), chances
	told := make([]bool, len(c.sample))
	owed := make([]float64, len(chances))
	for k := range c.sample {
		most, sum := -1, 0.0
		for choice, column := range chances {
			if p := float64(column[k]); p == p {
				sum += p
				owed[choice] += p * c.weight[k]
				if p > 0 && (most < 0 || owed[choice] > owed[most]) {
					most = choice
				}
			}
		}
		if told[k] = sum > 0; told[k] {
			owed[most] -= c.weight[k]
			a.codes[k] = uint8(most + 1)
		}
	}
	if c.complete(a.codes, told) {
		c.asked, c.look.Questions = append(c.asked, a), append(c.look.Questions, question)
	}
}

// read fills in what the sample reads, with its codes, and lists those that stop;
// false where most read nothing.
func (c *chooser) read(a *asked, column []float32) (stops []uint8, ok bool) {
	q := *a.Quantity
	told := make([]bool, len(c.sample))
	bins := newBins(c.reasoner.meter, q)
	for k := range c.sample {
		if x := float64(column[k]); !math.IsNaN(x) {
			told[k] = true
			bins.add(k, x, c.weight[k], c.rules)
		}
	}
	a.column = column
	a.codes, stops = bins.codes(len(c.sample))
	if len(stops) == 0 && c.foreseen(bins, column) {
		for k := range a.codes {
			a.codes[k] = 1
		}
	}
	return stops, c.complete(a.codes, told)
}

// complete gives cases that tell nothing the codes of others, so that having none
// tells nothing either; false where most have none.
func (c *chooser) complete(codes []uint8, told []bool) bool {
	var from []int
	weight := 0.0
	for k, ok := range told {
		if ok {
			from = append(from, k)
			weight += c.weight[k]
		}
	}
	if weight < 0.5 {
		return false
	}
	for k, ok := range told {
		if !ok {
			codes[k] = codes[from[k*7919%len(from)]]
		}
	}
	return true
}
