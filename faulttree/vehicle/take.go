package vehicle

import (
	"iter"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
)

// Taken is the number that a reader comes to who takes a quantity as its method
// says: the reading that counts of several where there are several (see
// [faulttree.Take]). Without a meter's error; ok is false where there is none.
func (v *Vehicle) Taken(q faulttree.Quantity) (value float64, ok bool, err error) {
	return v.Taking(q).Value()
}

// Taking is how a quantity is taken of a vehicle, worked out once for all the
// numbers and faults it may be given. [Vehicle.Hold] does not change it.
type Taking struct {
	v      *Vehicle
	take   faulttree.Take
	at     []faulttree.Quantity
	states []bench.State
	probes []*bench.Probing
}

// Taking works out how q is taken.
func (v *Vehicle) Taking(q faulttree.Quantity) Taking {
	t := Taking{v: v, take: q.Take}
	for _, one := range v.each(q) {
		as := one.asked.state(one.at)
		t.at, t.states, t.probes = append(t.at, one.at), append(t.states, as), append(t.probes, v.Probing(one.at, as))
	}
	return t
}

// Each lists the readings that are taken, in order: where the probes are, and how
// the vehicle stands. Contacts that the rig does not have are left out.
func (t Taking) Each() iter.Seq2[faulttree.Quantity, bench.State] {
	b := t.v.bench
	return func(yield func(faulttree.Quantity, bench.State) bool) {
		for i, at := range t.at {
			there := b.HasNode(at.Red) && (at.Black == "" || b.HasNode(at.Black))
			if there && !yield(at, t.states[i]) {
				return
			}
		}
	}
}

// Several reports whether more than one reading is taken.
func (t Taking) Several() bool {
	n := 0
	for range t.Each() {
		n++
	}
	return n > 1
}

// Pick is which of the numbers that were read, one for each of [Taking.Each],
// counts.
func (t Taking) Pick(values []float64) float64 { return t.take.Pick(values) }

// Value is [Vehicle.Taken] of the vehicle as it is now.
func (t Taking) Value() (value float64, ok bool, err error) {
	var room [8]float64
	values := room[:0]
	for i, p := range t.probes {
		m, err := p.Measure()
		if err != nil {
			return 0, false, err
		}
		switch value, there := m.Number(t.at[i].Unit); {
		case there:
			values = append(values, value)
		case len(values) == 0:
			return 0, false, nil // not even the reading that the others add to
		}
	}
	return t.take.Pick(values), true, nil
}

// Counts is the one reading, of those that are taken of q, that counts: where the
// probes are, how the vehicle stands, and what they see. Where there is none it is
// the first.
func (v *Vehicle) Counts(q faulttree.Quantity) (at faulttree.Quantity, as bench.State, m bench.Measured, err error) {
	var all []oneReading
	var seen []bench.Measured
	var values []float64
	for _, one := range v.each(q) {
		m, err := one.asked.Measure(one.at, bench.HighImpedance)
		if err != nil {
			return at, as, m, err
		}
		value, there := m.Number(q.Unit)
		if there || len(all) == 0 {
			all, seen, values = append(all, one), append(seen, m), append(values, value)
		}
		if !there && len(all) == 1 {
			break
		}
	}
	i := slices.Index(values, q.Take.Pick(values))
	return all[i].at, all[i].asked.state(all[i].at), seen[i], nil
}

// Typed is the same for the readings of a meter: what is typed of those that are
// taken. OL is more than any number.
func (v *Vehicle) Typed(q faulttree.Quantity, read func(Asked, faulttree.Quantity) (faulttree.Reading, error)) (faulttree.Reading, error) {
	var readings []faulttree.Reading
	var values []float64
	for _, one := range v.each(q) {
		r, err := read(one.asked, one.at)
		if err != nil {
			return r, err
		}
		if r.Quality == faulttree.NotPossible {
			if len(readings) == 0 {
				return r, nil
			}
			continue
		}
		value := math.Inf(1)
		if r.Numeric() {
			value = r.High.Float()
		}
		readings, values = append(readings, r), append(values, value)
	}
	return readings[slices.Index(values, q.Take.Pick(values))], nil
}

// oneReading is one of the readings that are taken of a quantity.
type oneReading struct {
	asked Asked
	at    faulttree.Quantity
}

// each lists them in order.
func (v *Vehicle) each(q faulttree.Quantity) []oneReading {
	var out []oneReading
	for _, legs := range v.turns(q.Take.Loads) {
		for _, at := range q.At() {
			out = append(out, oneReading{v.Asked(legs), at})
		}
	}
	return out
}

// turns lists the legs whose loads are on, reading after reading. Without a word
// about loads they are as the quantity asks.
func (v *Vehicle) turns(loads []faulttree.LoadsTurn) [][]string {
	if len(loads) == 0 {
		return [][]string{v.legs}
	}
	var out [][]string
	add := func(legs []string) {
		if !slices.ContainsFunc(out, func(o []string) bool { return slices.Equal(o, legs) }) {
			out = append(out, legs)
		}
	}
	for _, turn := range loads {
		switch turn {
		case faulttree.LoadsOff:
			add(nil)
		case faulttree.EachLoad:
			for i := range v.legs {
				add(v.legs[i : i+1])
			}
		case faulttree.AllLoads:
			add(v.legs)
		}
	}
	return out
}
