package faulttree

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/faulttree/lists"
)

// Take says that a quantity is read several times, one after the other, and
// which of the readings counts. The zero value is a single reading.
type Take struct {
	Counts   Counts
	Places   []string    // in words, such as step; where a probe touches the same point
	Contacts []string    // such as l1 and l2: each in the place of the other, where there is one
	Loads    []LoadsTurn // in which the loads are switched
}

// Counts is which of several readings counts.
type Counts uint8

const (
	TakeOnce     Counts = iota // there is only one
	TakeHighest                // the highest
	TakeLowest                 // the lowest
	TakeFarthest               // the one that lies farthest from the first
)

// LoadsTurn is how the loads stand for one or more of several readings.
type LoadsTurn uint8

const (
	LoadsOff LoadsTurn = iota // none on
	EachLoad                  // one after the other, each alone
	AllLoads                  // all on together
)

var (
	takeForms  = [...]string{"", "highest of", "lowest of", "farthest from the first of"}
	loadsTurns = [...]string{"loads off", "each load", "all loads"}
	hotPins    = []string{"l1", "l2"}
)

// ParseTake reads what a document says under take: which reading counts, and of
// what, such as
//
//	highest of [frame, door frame, step]
//	lowest of [l1, l2]
//	highest of [loads off, each load, all loads]
//
// Several kinds in one list are read in every combination.
func ParseTake(text string) (Take, error) {
	var t Take
	form := -1
	rest := ""
	for i, name := range takeForms {
		if after, ok := strings.CutPrefix(text, name+" ["); ok && i > 0 {
			form, rest = i, after
		}
	}
	list, closed := strings.CutSuffix(rest, "]")
	if form < 0 || !closed {
		return t, fmt.Errorf("%q does not say what counts; expected a form such as: highest of [frame, door frame, step]", text)
	}
	t.Counts = Counts(form)
	for item := range strings.SplitSeq(list, ",") {
		item = strings.Join(strings.Fields(item), " ")
		turn := slices.Index(loadsTurns[:], item)
		switch {
		case item == "":
		case turn >= 0:
			t.Loads = append(t.Loads, LoadsTurn(turn))
		case slices.Contains(hotPins, item):
			t.Contacts = append(t.Contacts, item)
		case strings.Contains(item, "load"):
			return t, fmt.Errorf("%q is no way in which loads are switched; expected one of: %s", item, strings.Join(loadsTurns[:], ", "))
		default:
			t.Places = append(t.Places, item)
		}
	}
	switch {
	case len(t.Contacts) == 1:
		return t, fmt.Errorf("%s alone is named; expected both of %s", t.Contacts[0], strings.Join(hotPins, ", "))
	case len(t.Places)+len(t.Contacts)+len(t.Loads) < 2:
		return t, fmt.Errorf("%q names less than two readings", text)
	case t.Counts == TakeFarthest && len(t.Loads) > 0 && t.Loads[0] == AllLoads:
		return t, fmt.Errorf("%q begins with all loads on; expected the reading that the others are compared with", text)
	}
	return t, nil
}

// Several reports whether more than one reading is taken.
func (t Take) Several() bool { return t.Counts != TakeOnce }

// Pick is the value that counts of several, in the order they were read; NaN is
// none.
func (t Take) Pick(values []float64) float64 {
	picked := values[0]
	for _, v := range values[1:] {
		switch t.Counts {
		case TakeHighest:
			picked = max(picked, v)
		case TakeLowest:
			picked = min(picked, v)
		case TakeFarthest:
			if far(v, values[0]) > far(picked, values[0]) {
				picked = v
			}
		}
	}
	return picked
}

// far is how far apart two values lie.
func far(a, b float64) float64 { return max(a-b, b-a) }

// At lists q with each of the contacts of its take in place of the one it
// names: alone where it names none of them. Where it names one at both ends, as
// a cord's hot from end to end, both ends move together. The id stays, so that
// it is judged as what it is.
func (q Quantity) At() []Quantity {
	red, first, _ := strings.Cut(q.Red, ".")
	black, second, _ := strings.Cut(q.Black, ".")
	own := first
	if !slices.Contains(q.Take.Contacts, own) {
		own = second
	}
	if !slices.Contains(q.Take.Contacts, own) {
		return []Quantity{q}
	}
	out := []Quantity{q}
	for _, c := range q.Take.Contacts {
		if c == own {
			continue
		}
		at := q
		if first == own {
			at.Red = red + "." + c
		}
		if second == own {
			at.Black = black + "." + c
		}
		out = append(out, at)
	}
	return out
}

// Of is the take as it is for q: without the contacts where q touches none of
// them, as a neutral pin beside a method that reads L1, then L2.
func (t Take) Of(q Quantity) Take {
	q.Take = t
	if len(t.Contacts) == 0 || len(q.At()) > 1 {
		return t
	}
	return t.atOne()
}

// atOne is t at the contact alone that a quantity names.
func (t Take) atOne() Take {
	t.Contacts = nil
	if len(t.Places)+len(t.Loads) < 2 {
		return Take{}
	}
	return t
}

// Tells is String for q by what is known: a contact that the facts rule out is not
// spoken of, and one that they put there without an if.
func (t Take) Tells(q Quantity, points map[string]Point, known Known) string {
	q.Take = t.Of(q)
	sure := false
	for i, at := range q.At() {
		needs := points[at.Red].Needs.And(points[at.Black].Needs)
		if needs.Unmet(known) {
			return q.Take.atOne().String()
		}
		sure = i > 0 && len(needs) > 0 && needs.unknown(known) == ""
	}
	return q.Take.text(sure)
}

// String is what tells a reader what to read and to type, a sentence; "" for a
// single reading.
func (t Take) String() string { return t.text(false) }

// text is String; both says that the second contact is known to be there.
func (t Take) text(both bool) string {
	if !t.Several() {
		return ""
	}
	var of []string
	if len(t.Places) > 0 {
		of = append(of, strings.Join(t.Places, ", "))
	}
	if len(t.Contacts) > 0 {
		contacts := strings.ToUpper(t.Contacts[0]) + ", and " + strings.ToUpper(t.Contacts[1])
		if !both {
			contacts += " if there is one"
		}
		of = append(of, contacts)
	}
	turns := lists.Each(t.Loads, func(l LoadsTurn) string { return [...]string{"no load on", "each alone", "all"}[l] })
	if len(turns) > 0 {
		of = append(of, strings.Join(turns, ", "))
	}
	counts := [...]string{"", "the highest", "the lowest", "the figure farthest from the first"}[t.Counts]
	return "Read each, type " + counts + ": " + strings.Join(of, "; each with ") + "."
}
