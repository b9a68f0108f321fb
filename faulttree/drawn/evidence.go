package drawn

import (
	"context"
	"fmt"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// Seen is the probability in each case that somebody who stands before it makes a
// choice of an observation; NaN where a vehicle of the rig tells nothing about it. Of
// [suspect.Complaint] it is 1 where the case has the complaint of the tree that is
// chosen. An error says that there is no such observation or choice.
func (p *Population) Seen(ctx context.Context, observation, choice string) ([]float32, error) {
	s, err := p.sight(observation, choice)
	if err != nil {
		return nil, err
	}
	defer p.gate.hurry()()
	if err := p.solve(ctx, nil, []sight{s}, nil); err != nil {
		return nil, err
	}
	if observation == suspect.Complaint {
		choice = p.forest.Tree(choice).ID
	}
	column, _ := p.store.column(seenName(observation, choice))
	return column, nil
}

func seenName(observation, choice string) string { return "seen " + observation + " " + choice }

// sight is what one look at a vehicle tells: the choices of an observation, or whether it
// has a complaint.
type sight struct {
	names      []string // of its columns
	conditions []faulttree.Choice
	of         func(*rig.Rig) bool // whether it tells anything of a rig
	// look fills in the columns, which tell nothing before.
	look func(w vehicle.Walker, c drawnCase, row []float32) error
}

// sight is that of a choice.
func (p *Population) sight(observation, choice string) (sight, error) {
	if observation == suspect.Complaint {
		t := p.forest.Tree(choice)
		if t == nil || len(t.Complaint) == 0 {
			return sight{}, fmt.Errorf("there is no tree %q with a complaint", choice)
		}
		return p.complaint(t), nil
	}
	o := p.forest.Observation(observation)
	switch {
	case o == nil:
		return sight{}, fmt.Errorf("there is no observation %q", observation)
	case o.Sight(choice) == nil:
		return sight{}, fmt.Errorf("the observation %s has no choice %q", observation, choice)
	}
	return p.observed(o), nil
}

// observed is the chances of all choices of an observation.
func (p *Population) observed(o *faulttree.Observation) sight {
	s := sight{conditions: o.Conditions(), of: func(r *rig.Rig) bool { return vehicle.TellsOf(o, r) }}
	for i := range o.Choices {
		s.names = append(s.names, seenName(o.ID, o.Choices[i].ID))
	}
	s.look = func(w vehicle.Walker, c drawnCase, row []float32) error {
		faults := lists.Each(p.cases[c.number].Faults, func(f suspect.PlacedFault) string { return f.Fault })
		chances, err := w.SeenOf(o, s.conditions, faults)
		for k, chance := range chances {
			row[k] = float32(chance)
		}
		return err
	}
	return s
}

// complaint is 1 in each case that has the complaint of a tree, and 0 where it has
// not; NaN where its rig has nothing that the complaint is about.
func (p *Population) complaint(t *faulttree.Tree) sight {
	return sight{
		names:      []string{seenName(suspect.Complaint, t.ID)},
		conditions: t.Complaint,
		of:         func(r *rig.Rig) bool { return p.concerns(r, t.Complaint) },
		look: func(w vehicle.Walker, _ drawnCase, row []float32) error {
			has, err := w.Concerns(t)
			if row[0] = 0; has {
				row[0] = 1
			}
			return err
		},
	}
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
	qs := conditioned(t.Complaint)
	if err := p.solve(ctx, qs, nil, between); err != nil {
		return err
	}
	reads := p.reads(qs)
	return p.fill(ctx, []string{name}, between, func(v *vehicle.Vehicle) (look, error) {
		try, err := vehicle.NewTryOn(in, v.Rig(), p.all, func(r *rig.Rig) (*vehicle.Vehicle, error) { return p.fresh(r), nil })
		if try == nil {
			return nil, err
		}
		return func(c drawnCase, row []float32) error {
			row[0] = nothing
			gone, had, err := try.Gone(reads.walker(v, c, nil, nil), c.setup, t)
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

// conditioned is the quantities that some conditions ask for.
func conditioned(conditions []faulttree.Choice) []faulttree.Quantity {
	var qs []faulttree.Quantity
	for _, c := range conditions {
		for _, w := range c.When {
			qs = append(qs, w.Quantity)
		}
	}
	return qs
}

// reads is what some quantities read, by id.
type reads map[string][]float32

// reads is what some quantities read, as far as they are solved.
func (p *Population) reads(qs []faulttree.Quantity) reads {
	of := reads{}
	for _, q := range qs {
		if column, known := p.store.column(q.ID); known {
			of[q.ID] = column
		}
	}
	return of
}

// walker is somebody before a drawn vehicle who knows what it reads: also of some
// quantities, by id, what stands in a row.
func (r reads) walker(v *vehicle.Vehicle, c drawnCase, names []string, row []float32) vehicle.Walker {
	return vehicle.Walker{Vehicle: v, Value: func(q faulttree.Quantity) (float64, bool, error) {
		var value float64
		if column := r[q.ID]; column != nil {
			value = float64(column[c.number])
		} else {
			value = float64(row[slices.Index(names, q.ID)])
		}
		return value, !math.IsNaN(value), nil
	}}
}
