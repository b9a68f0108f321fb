package suspect

import (
	"context"

	"faultwright/faulttree"
)

// only is some cases of a population by themselves: by the method Only of the
// population, where it has one that solves these alone.
func only(p Population, cases []int) Population {
	if own, ok := p.(interface{ Only(cases []int) Population }); ok {
		return own.Only(cases)
	}
	return &subset{p, cases}
}

// subset is some cases of a population whose columns are of all cases.
type subset struct {
	Population
	of []int
}

func (p *subset) Cases() []Case {
	all := p.Population.Cases()
	out := make([]Case, len(p.of))
	for k, i := range p.of {
		out[k] = all[i]
	}
	return out
}

func (p *subset) Column(ctx context.Context, q faulttree.Quantity) ([]float32, error) {
	return p.pick(p.Population.Column(ctx, q))
}

func (p *subset) Seen(ctx context.Context, observation, choice string) ([]float32, error) {
	return p.pick(p.Population.Seen(ctx, observation, choice))
}

func (p *subset) Gone(ctx context.Context, intervention, tree string) ([]float32, error) {
	return p.pick(p.Population.Gone(ctx, intervention, tree))
}

func (p *subset) pick(all []float32, err error) ([]float32, error) {
	if err != nil {
		return nil, err
	}
	out := make([]float32, len(p.of))
	for k, i := range p.of {
		out[k] = all[i]
	}
	return out, nil
}

// Sound is [before] of the cases.
func (p *subset) Sound() Population {
	if all := before(p.Population); all != nil {
		return &subset{all, p.of}
	}
	return nil
}

// before is a population before anything went wrong with its cases: by its method Sound,
// nil where it has none. Of what a rig shows by itself nothing is taken away.
func before(p Population) Population {
	if own, ok := p.(interface{ Sound() Population }); ok {
		return own.Sound()
	}
	return nil
}

// solveTogether has a population solve some quantities at once, where it has a
// method Columns for that: it takes less time than one after the other.
func solveTogether(ctx context.Context, p Population, qs []faulttree.Quantity) error {
	if own, ok := p.(interface {
		Columns(ctx context.Context, qs ...faulttree.Quantity) error
	}); ok {
		return own.Columns(ctx, qs...)
	}
	return nil
}
