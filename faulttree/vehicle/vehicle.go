package vehicle

import (
	"maps"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// Vehicle is a rig on a bench. Make one with [New] or [On].
type Vehicle struct {
	bench  *bench.Bench
	legs   []string
	opened map[string]bool // see Opened; nil until somebody looks
	hot    map[string]bool // see Hot; likewise
	off    map[string]bool // switches
	on     map[string]bool // legs whose loads are on
	open   []string        // what has tripped and stays open, by name; see StayOpen
	apart  bool            // it would not all open by itself as the vehicle stands
	held   held
}

// New puts a rig on a bench of its own: ordinary numbers, nothing wrong, every
// switch in its ordinary position, all loads off.
func New(r *rig.Rig) (*Vehicle, error) {
	b, err := bench.New(r)
	if err != nil {
		return nil, err
	}
	return On(b), nil
}

// On is a vehicle on a bench that others have used before. Its numbers and
// faults are those on the bench until [Vehicle.Put].
func On(b *bench.Bench) *Vehicle {
	v := &Vehicle{bench: b, legs: b.Rig().Legs(), off: map[string]bool{}, on: map[string]bool{}}
	for _, s := range b.Rig().Switches {
		v.off[s.Name] = s.Off
	}
	return v
}

// Put gives the vehicle its numbers and faults; switches and loads stay.
func (v *Vehicle) Put(s rig.Setup) error {
	v.opened, v.hot = nil, nil
	return v.bench.Set(s)
}

// Rig is what the vehicle is one of.
func (v *Vehicle) Rig() *rig.Rig { return v.bench.Rig() }

// Fact is what its reader knows of a fact without a meter, "" where the rig
// does not state it.
func (v *Vehicle) Fact(id string) string { return v.Rig().Facts[id] }

// Legs lists the legs that have loads.
func (v *Vehicle) Legs() []string { return v.legs }

// Throw turns a switch on or off; a plug is on while it is in. It reports
// whether there is such a switch.
func (v *Vehicle) Throw(name string, on bool) bool {
	if _, there := v.off[name]; !there {
		return false
	}
	v.off[name] = !on
	return true
}

// Off reports whether a switch is off.
func (v *Vehicle) Off(name string) bool { return v.off[name] }

// Turn turns the loads of a leg on or off.
func (v *Vehicle) Turn(leg string, on bool) {
	if on {
		v.on[leg] = true
	} else {
		delete(v.on, leg)
	}
}

// On reports whether the loads of a leg are on.
func (v *Vehicle) On(leg string) bool { return v.on[leg] }

// State is how the vehicle stands: a copy.
func (v *Vehicle) State() bench.State {
	st := bench.State{Off: maps.Clone(v.off), Loads: maps.Clone(v.on)}
	if v.apart {
		st.Tripped = setOf(v.open)
	}
	return st
}

func setOf(names []string) map[string]bool {
	set := map[string]bool{}
	for _, name := range names {
		set[name] = true
	}
	return set
}

// StayOpen keeps open what has tripped as the vehicle stands, for alternating current or
// direct, beside what had before: until it is reset ([Vehicle.Close]), whatever is switched
// meanwhile. While it would open by itself as well, the state says nothing of it. Without
// this everything closes by itself once its cause is gone.
func (v *Vehicle) StayOpen(direct bool) error {
	st := bench.State{Off: v.off, Loads: v.on}
	free, err := v.bench.Tripped(st, direct)
	if err != nil || len(v.open) == 0 {
		v.open, v.apart = free, false
		return err
	}
	st.Tripped = setOf(v.open)
	held, err := v.bench.Tripped(st, direct)
	v.open, v.apart = held, !slices.Equal(free, held)
	return err
}

// Open lists what has tripped and stays open, by name.
func (v *Vehicle) Open() []string { return slices.Clone(v.open) }

// Close resets protective devices, by name; whether they stay closed is for
// [Vehicle.StayOpen] to find.
func (v *Vehicle) Close(names ...string) {
	v.open = slices.DeleteFunc(slices.Clone(v.open), func(name string) bool { return slices.Contains(names, name) })
}

// KeepOpen makes devices stay open beside those that do.
func (v *Vehicle) KeepOpen(names ...string) {
	for _, name := range names {
		v.open = lists.With(slices.Clip(v.open), name)
	}
}

// Solve is the whole circuit as it stands, direct or alternating.
func (v *Vehicle) Solve(direct bool) (*bench.Picture, error) {
	if direct {
		return v.bench.SolveDirect(v.State())
	}
	return v.bench.Solve(v.State())
}

// Tripped lists the protective devices that have opened as the vehicle stands, by
// name, for alternating current or direct.
func (v *Vehicle) Tripped(direct bool) ([]string, error) { return v.bench.Tripped(v.State(), direct) }

// Volts is the voltage of a node to remote earth as the vehicle stands, without
// a meter; ok is false where nothing decides it.
func (v *Vehicle) Volts(node string) (volts complex128, ok bool, err error) {
	return v.bench.Voltage(v.State(), node, "0")
}

// Measure puts two probes on the vehicle as it stands.
func (v *Vehicle) Measure(q faulttree.Quantity, in bench.Input) (bench.Measured, error) {
	return v.bench.MeasureIn(q, v.State(), in)
}

// Asked is the vehicle put into the state in which a quantity is read, by its
// conditions; loads are those of these legs where it asks for loads.
func (v *Vehicle) Asked(legs []string) Asked { return Asked{v, legs} }

// Asked measures every quantity in the state that it asks for.
type Asked struct {
	v    *Vehicle
	legs []string
}

// Measure puts two probes on the vehicle.
func (a Asked) Measure(q faulttree.Quantity, in bench.Input) (bench.Measured, error) {
	return a.v.bench.MeasureIn(q, a.state(q), in)
}

// state is the one in which q is read.
func (a Asked) state(q faulttree.Quantity) bench.State {
	return a.v.held.apply(a.v.bench.StateFor(q, a.legs))
}

// Probing is two probes on whatever vehicle of the rig is put here, in a state.
func (v *Vehicle) Probing(q faulttree.Quantity, as bench.State) *bench.Probing {
	return v.bench.Probing(q, as, bench.HighImpedance)
}

// MeasureIn puts two probes on the vehicle in a state.
func (v *Vehicle) MeasureIn(q faulttree.Quantity, as bench.State) (bench.Measured, error) {
	return v.bench.MeasureIn(q, as, bench.HighImpedance)
}

// Flow is the currents while a quantity is read in a state; see
// [bench.Bench.Flow].
func (v *Vehicle) Flow(q faulttree.Quantity, as bench.State) (*bench.Flow, error) {
	in := bench.HighImpedance
	if q.Has(faulttree.LowZ) {
		in = bench.LowImpedance
	}
	return v.bench.Flow(q, as, in)
}

// Value is the number that a quantity has without a meter's error; ok is false
// where there is none.
func (a Asked) Value(q faulttree.Quantity) (value float64, ok bool, err error) {
	m, err := a.Measure(q, bench.HighImpedance)
	if err != nil {
		return 0, false, err
	}
	value, ok = m.Number(q.Unit)
	return value, ok, nil
}

// Opened reports whether a breaker or another part stands open in the vehicle
// as it failed; see [bench.Bench.Opened].
func (v *Vehicle) Opened(part string) (bool, error) { return v.looked(&v.opened, v.bench.Opened, part) }

// Hot reports whether a hand would find a part hot; see [bench.Bench.Hot].
func (v *Vehicle) Hot(part string) (bool, error) { return v.looked(&v.hot, v.bench.Hot, part) }

// looked is what is known of a part, once somebody has looked at all of them.
func (v *Vehicle) looked(known *map[string]bool, look func(bench.State) (map[string]bool, error), part string) (bool, error) {
	if *known == nil {
		seen, err := look(v.held.apply(v.bench.AllOn()))
		if err != nil {
			return false, err
		}
		*known = seen
	}
	return (*known)[part], nil
}

// held is how switches and loads stand whatever is asked.
type held struct {
	off      map[string]bool // by switch: true is off, false is on
	unloaded bool
}

// Hold keeps switches off or on, and with unloaded all loads off, whatever a
// quantity asks and whatever is looked at; nothing ends it. How the vehicle
// stands by itself ([Vehicle.State]) is another matter.
func (v *Vehicle) Hold(off, on []string, unloaded bool) {
	v.opened, v.hot = nil, nil
	v.held = held{off: map[string]bool{}, unloaded: unloaded}
	for _, name := range off {
		v.held.off[name] = true
	}
	for _, name := range on {
		v.held.off[name] = false
	}
}

// apply is a state with what is held put into it.
func (h held) apply(st bench.State) bench.State {
	if len(h.off) > 0 {
		off := maps.Clone(st.Off)
		if off == nil {
			off = map[string]bool{}
		}
		maps.Copy(off, h.off)
		st.Off = off
	}
	if h.unloaded {
		st.Loads = nil
	}
	return st
}
