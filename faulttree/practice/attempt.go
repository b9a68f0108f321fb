package practice

import (
	"slices"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Attempt is a learner's go at a case. The zero value is one that has just
// begun. Attempts are values: methods return a new one.
//
// All that happens after the beginning is named by the number of the act it
// belongs to; see [Number].
type Attempt struct {
	Case       string          `json:"case"`          // the scenario
	Seed       uint64          `json:"seed,omitzero"` // which variant of it; 0: as it was written
	Level      Level           `json:"level,omitzero"`
	Role       faulttree.Role  `json:"role"`
	Supervised bool            `json:"supervised,omitzero"` // that of a trainee; see [RoleName]
	Meter      faulttree.Meter `json:"meter"`               // the model in the learner's hand
	Rules      int             `json:"rules,omitzero"`      // of the vehicle under his hands; see [Rules]
	Started    time.Time       `json:"started,omitzero"`

	Acts        []Act        `json:"acts,omitempty"`
	Hints       []Hint       `json:"hints,omitempty"`
	Predictions []Prediction `json:"predictions,omitempty"`
	Conclusion  *Conclusion  `json:"conclusion,omitempty"`
	// Repaired is how many acts there were when the repair was done, 0 before
	// that. Acts after it are on the repaired vehicle: the test after repair.
	Repaired int `json:"repaired,omitzero"`
	// Beside is the visits, by id, that are walks taken beside the attempt.
	Beside []string `json:"beside,omitempty"`
}

// Rules is by which rules an attempt is made that begins now. Attempts that were kept
// before go on, and verify, by theirs.
//
//	0: what has tripped closes by itself once its cause is gone
//	1: it stays open until it is reset
const Rules = 1

// Level is how much the program helps.
type Level uint8

const (
	Free   Level = iota // not at all
	Guided              // the tree beside it; a hint costs
	Worked              // each step is shown, and what it will read is asked before the reading
)

// Hint is what was told when the learner asked for it.
type Hint struct {
	After int           `json:"after"` // how many acts there were
	Text  string        `json:"text"`
	At    time.Duration `json:"at"` // since the attempt began
}

// Prediction is what the learner said before a reading: what it will read and
// what that tells.
type Prediction struct {
	Before  int           `json:"before"` // how many acts there were; it is of the next one that reads
	Expects string        `json:"expects"`
	Tells   string        `json:"tells"`
	At      time.Duration `json:"at"` // since the attempt began
}

// Sureness is how sure somebody is of a conclusion.
type Sureness uint8

const (
	Guess Sureness = iota
	Likely
	Sure
)

// Conclusion is what a learner makes of the readings.
type Conclusion struct {
	Faults   []string            `json:"faults"`             // ids, or [NoFault] alone
	Place    faulttree.Place     `json:"place,omitzero"`     // where; "" where it was not said
	Deciding []int               `json:"deciding,omitempty"` // indices of the acts whose readings decided
	Sure     Sureness            `json:"sure"`
	Open     []faulttree.FaultAt `json:"open,omitempty"`     // dangers that are still open
	Do       string              `json:"do,omitzero"`        // id of what is to be done
	RepairBy string              `json:"repair_by,omitzero"` // who does it
	Tell     string              `json:"tell,omitzero"`      // to the customer
	At       time.Duration       `json:"at"`                 // since the attempt began
}

// Bounds on an attempt, so that a file from outside is no burden.
const (
	MostActs        = 10_000
	MostHints       = 1_000
	MostText        = 4_000 // bytes of a text that somebody typed
	mostNamed       = 100   // faults, dangers and walks in a list
	longestDuration = 365 * 24 * time.Hour
)

// Number is the number under which the act of this index is shown, wherever it
// is spoken of: readings have no numbers of their own.
func Number(index int) int { return index + 1 }

// With is the attempt after more acts. What could not be done ([Reject]) is no
// act of it.
func (a Attempt) With(acts ...Act) Attempt {
	a.Acts = slices.Clone(a.Acts)
	for _, act := range acts {
		if act.Kind != Reject {
			a.Acts = append(a.Acts, act)
		}
	}
	return a
}

// Conclude is the attempt after a conclusion.
func (a Attempt) Conclude(c Conclusion) Attempt {
	a.Conclusion = &c
	return a
}

// Name is the attempt after a conclusion that names a fault and says no more.
func (a Attempt) Name(fault string) Attempt { return a.Conclude(Conclusion{Faults: []string{fault}}) }

// Named is the first fault that was named, [NoFault], or "" before that.
func (a Attempt) Named() string {
	if a.Conclusion == nil || len(a.Conclusion.Faults) == 0 {
		return ""
	}
	return a.Conclusion.Faults[0]
}

// Ended reports whether there is a conclusion.
func (a Attempt) Ended() bool { return a.Conclusion != nil }

// Predicted is what was said last before the reading of this index; ok is false
// where nothing was.
func (a Attempt) Predicted(reading int) (p Prediction, ok bool) {
	readings := a.ReadingsAt()
	for _, said := range a.Predictions {
		next := slices.IndexFunc(readings, func(i int) bool { return i >= said.Before })
		if next >= 0 && readings[next] == reading {
			p, ok = said, true
		}
	}
	return p, ok
}

// Last is when the newest act was done or the conclusion was drawn, since the
// attempt began.
func (a Attempt) Last() time.Duration {
	last := time.Duration(0)
	if n := len(a.Acts); n > 0 {
		last = a.Acts[n-1].At
	}
	if a.Conclusion != nil {
		last = max(last, a.Conclusion.At)
	}
	return last
}

// Readings lists the acts that put probes somewhere, proofs of the meter among
// them.
func (a Attempt) Readings() []Act {
	return lists.Each(a.ReadingsAt(), func(i int) Act { return a.Acts[i] })
}

// ReadingsAt lists the indices of the same acts.
func (a Attempt) ReadingsAt() []int {
	var out []int
	for i, act := range a.Acts {
		if act.Reads() {
			out = append(out, i)
		}
	}
	return out
}
