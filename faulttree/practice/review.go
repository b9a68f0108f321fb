package practice

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// Book is what a review takes from a handbook.
type Book struct {
	Faults []*rig.Fault      // the catalogue
	Forest *faulttree.Forest // its trees
	Tree   string            // the tree to walk beside the attempt, "" for none
	Meter  faulttree.Meter   // the model of the learner's meter
}

// Review puts an attempt beside what is there and beside the tree. What is marked of
// it says package mark.
type Review struct {
	Named    string
	Right    bool     // what was named is there
	Truth    []string // all that there was to find
	Readings []Act    // in order
	Count    int      // how many readings
	Way      Way      // the tree's own
	Suspects []Suspect
	Proved   bool // the meter was put on a source known to be live
	HeldOn   int  // readings taken with the hold on
}

// Review looks back on an attempt that has ended or not.
func (c Case) Review(a Attempt, b Book) (Review, error) {
	r := Review{Named: a.Named(), Truth: c.Truth(), Readings: a.Readings()}
	r.Count = len(r.Readings)
	r.Right = slices.Contains(r.Truth, a.Named())
	for _, act := range r.Readings {
		r.Proved = r.Proved || act.Kind == Prove
		if act.Setting.Hold {
			r.HeldOn++
		}
	}
	var err error
	if b.Tree != "" {
		if r.Way, err = c.Walk(b.Forest, b.Tree, b.Meter); err != nil {
			return r, err
		}
	}
	r.Suspects, err = c.suspects(b.Faults, a, b.Meter)
	c.putTruthFirst(&r, b.Meter, a)
	return r, err
}

// putTruthFirst puts the true faults, all in force together, first among the
// suspects under their own name, exactly as they are.
func (c Case) putTruthFirst(r *Review, model faulttree.Meter, a Attempt) {
	if len(r.Suspects) == 0 {
		return
	}
	true0 := Suspect{Fault: r.Truth[0], Where: "as it is"}
	for _, f := range c.Faults {
		if f.Fault.ID == r.Truth[0] {
			true0.Title = f.Fault.Title
		}
	}
	true0 = compare(true0, r.Readings, r.Readings, model)
	rest := slices.DeleteFunc(r.Suspects, func(s Suspect) bool { return s.Fault == r.Truth[0] })
	r.Suspects = append([]Suspect{true0}, rest...)
}

// Shortlist is the suspects worth a column: the truth, what was named, a sound
// vehicle, and those that explain the most of the readings, at most n. The
// number is of the wrong suspects, listed or not, that explain all readings as
// well.
func (r Review) Shortlist(n int) (out []Suspect, alsoFit int) {
	rank := func(s Suspect) int {
		switch {
		case slices.Contains(r.Truth, s.Fault):
			return 0
		case s.Fault == r.Named:
			return 1
		case s.Fault == NoFault:
			return 2
		}
		return 3
	}
	all := slices.Clone(r.Suspects)
	slices.SortStableFunc(all, func(a, b Suspect) int { return rank(a) - rank(b) })
	for _, s := range all {
		if len(out) < n {
			out = append(out, s)
		}
		if s.Fitted == r.Count && s.Fault != NoFault && !slices.Contains(r.Truth, s.Fault) {
			alsoFit++
		}
	}
	return out, alsoFit
}
