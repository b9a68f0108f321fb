package suspect

import (
	"context"

	"faultwright/faulttree"
)

// only is some cases of a population by themselves. A population that can say by
// a method Only what these read, without all others, is asked for that.
func only(p Population, cases []int) Population {
	if own, ok := p.(interface{ Only(cases []int) Population }); ok {
		return own.Only(cases)
	}
	return &picked{p, cases}
}

// picked is some cases of a population that has columns of all of them.
type picked struct {
	Population
	of []int
}

func (p *picked) Cases() []Case {
	all := p.Population.Cases()
	out := make([]Case, len(p.of))
	for k, i := range p.of {
		out[k] = all[i]
	}
	return out
}

func (p *picked) Column(ctx context.Context, q faulttree.Quantity) ([]float32, error) {
	return p.pick(p.Population.Column(ctx, q))
}

func (p *picked) Seen(ctx context.Context, observation, choice string) ([]float32, error) {
	return p.pick(p.Population.Seen(ctx, observation, choice))
}

func (p *picked) Gone(ctx context.Context, intervention, tree string) ([]float32, error) {
	return p.pick(p.Population.Gone(ctx, intervention, tree))
}

func (p *picked) pick(all []float32, err error) ([]float32, error) {
	if err != nil {
		return nil, err
	}
	out := make([]float32, len(p.of))
	for k, i := range p.of {
		out[k] = all[i]
	}
	return out, nil
}

// together has a population that can do so by a method Columns solve some
// quantities at once, which takes less time than one after the other.
func together(ctx context.Context, p Population, qs []faulttree.Quantity) error {
	if own, ok := p.(interface {
		Columns(ctx context.Context, qs ...faulttree.Quantity) error
	}); ok {
		return own.Columns(ctx, qs...)
	}
	return nil
}
