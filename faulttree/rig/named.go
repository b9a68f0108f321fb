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
