package bench

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"

	"faultwright/faulttree"
	"faultwright/faulttree/circuit"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// Bounds on how many compiled circuits, and states, a bench keeps.
const (
	mostKept      = 256
	mostStandings = 64
)

// Bench measures one vehicle of a rig after another. It keeps the compiled
// circuits, so that vehicles that differ in numbers only are solved without
// compiling. It must not be used by two goroutines at once.
type Bench struct {
	rig        *rig.Rig
	setup      rig.Setup
	values     []float64 // after the faults' own settings
	variantIDs map[variantKey]int
	faultSets  map[string]int
	faultSet   int // which faults are in force, for the key of a circuit
	age        uint64
	kept       map[key]*compiled
	standings  []*standing
	gauges     [4]gauge // some that were asked for
	room       *Room    // of the circuits that are built; nil: each has its own
	built      int      // circuits in it
	*layout
}

// gauge is a gauge of wire and its diameter; none before it was asked for.
type gauge struct{ gauge, metres float64 }

// layout is what all benches for a rig have in common.
type layout struct {
	legs    []string
	devices []string // runs of breakers, in order
	poles   [][]int  // by device, its parts
	runs    [][]int  // by run, its parts
	nodes   map[string]bool
	wires   []wire       // by part
	empty   *circuit.Net // its nodes, in order
	plans   *circuit.Plans
	steady  bool // a part gives direct current
	most    int  // elements of a circuit, but for those that faults join
}

// variantKey is one way in which one fault is made.
type variantKey struct {
	fault   *rig.Fault
	variant int
}

// key is all that decides how a circuit is tied together.
type key struct {
	direct  bool
	faults  int
	off     uint64 // by switch
	varies  uint64 // by variety: those that open something in this state
	loads   uint64 // by leg
	tripped uint64 // by device
	charge  uint64 // two bits for each charger: holding volts, limiting, idle
	clamp   int    // part under a clamp, or [rig.None]
	probe   bool   // sources silent, a unit current for ohms
}

// standing is how switches and loads stand, and what the vehicle of some age has come to
// then, once it was solved.
type standing struct {
	off, loads uint64     // by switch, by leg
	open       uint64     // by device: what stays open
	settled    [2]settled // for alternating and for direct current
	ways       ways
	ohms       []*ohmsAt // that were asked for
}

// settled is a circuit in which no protective device moves any more.
type settled struct {
	age uint64
	w   *compiled
	key key
}

// New makes a bench for a rig that passed [rig.Rig.Check].
func New(r *rig.Rig) (*Bench, error) {
	if len(r.Switches) > 64 {
		return nil, fmt.Errorf("rig %s has %d switches; at most 64 are possible", r.ID, len(r.Switches))
	}
	b := &Bench{rig: r, variantIDs: map[variantKey]int{}, faultSets: map[string]int{"": 0}, kept: map[key]*compiled{}, layout: newLayout(r)}
	chargers := lists.Count(r.Parts, func(p rig.Part) bool { return p.Kind == rig.Charger })
	if len(b.devices) > 64 || len(b.legs) > 64 || chargers > 32 {
		return nil, fmt.Errorf("rig %s has more than 64 protective devices or legs, or more than 32 chargers", r.ID)
	}
	if err := b.Set(rig.Setup{}); err != nil {
		return nil, err
	}
	_, err := b.Solve(State{})
	return b, err
}

func newLayout(r *rig.Rig) *layout {
	l := &layout{legs: r.Legs(), nodes: map[string]bool{}, empty: &circuit.Net{}, plans: &circuit.Plans{}}
	for _, name := range r.Nodes() {
		l.empty.Node(name)
	}
	for i := range r.Parts {
		l.wires = append(l.wires, newWire(&r.Parts[i], l.empty))
	}
	runs := map[string]int{}
	for i, p := range r.Parts {
		l.nodes[p.A], l.nodes[p.B] = true, true
		if l.most++; p.Kind == rig.Load || p.Kind == rig.Source {
			l.most++ // with a reactance
		}
		l.steady = l.steady || p.Kind == rig.Charger || p.Kind == rig.Source && p.Direct
		n, met := runs[p.Run]
		if !met {
			n = len(l.runs)
			runs[p.Run], l.runs = n, append(l.runs, nil)
		}
		l.runs[n] = append(l.runs[n], i)
		if p.Kind != rig.Breaker {
			continue
		}
		d := l.device(p.Run)
		if d < 0 {
			d = len(l.devices)
			l.devices, l.poles = append(l.devices, p.Run), append(l.poles, nil)
		}
		l.poles[d] = append(l.poles[d], i)
	}
	return l
}

// Another is a bench for the same rig with nothing on it yet but the ordinary
// vehicle. It is made much faster than by [New].
func (b *Bench) Another() *Bench {
	other := &Bench{rig: b.rig, values: b.rig.Values(), variantIDs: map[variantKey]int{}, faultSets: map[string]int{"": 0}, kept: map[key]*compiled{}, layout: b.layout, age: 1}
	other.setup.Values = other.values
	return other
}

// Check is [rig.Rig.Check], and where that finds nothing wrong, whether the
// rig's circuit can be solved in its ordinary state.
func Check(r *rig.Rig) source.List {
	list := r.Check()
	if !list.HasErrors() {
		if _, err := New(r); err != nil {
			list.Add(r.Pos, rig.RuleRig, "%v", err)
		}
		list.Sort()
	}
	return list
}

// Rig is what the bench was made for.
func (b *Bench) Rig() *rig.Rig { return b.rig }

// HasNode is [rig.Rig.HasNode] without a search.
func (b *Bench) HasNode(name string) bool { return b.nodes[name] }

func (l *layout) device(run string) int { return slices.Index(l.devices, run) }

// Set puts another vehicle on the bench.
func (b *Bench) Set(s rig.Setup) error {
	if s.Values == nil {
		s.Values = b.rig.Values()
	}
	if len(s.Values) != len(b.rig.Params) {
		return fmt.Errorf("%d values for the %d parameters of rig %s", len(s.Values), len(b.rig.Params), b.rig.ID)
	}
	b.values = append(b.values[:0], s.Values...)
	var room [64]byte
	mark := room[:0]
	for _, a := range s.Faults {
		if a.Variant < 0 || a.Variant >= len(a.Fault.Variants) {
			return fmt.Errorf("fault %s has no variant %d", a.Fault.ID, a.Variant)
		}
		if math.IsNaN(a.Severity) || math.IsInf(a.Severity, 0) {
			return fmt.Errorf("fault %s: %v is not a severity", a.Fault.ID, a.Severity)
		}
		if severity := a.Fault.Severity; severity != nil {
			if err := severity.Allows(a.Severity); err != nil {
				return fmt.Errorf("the severity of fault %w", err)
			}
		}
		one := variantKey{a.Fault, a.Variant}
		if _, known := b.variantIDs[one]; !known {
			if v := a.Fault.Variants[a.Variant]; !v.FitsIn(b.rig) {
				return fmt.Errorf("fault %s, %s, does not fit in rig %s", a.Fault.ID, v.Text, b.rig.ID)
			}
			b.variantIDs[one] = len(b.variantIDs)
		}
		mark = append(strconv.AppendInt(mark, int64(b.variantIDs[one]), 10), ' ')
		for _, e := range a.Fault.Variants[a.Variant].Edits {
			if e.Kind != rig.Set {
				continue
			}
			for _, at := range b.rig.SetBy(e) {
				b.values[at] = e.Value.Of(a.Severity)
			}
		}
	}
	for i, v := range b.values {
		if err := b.rig.Params[i].Allows(v); err != nil {
			return err
		}
	}
	b.setup = s
	n, ok := b.faultSets[string(mark)]
	if !ok {
		n = len(b.faultSets)
		b.faultSets[string(mark)] = n
	}
	b.faultSet = n
	b.age++
	return nil
}

// standing is a state in bits.
func (b *Bench) standing(st State) *standing {
	var off, loads, open uint64
	for i, s := range b.rig.Switches {
		is, said := st.Off[s.Name]
		if is || !said && s.Off {
			off |= 1 << i
		}
	}
	for i, leg := range b.legs {
		if st.Loads[leg] {
			loads |= 1 << i
		}
	}
	for i, device := range b.devices {
		if st.Tripped[device] {
			open |= 1 << i
		}
	}
	for _, s := range b.standings {
		if s.off == off && s.loads == loads && s.open == open {
			return s
		}
	}
	if len(b.standings) == mostStandings {
		b.standings = nil
	}
	s := &standing{off: off, loads: loads, open: open}
	b.standings = append(b.standings, s)
	return s
}

// state is the key of what a person has switched.
func (b *Bench) state(s *standing, direct bool) key {
	k := key{direct: direct, faults: b.faultSet, clamp: rig.None, off: s.off, loads: s.loads, tripped: s.open}
	for i, v := range b.rig.Varieties {
		if b.setup.Varieties&(1<<i) != 0 && b.without(v, k.off) {
			k.varies |= 1 << i
		}
	}
	return k
}

// hertz is the frequency at which the circuit of a key is solved, 0 for direct current.
func (b *Bench) hertz(k key) float64 {
	if k.direct {
		return 0
	}
	return b.values[b.rig.Hertz]
}

// without reports whether a switch is off for which a variety waits.
func (b *Bench) without(v rig.Variety, off uint64) bool {
	for i, s := range b.rig.Switches {
		if off&(1<<i) != 0 && slices.Contains(v.Without, s.Name) {
			return true
		}
	}
	return false
}

// solve finds the circuit of a state with its protective devices settled.
func (b *Bench) solve(st State, direct bool) (*compiled, key, error) {
	return b.settle(b.standing(st), direct)
}

// settle is [Bench.solve] of a state in bits.
func (b *Bench) settle(s *standing, direct bool) (*compiled, key, error) {
	at := &s.settled[0]
	if direct {
		at = &s.settled[1]
	}
	if at.age == b.age {
		return at.w, at.key, nil
	}
	k := b.state(s, direct)
	if direct {
		_, ac, err := b.settle(s, false)
		if err != nil {
			return nil, k, err
		}
		k.tripped = ac.tripped
	}
	for range 3*len(b.devices) + 2*len(b.rig.Parts) + 1 {
		w, err := b.circuitFor(k)
		if err != nil {
			return nil, k, err
		}
		next := b.switched(w, k)
		if next == k {
			*at = settled{b.age, w, k}
			return w, k, nil
		}
		k = next
	}
	return nil, k, fmt.Errorf("rig %s: its chargers and protective devices come to no rest", b.rig.ID)
}

// circuitFor is the circuit of a key with the present numbers in it.
func (b *Bench) circuitFor(k key) (*compiled, error) {
	w := b.kept[k]
	if w != nil && w.age == b.age {
		return w, nil
	}
	if w != nil {
		err := w.stamp(b)
		if err == nil {
			w.age = b.age
			return w, nil
		}
		if !errors.Is(err, circuit.ErrStructure) {
			return nil, err
		}
	}
	w, err := b.compile(k)
	if err != nil {
		return nil, err
	}
	if len(b.kept) >= mostKept {
		clear(b.kept)
	}
	w.age = b.age
	b.kept[k] = w
	return w, nil
}

// switched is the key after the quickest device that the currents of w would
// open has opened, and after chargers have found their mode; the same key if
// nothing moves.
func (b *Bench) switched(w *compiled, k key) key {
	worst, at := 1.0, -1
	for d, poles := range b.poles {
		if k.tripped&(1<<d) != 0 {
			continue
		}
		sum, most := complex128(0), 0.0
		var trip, residual float64
		for _, i := range poles {
			p := &b.rig.Parts[i]
			amps, _ := w.amps(i)
			sum += amps
			most = max(most, abs(amps))
			trip, residual = b.number(p, rig.AttrTrip, 0), b.number(p, rig.AttrResidual, 0)
		}
		if trip > 0 && most/trip > worst {
			worst, at = most/trip, d
		}
		if residual > 0 && abs(sum)/residual > worst {
			worst, at = abs(sum)/residual, d
		}
	}
	if at >= 0 {
		k.tripped |= 1 << at
		return k
	}
	if k.direct {
		k.charge = b.chargers(w, k)
	}
	return k
}

// chargers is what the chargers turn to: they hold their volts, limit their
// current, or idle where the battery stands higher.
func (b *Bench) chargers(w *compiled, k key) uint64 {
	next, c := k.charge, 0
	for i := range b.rig.Parts {
		p := &b.rig.Parts[i]
		if p.Kind != rig.Charger {
			continue
		}
		amps, known := w.amps(i) // from plus to minus inside: negative while it gives
		gives := -real(amps)
		mode := k.charge >> (2 * c) & 3
		switch limit := b.number(p, rig.AttrLimit, math.Inf(1)); {
		case !known:
		case mode == holding && gives > limit:
			next = next&^(3<<(2*c)) | limiting<<(2*c)
		case mode == holding && gives < -1e-9:
			next = next&^(3<<(2*c)) | idling<<(2*c)
		}
		c++
	}
	return next
}

const (
	holding  = 0
	limiting = 1
	idling   = 2
)

// number is a part's attribute at the present values.
func (b *Bench) number(p *rig.Part, a rig.Attribute, without float64) float64 {
	if i := p.Params[a]; i != rig.None {
		return b.values[i]
	}
	return without
}

// tripped names the devices that have opened.
func (b *Bench) tripped(k key) []string {
	var names []string
	for d, run := range b.devices {
		if k.tripped&(1<<d) != 0 {
			names = append(names, run)
		}
	}
	sort.Strings(names)
	return names
}

// Tripped names the protective devices that have opened in a state, for alternating
// current or direct, those that stay open among them.
func (b *Bench) Tripped(st State, direct bool) ([]string, error) {
	_, k, err := b.solve(st, direct || b.rig.Direct())
	return b.tripped(k), err
}

// Picture is a solved state, for drawing.
type Picture struct {
	Volts   map[string]complex128 // node to remote earth; a node that floats is absent
	Amps    map[string]complex128 // through a part from A to B; absent where an exact short hides it
	Tripped []string
}

// Solve is the whole picture of a state without a meter: the alternating one,
// or in a rig of direct current only, that.
func (b *Bench) Solve(st State) (*Picture, error) { return b.picture(st, b.rig.Direct()) }

// SolveDirect is the whole picture at 0 Hz, in a rig of any kind.
func (b *Bench) SolveDirect(st State) (*Picture, error) { return b.picture(st, true) }

func (b *Bench) picture(st State, direct bool) (*Picture, error) {
	w, k, err := b.solve(st, direct)
	if err != nil {
		return nil, err
	}
	pic := &Picture{Volts: map[string]complex128{}, Amps: map[string]complex128{}, Tripped: b.tripped(k)}
	for _, name := range b.rig.Nodes() {
		if v, ok := w.solver.Voltage(w.net.Node(name), circuit.Earth); ok {
			pic.Volts[name] = v
		}
	}
	for i, p := range b.rig.Parts {
		if amps, ok := w.amps(i); ok {
			pic.Amps[p.Name] = amps
		}
	}
	return pic, nil
}

// Voltage is the voltage between two nodes without a meter.
func (b *Bench) Voltage(st State, x, y string) (volts complex128, ok bool, err error) {
	w, _, err := b.solve(st, b.rig.Direct())
	if err != nil {
		return 0, false, err
	}
	volts, ok = w.solver.Voltage(w.net.Node(x), w.net.Node(y))
	return volts, ok, nil
}

// Measure is what the probes see of a quantity in the state it is read in, with
// the loads of all legs on where it asks for loads.
func (b *Bench) Measure(q faulttree.Quantity, in Input) (Measured, error) {
	return b.MeasureIn(q, b.StateFor(q, b.legs), in)
}
