// Package rubric is what the marks of a practice attempt count: the caps of
// unsafe acts and the points of what was done well, as values that a handbook
// states and an instructor reads. It knows neither attempts nor circuits.
package rubric

import (
	"slices"

	"faultwright/faulttree"
)

// Rule is a kind of unsafe act.
type Rule string

// The unsafe acts. Each is marked every time it is done.
const (
	MeterUnproved Rule = "meter-unproved"     // a verdict on a meter that was not put on a source known to be live
	OhmsOnLive    Rule = "ohms-on-live"       // ohms or the beeper on a circuit that is live
	AmpereJack    Rule = "ampere-jack"        // the lead in the ampere jack, and the tips across a supply
	BodyUnknown   Rule = "body-unknown"       // the body touched before it was read as things stood then
	BodyAfter     Rule = "body-after-shock"   // touched though it read what somebody may have felt, and somebody was shocked
	BodyLive      Rule = "body-live"          // touched though it read what can kill
	PluggedUnder  Rule = "plugged-under-load" // a plug pushed or pulled with the breaker ahead of it on
	BadSupply     Rule = "dangerous-supply"   // the vehicle energised from a supply that had read dangerous
	LowSupply     Rule = "low-supply"         // or from one that had read too low for what is aboard
	HighSupply    Rule = "high-supply"        // or too high for it
	LiveFirst     Rule = "live-before-dead"   // a live contact where a dead test would have told as much
	LoadInDoubt   Rule = "load-in-doubt"      // a load switched on while the neutral is in doubt
	StopDisobeyed Rule = "stop-disobeyed"     // after a reading that reached a danger limit, anything but making it dead, dead tests and the conclusion
	OpenedByOwner Rule = "opened-by-owner"    // an owner's probes where only somebody qualified opens a cover
	ClearedDanger Rule = "cleared-danger"     // no fault found where there is one that can kill, and not named as open
)

// Rules lists every Rule.
func Rules() []Rule {
	return []Rule{MeterUnproved, OhmsOnLive, AmpereJack, BodyUnknown, BodyAfter, BodyLive, PluggedUnder, BadSupply, LowSupply, HighSupply, LiveFirst, LoadInDoubt, StopDisobeyed, OpenedByOwner, ClearedDanger}
}

// What is marked with points.
const (
	Complaint = "complaint" // it was seen for oneself
	Found     = "found"     // what is to be done is what the readings hold likely, and it is right
	Where     = "place"     // the place was named
	Dangers   = "dangers"   // dangers that are still open were read or named
	WhatToDo  = "do"
	WhoDoes   = "who"
	Verified  = "verified" // what had shown the fault was read again after the repair
	Economy   = "economy"  // readings and exposure beside the best order
)

// PartIDs lists what is marked with points, in the order in which it is told.
func PartIDs() []string {
	return []string{Complaint, Found, Where, Dangers, WhatToDo, WhoDoes, Verified, Economy}
}

// Whole is what the points of all parts add up to.
const Whole = 100

// Rubric says what counts how much. The zero value marks nothing.
type Rubric struct {
	Held     float64          // share of a belief from which something is held
	InDoubt  float64          // share from which something is not unlikely
	Felt     faulttree.Amount // volts of a body to earth from which a shock in the story is believed
	DeadTest float64          // bits that a dead test must be expected to tell to come before a live contact
	Guess    int              // the most that a right guess gets
	Again    int              // what every further unsafe act takes off the lowest cap
	FullAt   float64          // economy: full points up to this many times the cost of the best order
	NoneFrom float64          // and none from this many times on
	Hint     int              // economy: points that every hint takes
	Caps     []Cap
	Parts    []Part
	Words    []Word // the highest first
}

// Cap is the most that an attempt with an unsafe act gets.
type Cap struct {
	Rule  Rule
	Title string
	Most  int
	Card  string // a card or caution that explains it
}

// Part is something done well, and what it counts.
type Part struct {
	ID     string // one of [PartIDs]
	Title  string
	Points int
	Card   string
}

// Word is what a total is called.
type Word struct {
	From int
	Text string
}

// Cap is the cap of a rule. Where the rubric has none an act against it leaves nothing: it
// never goes unmarked.
func (r Rubric) Cap(rule Rule) Cap {
	i := slices.IndexFunc(r.Caps, func(c Cap) bool { return c.Rule == rule })
	if i < 0 {
		return Cap{Rule: rule, Title: string(rule)}
	}
	return r.Caps[i]
}

// Part is what a part counts; the zero value where the rubric has none.
func (r Rubric) Part(id string) Part {
	i := slices.IndexFunc(r.Parts, func(p Part) bool { return p.ID == id })
	if i < 0 {
		return Part{ID: id}
	}
	return r.Parts[i]
}

// Word is what a total is called.
func (r Rubric) Word(total int) string {
	for _, w := range r.Words {
		if total >= w.From {
			return w.Text
		}
	}
	return ""
}
