package drawn

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// nothing is the entry of a column that tells nothing.
var nothing = float32(math.NaN())

// Column is what q reads in each case, without a meter's error, taken as its
// method says: ohms without a way for the current are +Inf; NaN where the rig has
// no such thing, ohms meet a voltage, or q is of the meter alone.
func (p *Population) Column(ctx context.Context, q faulttree.Quantity) ([]float32, error) {
	if err := p.Columns(ctx, q); err != nil {
		return nil, err
	}
	column, _ := p.store.column(q.ID)
	return column, nil
}

// Columns solves several quantities together, which takes less time than one after
// the other, so that their columns are at hand.
func (p *Population) Columns(ctx context.Context, qs ...faulttree.Quantity) error {
	return p.ColumnsWith(ctx, nil, qs...)
}

// ColumnsWith is [Population.Columns], and solves with them what [Population.Seen] tells of
// some choices.
func (p *Population) ColumnsWith(ctx context.Context, seen []suspect.Seen, qs ...faulttree.Quantity) error {
	var sights []sight
	for _, s := range seen {
		one, err := p.sight(s.Observation, s.Choice)
		if err != nil {
			return err
		}
		sights = append(sights, one)
	}
	defer p.gate.hurry()()
	return p.solve(ctx, qs, sights, nil)
}

// Warm solves all that may be asked: the quantities of the handbook, those together
// that are read in one state, then what is seen, and for the tree of the reader,
// what is gone after what was tried. It gives way to whoever asks for a column
// meanwhile.
func (p *Population) Warm(ctx context.Context) error {
	for _, qs := range p.byState() {
		if err := p.solve(ctx, qs, nil, p.gate.giveWay); err != nil {
			return err
		}
	}
	for i := range p.forest.Observations {
		if err := p.solve(ctx, nil, []sight{p.observed(&p.forest.Observations[i])}, p.gate.giveWay); err != nil {
			return err
		}
	}
	if p.tree == nil {
		return nil
	}
	for i := range p.forest.Interventions {
		if err := p.try(ctx, &p.forest.Interventions[i], p.tree, p.gate.giveWay); err != nil {
			return err
		}
	}
	return nil
}

// byState lists the quantities of the handbook by the state in which they are
// read, the states with most of them first.
func (p *Population) byState() [][]faulttree.Quantity {
	at := map[string]int{}
	var out [][]faulttree.Quantity
	for _, id := range p.forest.Quantities.IDs() {
		q := p.forest.Quantities[id]
		state := fmt.Sprint(p.benches[p.rigs[0]].StateFor(q, nil), q.Unit == faulttree.Ohms, q.Take.Loads)
		i, known := at[state]
		if !known {
			i = len(out)
			at[state], out = i, append(out, nil)
		}
		out[i] = append(out[i], q)
	}
	slices.SortStableFunc(out, func(a, b []faulttree.Quantity) int { return len(b) - len(a) })
	return out
}

// solve puts the columns of some quantities, and of what is seen, into the store, those
// that it does not have yet.
func (p *Population) solve(ctx context.Context, qs []faulttree.Quantity, sights []sight, between func()) error {
	var missing []faulttree.Quantity
	var names []string
	lacks := func(name string) bool {
		_, known := p.store.column(name)
		return !known && !slices.Contains(names, name)
	}
	sights = lists.Where(sights, func(s sight) bool { return lacks(s.names[0]) })
	for _, s := range sights {
		qs = slices.Concat(qs, conditioned(s.conditions))
	}
	for _, q := range qs {
		if lacks(q.ID) {
			missing, names = append(missing, q), append(names, q.ID)
		}
	}
	sights = slices.DeleteFunc(sights, func(s sight) bool {
		if !lacks(s.names[0]) {
			return true // it stands twice
		}
		names = append(names, s.names...)
		return false
	})
	if len(names) == 0 {
		return nil
	}
	if p.base != nil {
		if err := p.base.solve(ctx, missing, sights, between); err != nil {
			return err
		}
	}
	known := p.reads(qs)
	return p.fill(ctx, names, between, func(v *vehicle.Vehicle) (look, error) {
		takes := make([]take, len(missing))
		some := false
		for k, q := range missing {
			if !q.OfMeter() && !foreign(v.Rig(), p.all, q) {
				takes[k], some = p.take(v, q), true
			}
		}
		tells := lists.Each(sights, func(s sight) bool { return s.of(v.Rig()) })
		if !some && !slices.Contains(tells, true) {
			return nil, nil
		}
		return func(c drawnCase, row []float32) error {
			for k := range row {
				row[k] = nothing
			}
			for k, q := range missing {
				if takes[k] == nil {
					continue
				}
				value, ok, err := takes[k](c.setup)
				if err != nil {
					return fmt.Errorf("%s: %w", q.ID, err)
				}
				if ok {
					row[k] = float32(value)
				}
			}
			w, rest := known.walker(v, c, names, row), row[len(missing):]
			for k, s := range sights {
				if tells[k] {
					if err := s.look(w, c, rest); err != nil {
						return err
					}
				}
				rest = rest[len(s.names):]
			}
			return nil
		}, nil
	})
}

// take is how a quantity is taken of the vehicle of a setup that stands on a bench.
type take func(rig.Setup) (value float64, ok bool, err error)

func (p *Population) take(v *vehicle.Vehicle, q faulttree.Quantity) take {
	if s, stands := p.stands.of(q.ID); stands {
		return s.take(v, q)
	}
	t := v.Taking(q)
	return func(rig.Setup) (float64, bool, error) { return t.Value() }
}

// foreign reports whether a quantity is not of the system of a rig, for systems
// share none: what feeds the converter of a 12 V rig is of the 120 V side.
func foreign(r *rig.Rig, all []*rig.Rig, q faulttree.Quantity) bool {
	return system(r) == directSystem && slices.ContainsFunc(all, func(o *rig.Rig) bool {
		return system(o) != directSystem && o.HasNode(q.Red) && (q.Black == "" || o.HasNode(q.Black))
	})
}

// drawnCase is the case whose vehicle stands on the bench.
type drawnCase struct {
	number int
	setup  rig.Setup
}

// look is how the entries of some columns are found for the vehicle on a bench; nil
// where they tell nothing.
type look func(c drawnCase, row []float32) error

// part is some cases of one stratum, which one worker solves on a bench of its
// own, so that not even the rounding depends on what was solved before.
type part struct{ from, to int }

// mostOfPart bounds the cases of a part, so that the workers end together.
const mostOfPart = 250

// fill puts columns of these names into the store; that of the base has them
// already. At is asked how to look at the vehicles of a part. Between is called
// before each part, if set.
func (p *Population) fill(ctx context.Context, names []string, between func(), at func(*vehicle.Vehicle) (look, error)) error {
	columns := make([][]float32, len(names))
	for k, name := range names {
		columns[k] = make([]float32, len(p.cases))
		if p.base != nil {
			of, _ := p.base.store.column(name)
			copy(columns[k], of)
		}
	}
	parts := p.parts()
	var next atomic.Int64
	errs := make([]error, p.workers)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	var all sync.WaitGroup
	for w := range errs {
		all.Go(func() {
			room := &bench.Room{}
			for {
				if between != nil {
					between()
				}
				i := int(next.Add(1)) - 1
				if i >= len(parts) || ctx.Err() != nil {
					return
				}
				if errs[w] = p.fillPart(parts[i], columns, at, room); errs[w] != nil {
					cancel()
					return
				}
			}
		})
	}
	all.Wait()
	if err := errors.Join(errs...); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	p.store.put(names, columns)
	return nil
}

func (p *Population) parts() []part {
	var out []part
	for from := p.own; from < len(p.cases); {
		to := from
		for to < len(p.cases) && to-from < mostOfPart && p.at[to].stratum == p.at[from].stratum {
			to++
		}
		out = append(out, part{from, to})
		from = to
	}
	return out
}

// fillPart solves a part on a bench in room.
func (p *Population) fillPart(of part, columns [][]float32, at func(*vehicle.Vehicle) (look, error), room *bench.Room) error {
	s := &p.strata[p.at[of.from].stratum]
	v := vehicle.On(p.benches[s.Rig].AnotherIn(room))
	see, err := at(v)
	if err != nil {
		return err
	}
	if see == nil {
		for k := range columns {
			for i := of.from; i < of.to; i++ {
				columns[k][i] = nothing
			}
		}
		return nil
	}
	row := make([]float32, len(columns))
	for i := of.from; i < of.to; i++ {
		_, setup := p.Vehicle(i)
		err := v.Put(setup)
		if err == nil {
			err = see(drawnCase{i, setup}, row)
		}
		if err != nil {
			return fmt.Errorf("drawn vehicle %d (%s): %w", i, describe(p.cases[i]), err)
		}
		for k := range columns {
			columns[k][i] = row[k]
		}
	}
	return nil
}

// fresh is a vehicle of a rig on a bench of its own.
func (p *Population) fresh(r *rig.Rig) *vehicle.Vehicle { return vehicle.On(p.benches[r].Another()) }

// describe names a case in an error.
func describe(c suspect.Case) string {
	text := []string{c.Rig}
	for _, f := range c.Faults {
		text = append(text, faulttree.FaultAt{Fault: f.Fault, Place: f.Place}.String())
	}
	return strings.Join(text, ", ")
}
