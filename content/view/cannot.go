package view

import (
	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// CannotMeasure is the answer that gives a reason instead of readings.
func CannotMeasure(s *faulttree.Step, reason string) faulttree.Answer {
	var a faulttree.Answer
	for range s.Measure {
		a.Readings = append(a.Readings, faulttree.NotTaken(reason))
	}
	return a
}

// Reasons are the usual ones for not measuring; the reader may write another.
func Reasons() []string {
	return []string{
		"I cannot reach the point without opening something",
		"It is wet there",
		"My meter does not have this function",
		"The reading never stands still",
		"I do not want to do this",
	}
}

// Obstacle is a reason not to take a reading that has a way on of its own.
type Obstacle struct {
	ID     string
	Title  string // in the reader's words: "I see damage"
	Signal faulttree.Signal
	Do     []string // what to do, one sentence each, before anything is recorded
	Reason string   // recorded in place of the readings; "" where nothing is
	Ends   bool     // no more is measured there: the way on is the sheet
}

// The obstacles.
const (
	NoContact = "no-contact"
	Damage    = "damage"
	Unseen    = "unseen"
)

// damageSeen is on record where damage was seen and the reading not taken.
const damageSeen = "damage is seen there"

// Obstacles are those of a measure step: that there is no such contact, that it
// is damaged, and that it cannot be seen. A step that may meet a voltage, the
// pins of a pulled plug among them, is not gone on with where damage is seen.
func Obstacles(s *faulttree.Step) []Obstacle {
	return []Obstacle{noContact(), damage(s), unseen(s)}
}

// ObstacleOf is one of them.
func ObstacleOf(s *faulttree.Step, id string) (Obstacle, bool) {
	all := Obstacles(s)
	return lists.Find(all, func(o Obstacle) bool { return o.ID == id })
}

func noContact() Obstacle {
	return Obstacle{ID: NoContact, Title: "No such contact", Signal: faulttree.Caution, Reason: "there is no such contact", Do: []string{
		"Compare with the picture: contacts are told by their shape, the ground first.",
		"Measure nothing else in its place.",
		"A contact or pin that has broken off or burnt away is damage: go back and say so.",
	}}
}

func damage(s *faulttree.Step) Obstacle {
	o := Obstacle{ID: Damage, Title: "I see damage", Signal: faulttree.Danger, Reason: damageSeen, Ends: true}
	switch live, ofMeter, direct := kindOf(s); {
	case ofMeter:
		o.Reason, o.Ends = "", false
		o.Do = []string{
			"Use nothing damaged: no cracked probe, no bare lead, no receptacle that is broken, burnt or loose.",
			"Draw the probes out by their insulated parts and step back.",
			"Prove a whole meter on another source, or measure nothing.",
		}
	case direct && live:
		o.Do = []string{
			"No flame and no spark: put no clamp on and take none off.",
			"Step back from a battery that is swollen, hot, leaking or smells; air the room from outside.",
			"Measure nothing more there until a qualified person has looked at it.",
		}
	case live:
		o.Do = []string{
			"Put no probe in; draw one that is in out by its insulated part, and step back.",
			"Keep others away, and plug nothing in there.",
			"Have it switched off by whoever is in charge of the supply; reach into nothing to do so yourself.",
			"Measure nothing more there until a qualified person has repaired it.",
		}
	default:
		o.Signal, o.Ends = faulttree.Warning, false
		o.Do = []string{
			"Leave the plug out, and take nothing apart.",
			"A damaged cord, plug or inlet is not plugged in again, here or anywhere, until it is repaired or replaced.",
		}
	}
	return o
}

func unseen(s *faulttree.Step) Obstacle {
	o := Obstacle{ID: Unseen, Title: "I cannot see it", Signal: faulttree.Notice, Do: []string{
		"Get light before you get near: daylight, or a lamp on the head, so that both hands stay free.",
		"Find the ground by its shape first, then the others from it by the picture.",
	}}
	if live, _, _ := kindOf(s); live {
		o.Signal = faulttree.Danger
		o.Do = append([]string{"Feel for nothing with a finger or a probe, and open no cover to see better."}, o.Do...)
		o.Do = append(o.Do, "Stand dry and upright, and lean on nothing. If that shows it no better, it cannot be measured.")
	}
	return o
}

// kindOf says whether a step may meet a voltage, whether it is about the meter
// alone, and whether the voltage is a battery's. Only ohms are dead: a source in
// the vehicle can feed the pins of a pulled plug.
func kindOf(s *faulttree.Step) (live, ofMeter, direct bool) {
	ofMeter, direct = true, true
	for _, v := range s.Measure {
		q := v.Quantity
		live = live || q.Unit != faulttree.Ohms
		ofMeter = ofMeter && q.OfMeter()
		direct = direct && q.Unit != faulttree.VoltsAC
	}
	return live, ofMeter, direct
}

// DamageSeen warns of damage that was seen earlier in a walk; "" for none. It
// stands above everything that is still asked.
func DamageSeen(lib *content.Library, w faulttree.Walk) string {
	for _, e := range w.Trail() {
		if seen := damageAt(lib, e); seen != "" {
			return seen + ". Measure nothing there, and plug nothing in, until it is repaired."
		}
	}
	return ""
}

// damageAt says where, if damage was seen at one answer.
func damageAt(lib *content.Library, e faulttree.Entry) string {
	for _, r := range e.Answer.Readings {
		if r.Quality == faulttree.NotPossible && r.Reason == damageSeen {
			return "Damage was seen at “" + answerTitle(lib, e.Step) + "”"
		}
	}
	return ""
}

// Damaged is damage seen at which a walk is over unless the reader goes on by a
// choice of his own.
type Damaged struct {
	Answer int      // its place in the trail
	Title  string   // that it was seen, and where
	Do     []string // one sentence each
}

// DamageEnds is the newest of them; false where none was seen, or only at what may
// be gone on with.
func DamageEnds(lib *content.Library, w faulttree.Walk) (Damaged, bool) {
	trail := w.Trail()
	for i := len(trail) - 1; i >= 0; i-- {
		seen := damageAt(lib, trail[i])
		if s := w.Asked(trail[i].Step); seen != "" && s != nil && damage(s).Ends {
			return Damaged{i, seen, damage(s).Do}, true
		}
	}
	return Damaged{}, false
}
