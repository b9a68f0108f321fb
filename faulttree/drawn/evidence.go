package drawn

import (
	"context"
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// Seen is the probability in each case that somebody who stands before it makes a
// choice of an observation; NaN where a vehicle of the rig tells nothing about it.
// An error says that there is no such observation or choice.
func (p *Population) Seen(ctx context.Context, observation, choice string) ([]float32, error) {
	o := p.forest.Observation(observation)
	if o == nil {
		return nil, fmt.Errorf("there is no observation %q", observation)
	}
	at := slices.IndexFunc(o.Choices, func(s faulttree.Sight) bool { return s.ID == choice })
	if at < 0 {
		return nil, fmt.Errorf("the observation %s has no choice %q", observation, choice)
	}
	defer p.gate.hurry()()
	names := make([]string, len(o.Choices))
	for i, s := range o.Choices {
		names[i] = "seen " + o.ID + " " + s.ID
	}
	if _, known := p.store.column(names[at]); !known {
		if err := p.see(ctx, o, names); err != nil {
			return nil, err
		}
	}
	column, _ := p.store.column(names[at])
	return column, nil
}

// see solves all choices of an observation.
func (p *Population) see(ctx context.Context, o *faulttree.Observation, names []string) error {
	if p.base != nil {
		if _, known := p.base.store.column(names[0]); !known {
			if err := p.base.see(ctx, o, names); err != nil {
				return err
			}
		}
	}
	return p.fill(ctx, names, nil, func(*stratum) (look, error) {
		return func(v *vehicle.Vehicle, c suspect.Case, _ rig.Setup, row []float32) error {
			var faults []string
			for _, f := range c.Faults {
				faults = append(faults, f.Fault)
			}
			chances, err := vehicle.Walker{Vehicle: v, Value: v.Taken}.Seen(o, faults)
			for k := range row {
				row[k] = nothing
				if chances != nil {
					row[k] = float32(chances[k])
				}
			}
			return err
		}, nil
	})
}

// Gone is 1 in each case of which what it has of the complaint of a tree is gone
// after an intervention, and 0 where it is still there; NaN where it has nothing of
// it, or where the intervention changes nothing that a vehicle of the rig has. An
// error says that there is no such intervention or tree.
func (p *Population) Gone(ctx context.Context, intervention, tree string) ([]float32, error) {
	in, t := p.forest.Intervention(intervention), p.forest.Tree(tree)
	switch {
	case in == nil:
		return nil, fmt.Errorf("there is no intervention %q", intervention)
	case t == nil:
		return nil, fmt.Errorf("there is no tree %q", tree)
	}
	defer p.gate.hurry()()
	return p.gone(ctx, in, t)
}

func (p *Population) gone(ctx context.Context, in *faulttree.Intervention, t *faulttree.Tree) ([]float32, error) {
	name := "gone " + in.ID + " " + t.ID
	if column, known := p.store.column(name); known {
		return column, nil
	}
	if p.base != nil {
		if _, err := p.base.gone(ctx, in, t); err != nil {
			return nil, err
		}
	}
	err := p.fill(ctx, []string{name}, nil, func(s *stratum) (look, error) {
		try, err := vehicle.NewTry(in, s.Rig, p.all)
		return func(v *vehicle.Vehicle, _ suspect.Case, setup rig.Setup, row []float32) error {
			row[0] = nothing
			if try == nil {
				return nil
			}
			gone, had, err := try.Gone(v, setup, t)
			switch {
			case gone:
				row[0] = 1
			case had:
				row[0] = 0
			}
			return err
		}, err
	})
	if err != nil {
		return nil, err
	}
	column, _ := p.store.column(name)
	return column, nil
}
