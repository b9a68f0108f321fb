package mark

import (
	"fmt"
	"maps"
	"math/cmplx"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

// moment is an act of an attempt, and how things stood when it was done.
type moment struct {
	practice.Act
	index  int
	before bench.State // as the vehicle stood before it
	after  bench.State
	tried  []string // interventions in force while it was done, by id
	round  int      // 0 before the repair, 1 after it
	slip   bool     // it was taken back at once
	volts  float64  // between the tips, truly; 0 where nothing is read
	open   []string // what stood tripped before it, by name
	unfed  bool     // before a switch was thrown something ahead of the vehicle had tripped
}

// moments does the acts of an attempt over again. The attempt must be one that
// [practice.Case.Verify] found nothing wrong with.
func moments(c practice.Case, a practice.Attempt) ([]moment, error) {
	v, err := c.BeginAs(a)
	if err != nil {
		return nil, err
	}
	var out []moment
	for i, act := range a.Acts {
		round := 0
		if a.Repaired > 0 && i >= a.Repaired && a.Conclusion != nil {
			round = 1
		}
		if i == a.Repaired && round == 1 {
			if err := v.Repair(*a.Conclusion); err != nil {
				return nil, err
			}
		}
		m := moment{index: i, before: v.State(), open: v.Open(), round: round, slip: i+1 < len(a.Acts) && a.Acts[i+1].Kind == practice.TakeBack}
		for _, t := range c.Tries {
			if v.Tried(t.ID) {
				m.tried = append(m.tried, t.ID)
			}
		}
		if act.Kind == practice.Read {
			if m.volts, err = truly(v, act); err != nil {
				return nil, err
			}
		}
		if act.Kind == practice.Throw {
			open, err := v.Tripped()
			if err != nil {
				return nil, err
			}
			m.unfed = slices.ContainsFunc(open, func(device string) bool { return !c.Within(device) })
		}
		if act.Reads() {
			v.Set(act.Setting)
		}
		done, err := v.Do(act)
		if err != nil {
			return nil, fmt.Errorf("act %d: %w", practice.Number(i), err)
		}
		if len(done) != 1 || done[0].Kind != act.Kind {
			return nil, fmt.Errorf("act %d cannot have been done as it stands there", practice.Number(i))
		}
		m.Act, m.after = done[0], v.State()
		out = append(out, m)
	}
	return out, nil
}

// truly is the voltage between the tips without any meter, as far as something
// decides it.
func truly(v *practice.Learner, a practice.Act) (float64, error) {
	if a.Black == "" {
		return 0, nil
	}
	pic, err := v.Picture()
	if err != nil {
		return 0, err
	}
	at := func(point string) (complex128, bool) {
		if point == "0" {
			return 0, true
		}
		volts, ok := pic.Volts[point]
		return volts, ok
	}
	red, ok := at(a.Red)
	black, also := at(a.Black)
	if !ok || !also {
		return 0, nil
	}
	return cmplx.Abs(red - black), nil
}

// dead reports whether the vehicle is off whatever makes current: a plug of its
// cord is out, and nothing aboard runs. The breaker alone is not enough.
func dead(r *rig.Rig, st bench.State) bool {
	out, plugs := false, false
	for _, s := range r.Switches {
		off := isOff(st, s)
		switch {
		case len(s.Covers) > 0:
			plugs, out = true, out || off
		case slices.Contains(makers, s.Name) && !off:
			return false
		case slices.Contains(makers, s.Name):
			out = out || !plugs
		}
	}
	return out
}

// makers are the switches of what makes alternating current aboard.
var makers = []string{"generator", "inverter"}

func isOff(st bench.State, s rig.Switch) bool {
	if off, said := st.Off[s.Name]; said {
		return off
	}
	return s.Off
}

// energises reports whether before b something was on that was off before a: a switch, what
// had tripped, a load. Behind a main breaker that is off nothing of the vehicle is on.
func energises(c practice.Case, a, b moment) bool {
	off := func(name string) bool {
		return slices.ContainsFunc(c.Rig.Switches, func(s rig.Switch) bool { return s.Name == name && isOff(b.before, s) })
	}
	for _, s := range c.Rig.Switches {
		if isOff(a.before, s) && !isOff(b.before, s) {
			return true
		}
	}
	dark := off("main")
	for _, device := range a.open {
		if !slices.Contains(b.open, device) && !off(c.SwitchOf(device)) && !(dark && c.Within(device)) {
			return true
		}
	}
	for leg, on := range b.before.Loads {
		if on && !a.before.Loads[leg] && !dark {
			return true
		}
	}
	return false
}

// ofBody reports whether an act reads the body to earth in a way that counts:
// alternating volts, nothing held, high impedance, in the volt jack.
func ofBody(a practice.Act) bool {
	points := []string{a.Red, a.Black}
	return a.Kind == practice.Read && a.Setting.Function == meter.VoltsAC && !a.Setting.Hold && a.Setting.Jack == meter.VoltJack && a.Numeric() &&
		slices.Contains(points, "body") && (slices.Contains(points, "earth") || slices.Contains(points, "0"))
}

// sameState reports whether two states are alike in every switch and load of a
// rig, and in what stays open.
func sameState(r *rig.Rig, a, b bench.State) bool {
	for _, s := range r.Switches {
		if isOff(a, s) != isOff(b, s) {
			return false
		}
	}
	on := func(st bench.State) map[string]bool {
		out := maps.Clone(st.Loads)
		maps.DeleteFunc(out, func(_ string, on bool) bool { return !on })
		return out
	}
	return maps.Equal(on(a), on(b)) && maps.Equal(a.Tripped, b.Tripped)
}

// volts is the quantity that a body to earth is judged as.
var volts = faulttree.Quantity{Unit: faulttree.VoltsAC, Range: 600 * faulttree.One}
