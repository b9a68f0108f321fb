package rig

// Named lists the indices of the part of this name, or of all parts of the run
// of this name, its couplings included. What a [Set] names may be a run; the
// parts of a run share its numbers.
func (r *Rig) Named(name string) []int {
	var run []int
	for i, p := range r.Parts {
		if p.Name == name {
			return []int{i}
		}
		if p.Run == name {
			run = append(run, i)
		}
	}
	return run
}

// Main is the attribute that the name of a part alone stands for.
func (p Part) Main() Attribute {
	order := map[Kind][]Attribute{
		Source: {AttrVolts}, Conductor: {AttrLength, AttrOhms}, Joint: {AttrOhms}, Resistance: {AttrOhms},
		Capacitance: {AttrFarads}, Inductance: {AttrHenries}, Load: {AttrWatts}, Breaker: {AttrOhms}, Charger: {AttrVolts},
	}[p.Kind]
	for _, a := range order {
		if p.Params[a] != None {
			return a
		}
	}
	return attributes
}

// Number is the index of the parameter of this name, which may be that of a
// part or a run alone and then stands for its main number; or [None].
func (r *Rig) Number(name string) int {
	if i := r.Param(name); i != None {
		return i
	}
	for _, i := range r.Named(name) {
		if a := r.Parts[i].Main(); a != attributes {
			return r.Parts[i].Params[a]
		}
	}
	return None
}
