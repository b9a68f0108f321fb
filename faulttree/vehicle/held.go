package vehicle

import (
	"maps"

	"faultwright/faulttree/bench"
)

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
