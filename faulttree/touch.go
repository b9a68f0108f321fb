package faulttree

// Touch is what a hand may touch of a vehicle, and from where on that can hurt,
// as the handbook has it. The zero value says nothing.
type Touch struct {
	Point string // the test point that is touched, such as body
	Soil  string // in a rig, the part between it and remote earth; as wet as it gets it may differ
	From  Amount // volts to remote earth at and above which nobody may touch it
}

// Known reports whether the handbook says anything.
func (t Touch) Known() bool { return t.Point != "" && t.From > 0 }
