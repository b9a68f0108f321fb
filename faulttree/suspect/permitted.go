package suspect

import (
	"context"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Permitted lists those of some quantities that may be read now, by what [Belief.Next]
// keeps to: role, state, danger and tools, and what must be read before. Whether they tell
// anything is not asked. An error is that of the population or of ctx.
func (b *Belief) Permitted(ctx context.Context, rules *Rules, reader Reader, qs ...faulttree.Quantity) ([]faulttree.Quantity, error) {
	choosers := b.choosers(rules, reader)
	some := lists.Where(qs, func(q faulttree.Quantity) bool {
		return slices.ContainsFunc(choosers, func(c *chooser) bool { return c.permits(q) })
	})
	if err := solveTogether(ctx, b.pool.Population, some); err != nil {
		return nil, err
	}
	var out []faulttree.Quantity
	for _, q := range some {
		column, err := b.pool.Column(ctx, q)
		if err != nil {
			return nil, err
		}
		i := slices.IndexFunc(column, func(x float32) bool { return !math.IsNaN(float64(x)) })
		if i >= 0 && choosers[b.pool.system(i)].permits(q) {
			out = append(out, q)
		}
	}
	return out, nil
}

// permits reports whether a quantity of the system may be read now.
func (c *chooser) permits(q faulttree.Quantity) bool {
	return slices.Contains(c.rules.ids, q.ID) && c.allowed(q) && !slices.ContainsFunc(c.rules.gates(q, c.reader.Known), func(g gate) bool {
		passed, _ := c.passed(g)
		return !passed
	})
}

// Energises reports whether the vehicle may be energised to see whether something that is
// tried helps: not after a STOP, from a dangerous supply, nor while loads are in doubt.
func (b *Belief) Energises(rules *Rules, reader Reader) bool {
	return !slices.ContainsFunc(b.choosers(rules, reader), func(c *chooser) bool {
		return b.counts(c.system) && c.keepsDead()
	})
}

// choosers is what may be proposed of each system.
func (b *Belief) choosers(rules *Rules, reader Reader) []*chooser {
	if reader.Known == nil {
		reader.Known = func(string) string { return "" }
	}
	noPlug, system := b.NoPlug(rules.forest, reader.Known), -1
	return lists.Each(b.pool.systems, func(string) *chooser {
		system++
		c := &chooser{Belief: b, rules: rules, reader: reader, system: system, noPlug: noPlug}
		c.state()
		return c
	})
}
