package class

import (
	"cmp"
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/practice"
)

// Learner is who handed in a file.
type Learner struct {
	Name    string
	File    string
	Saved   time.Time
	Late    bool       // saved after the day it was due where the instructor is, by the clock of the learner's computer
	Tries   []*Checked // by task; nil where no attempt was handed in
	Remarks []string   // on the file as a whole, sentences
}

// Checked is an attempt, verified.
type Checked struct {
	Attempt  practice.Attempt  // with every reading as it was worked out again
	Scenario *content.Scenario // the variant that was given out under this name
	Case     practice.Case     // its vehicle
	// Edited says what first does not follow from it, a sentence; "" where all does.
	// What does not follow is not marked.
	Edited string
	// Elsewhere says that it was handed out or made with another handbook than the one that
	// verifies: then what does not follow need not have been changed by anybody.
	Elsewhere bool
	Copied    []string // what is the same as in somebody else's file, sentences
	Marks     *Marks   // nil where it was edited, or not marked
	Unmarked  string   // why it is not marked although it verifies, a sentence

	sameActs []*Learner // in whose file the same acts stand at the same times
	foreign  []string   // whose vehicle it is at, sentences; Copied has them too
}

// verifier takes attempt files into a class.
type verifier struct {
	lib      *content.Library
	handbook string // fingerprint of lib
	class    *Class
	zone     *time.Location // in which the day is meant by which it is due
}

// newVerifier is for an assignment whose scenarios the handbook can read.
func newVerifier(ctx context.Context, lib *content.Library, a *Assignment, zone *time.Location) (*verifier, error) {
	c := &Class{Assignment: a}
	var err error
	if c.Scenarios, err = a.Scenarios(ctx, lib); err != nil {
		return nil, err
	}
	v := &verifier{lib: lib, handbook: lib.Fingerprint(), class: c, zone: cmp.Or(zone, time.UTC)}
	if a.Handbook != v.handbook {
		c.Handbook = "The assignment was made with another handbook than this one. Where they differ, a reading may not follow although nobody changed it: mark with the program that it was made with."
	}
	return v, nil
}

// verified is a file that was verified, or why it does not count.
type verified struct {
	learner *Learner
	told    Told
}

// verify verifies a file. Any number of goroutines may ask it.
func (v *verifier) verify(name string, f *AttemptFile) verified {
	a := v.class.Assignment
	if f.Assignment != a.ID {
		return verified{told: Told{name, fmt.Sprintf("this is an attempt at another assignment, by %s", f.Learner)}}
	}
	l := &Learner{Name: f.Learner, File: name, Saved: f.Saved.In(v.zone), Late: a.Due.Over(f.Saved.In(v.zone)), Tries: make([]*Checked, len(a.Tasks))}
	for _, one := range f.Attempts {
		task, ok := a.Task(one.Case)
		switch {
		case !ok:
			l.Remarks = append(l.Remarks, fmt.Sprintf("There is an attempt at %q, which the assignment does not have.", plain(one.Case)))
		case l.Tries[task] != nil:
			l.Remarks = append(l.Remarks, fmt.Sprintf("There are two attempts at %q; the first counts.", one.Case))
		default:
			l.Tries[task] = v.check(task, f.Learner, one)
			l.Tries[task].Elsewhere = v.class.Handbook != "" || f.Handbook != v.handbook
		}
	}
	if f.Handbook != v.handbook {
		l.Remarks = append(l.Remarks, "It was made with another handbook than this one, so that a reading may not follow although nobody changed it.")
	}
	return verified{learner: l}
}

// take takes a file that was verified into the class.
func (v *verifier) take(x verified) {
	if x.learner == nil {
		v.class.Told = append(v.class.Told, x.told)
		return
	}
	v.enrol(x.learner)
}

// check verifies one attempt at a task.
func (v *verifier) check(task int, learner string, a practice.Attempt) *Checked {
	asg, out := v.class.Assignment, &Checked{Attempt: a}
	seed := asg.Seed(task, learner)
	if asg.given(task, learner, a.Seed) {
		seed = a.Seed
	}
	out.Scenario = scenes.VariantOf(v.class.Scenarios[task], seed)
	out.Case = scenes.CaseOf(v.lib, out.Scenario)
	done, differs, err := out.Case.Verify(a)
	switch {
	case err != nil:
		out.Edited = fmt.Sprintf("It cannot be verified: %v.", err)
		return out
	case a.Seed != seed:
		out.Edited = fmt.Sprintf("It says variant %d of the vehicle; under this name variant %d was given out.", a.Seed, seed)
	case a.Level != asg.Level || a.Role != asg.Role || a.Supervised != asg.Supervised:
		out.Edited = fmt.Sprintf("It says level %s and role %s; the assignment is for %s and %s.", a.Level, practice.RoleName(a.Role, a.Supervised), asg.Level, practice.RoleName(asg.Role, asg.Supervised))
	case len(a.Hints) > 0 && !asg.Open.Hints:
		out.Edited = "It has hints, which the assignment does not give."
	}
	out.Attempt = done
	if differs != nil {
		out.Edited = join(out.Edited, fmt.Sprintf("The first line that does not follow is act %d. It says “%s”; worked out again: %s.", practice.Number(differs.Act), plain(differs.Said), strings.TrimSuffix(plain(differs.Computed), ".")))
	}
	return out
}

// enrol puts a learner into the class. Of two files under one name the one that was
// saved last counts.
func (v *verifier) enrol(l *Learner) {
	for i, o := range v.class.Learners {
		if nameKey(o.Name) != nameKey(l.Name) {
			continue
		}
		if l.Saved.After(o.Saved) {
			o, l = l, o
		}
		v.class.Learners[i] = o
		if l.Saved.Equal(o.Saved) && slices.EqualFunc(l.Tries, o.Tries, sameTry) {
			v.class.Told = append(v.class.Told, Told{l.File, fmt.Sprintf("this is %s once more", plain(o.File))})
			return
		}
		o.Remarks = append(o.Remarks, fmt.Sprintf("There are two files under this name; %s was saved last and counts, %s does not.", plain(o.File), plain(l.File)))
		return
	}
	v.class.Learners = append(v.class.Learners, l)
}

// sameTry reports whether two attempts say the same.
func sameTry(x, y *Checked) bool {
	return x == nil && y == nil || x != nil && y != nil && x.Edited == y.Edited && reflect.DeepEqual(x.Attempt, y.Attempt)
}

// join puts sentences one behind the other.
func join(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " " + b
}
