package drawn

import (
	"context"
	"fmt"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// Seen is the probability in each case that somebody who stands before it makes a
// choice of an observation; NaN where a vehicle of the rig tells nothing about it. Of
// [suspect.Complaint] it is 1 where the case has the complaint of the tree that is
// chosen. An error says that there is no such observation or choice.
func (p *Population) Seen(ctx context.Context, observation, choice string) ([]float32, error) {
	if observation == suspect.Complaint {
		return p.complains(ctx, choice)
	}
	o := p.forest.Observation(observation)
	if o == nil {
		return nil, fmt.Errorf("there is no observation %q", observation)
	}
	if o.Sight(choice) == nil {
		return nil, fmt.Errorf("the observation %s has no choice %q", observation, choice)
	}
	defer p.gate.hurry()()
	if err := p.see(ctx, o, nil); err != nil {
		return nil, err
	}
	column, _ := p.store.column(seenName(o.ID, choice))
	return column, nil
}

func seenName(observation, choice string) string { return "seen " + observation + " " + choice }

// see solves all choices of an observation, unless they are known.
func (p *Population) see(ctx context.Context, o *faulttree.Observation, between func()) error {
	names := make([]string, len(o.Choices))
	for i, s := range o.Choices {
		names[i] = seenName(o.ID, s.ID)
	}
	if _, known := p.store.column(names[0]); known {
		return nil
	}
	if p.base != nil {
		if err := p.base.see(ctx, o, between); err != nil {
			return err
		}
	}
	reads, err := p.reads(ctx, o.Conditions(), between)
	if err != nil {
		return err
	}
	return p.fill(ctx, names, between, func(v *vehicle.Vehicle) (look, error) {
		return func(c drawnCase, row []float32) error {
			var faults []string
			for _, f := range p.cases[c.number].Faults {
				faults = append(faults, f.Fault)
			}
			chances, err := reads.walker(v, c).Seen(o, faults)
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

// complains is 1 in each case that has the complaint of a tree, and 0 where it has
// not; NaN where its rig has nothing that the complaint is about.
func (p *Population) complains(ctx context.Context, tree string) ([]float32, error) {
	t := p.forest.Tree(tree)
	if t == nil || len(t.Complaint) == 0 {
		return nil, fmt.Errorf("there is no tree %q with a complaint", tree)
	}
	defer p.gate.hurry()()
	if err := p.complain(ctx, t, nil); err != nil {
		return nil, err
	}
	column, _ := p.store.column(seenName(suspect.Complaint, t.ID))
	return column, nil
}

// complain solves which cases have the complaint of a tree, unless it is known.
func (p *Population) complain(ctx context.Context, t *faulttree.Tree, between func()) error {
	name := seenName(suspect.Complaint, t.ID)
	if _, known := p.store.column(name); known {
		return nil
	}
	if p.base != nil {
		if err := p.base.complain(ctx, t, between); err != nil {
			return err
		}
	}
	reads, err := p.reads(ctx, t.Complaint, between)
	if err != nil {
		return err
	}
	return p.fill(ctx, []string{name}, between, func(v *vehicle.Vehicle) (look, error) {
		if !p.concerns(v.Rig(), t.Complaint) {
			return nil, nil
		}
		return func(c drawnCase, row []float32) error {
			has, err := reads.walker(v, c).Concerns(t)
			row[0] = 0
			if has {
				row[0] = 1
			}
			return err
		}, nil
	})
}

// concerns reports whether a rig has a part or a quantity that some conditions are
// about.
func (p *Population) concerns(r *rig.Rig, conditions []faulttree.Choice) bool {
	part := func(name string) bool { return len(r.Named(name)) > 0 }
	return slices.ContainsFunc(conditions, func(c faulttree.Choice) bool {
		return slices.ContainsFunc(c.Opened, part) || slices.ContainsFunc(c.Hot, part) ||
			slices.ContainsFunc(c.When, func(w faulttree.When) bool { return hasIn(r, p.all, w.Quantity) })
	})
}

// Gone is 1 in each case whose complaint, by the conditions of a tree, is gone
// after an intervention, and 0 where it is still there; NaN where the case has no
// such complaint, or where the intervention changes nothing that its rig has. An
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
	if err := p.try(ctx, in, t, nil); err != nil {
		return nil, err
	}
	column, _ := p.store.column(goneName(in, t))
	return column, nil
}

func goneName(in *faulttree.Intervention, t *faulttree.Tree) string {
	return "gone " + in.ID + " " + t.ID
}

// try solves what is gone after an intervention, unless it is known.
func (p *Population) try(ctx context.Context, in *faulttree.Intervention, t *faulttree.Tree, between func()) error {
	name := goneName(in, t)
	if _, known := p.store.column(name); known {
		return nil
	}
	if p.base != nil {
		if err := p.base.try(ctx, in, t, between); err != nil {
			return err
		}
	}
	reads, err := p.reads(ctx, t.Complaint, between)
	if err != nil {
		return err
	}
	return p.fill(ctx, []string{name}, between, func(v *vehicle.Vehicle) (look, error) {
		try, err := vehicle.NewTryOn(in, v.Rig(), p.all, func(r *rig.Rig) (*vehicle.Vehicle, error) { return p.fresh(r), nil })
		if try == nil {
			return nil, err
		}
		return func(c drawnCase, row []float32) error {
			row[0] = nothing
			gone, had, err := try.Gone(reads.walker(v, c), c.setup, t)
			switch {
			case gone:
				row[0] = 1
			case had:
				row[0] = 0
			}
			return err
		}, err
	})
}

// reads is what the quantities of some conditions read, by id.
type reads map[string][]float32

// reads solves the quantities that some conditions ask for.
func (p *Population) reads(ctx context.Context, conditions []faulttree.Choice, between func()) (reads, error) {
	var qs []faulttree.Quantity
	for _, c := range conditions {
		for _, w := range c.When {
			qs = append(qs, w.Quantity)
		}
	}
	if err := p.solve(ctx, qs, between); err != nil {
		return nil, err
	}
	of := reads{}
	for _, q := range qs {
		of[q.ID], _ = p.store.column(q.ID)
	}
	return of, nil
}

// walker is somebody before a drawn vehicle who knows what it reads.
func (r reads) walker(v *vehicle.Vehicle, c drawnCase) vehicle.Walker {
	return vehicle.Walker{Vehicle: v, Value: func(q faulttree.Quantity) (float64, bool, error) {
		value := float64(r[q.ID][c.number])
		return value, !math.IsNaN(value), nil
	}}
}
