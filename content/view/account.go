package view

import (
	"maps"
	"slices"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// Account is what somebody tells of a vehicle: what they came with, the facts, and in
// the order in which it came to them what they read, saw and tried.
type Account struct {
	Tree     string            // the walk that they came with, "" for none; its complaint counts, and what was tried is judged by it
	Facts    map[string]string // by id, the choice that holds
	Evidence []suspect.Evidence
	Repairs  int // how many repairs were made before what is told next
}

// AccountOf is what a walk knows of the vehicle after so many repairs: the readings it
// has taken, the last of each quantity, and those that were given beside it.
func AccountOf(w faulttree.Walk, repairs int) Account {
	a := Account{Tree: w.Start().Tree, Facts: w.Facts(), Repairs: repairs}
	for _, l := range LastReadings(w) {
		a = a.With(suspect.Evidence{Quantity: l.Quantity, Reading: l.Reading})
	}
	for q, r := range w.Untaken() {
		a = a.With(suspect.Evidence{Quantity: q, Reading: r})
	}
	return a
}

// Told is the evidence of an account, with the complaint of its walk as something that
// was told. A repair may have mended what somebody came with: after one it counts no more.
func (a Account) Told(lib *content.Library) []suspect.Evidence {
	t := lib.Forest.Tree(a.Tree)
	if t == nil || len(t.Complaint) == 0 || a.Round() > 0 {
		return a.Evidence
	}
	came := suspect.Evidence{Seen: &suspect.Seen{Observation: suspect.Complaint, Choice: t.ID}, Told: true}
	return append(slices.Clone(a.Evidence), came)
}

// Tells reports whether anything of an account counts: it is of the vehicle as it
// stands now, and the handbook knows it.
func (a Account) Tells(lib *content.Library) bool {
	known, _ := a.In(lib)
	return slices.ContainsFunc(known.Told(lib), func(e suspect.Evidence) bool { return e.Round == known.Round() })
}

// In is the account by the quantities of a handbook, and which of its evidence
// the handbook does not know or by the facts cannot be: that is kept, and counts
// for nothing.
func (a Account) In(lib *content.Library) (known Account, unknown []int) {
	known = Account{Tree: a.Tree, Facts: a.Facts, Repairs: a.Repairs}
	if lib.Forest.Tree(a.Tree) == nil {
		known.Tree = ""
	}
	for i, e := range a.Evidence {
		if e.Quantity.ID != "" {
			e.Quantity = lib.Forest.Quantities[e.Quantity.ID]
		}
		if whyNot(lib, known, e) != "" || e.Quantity.ID == "" && e.Seen == nil && e.Tried == nil {
			unknown = append(unknown, i)
			continue
		}
		known.Evidence = append(known.Evidence, e)
	}
	return known, unknown
}

// Same reports whether two accounts tell the same.
func (a Account) Same(o Account) bool {
	return a.Tree == o.Tree && a.Repairs == o.Repairs && maps.Equal(a.Facts, o.Facts) && slices.EqualFunc(a.Evidence, o.Evidence, sameEvidence)
}

func sameEvidence(a, b suspect.Evidence) bool {
	same := func(x, y *suspect.Seen) bool { return x == y || x != nil && y != nil && *x == *y }
	tried := func(x, y *suspect.Tried) bool { return x == y || x != nil && y != nil && *x == *y }
	return a.Quantity.ID == b.Quantity.ID && a.Reading == b.Reading && same(a.Seen, b.Seen) && tried(a.Tried, b.Tried) &&
		a.Doubtful == b.Doubtful && a.Told == b.Told && a.Round == b.Round
}

// Fact is what the account says of a fact.
func (a Account) Fact(id string) string { return a.Facts[id] }

// Readings are those of the last round, by quantity, for a walk to begin with.
func (a Account) Readings() map[string][]faulttree.Reading {
	out := map[string][]faulttree.Reading{}
	for _, e := range a.Evidence {
		if e.Quantity.ID != "" && e.Round == a.Round() {
			out[e.Quantity.ID] = append(out[e.Quantity.ID], e.Reading)
		}
	}
	return out
}

// Round is the present one: after how many repairs the vehicle stands.
func (a Account) Round() int {
	round := a.Repairs
	for _, e := range a.Evidence {
		round = max(round, e.Round)
	}
	return round
}

// With is the account with a further piece of evidence of the present round. What
// is seen or tried takes the place of what was said of the same before.
func (a Account) With(e suspect.Evidence) Account {
	e.Round = a.Round()
	evidence := slices.Clone(a.Evidence)
	same := slices.IndexFunc(evidence, func(o suspect.Evidence) bool {
		return o.Round == e.Round && (o.Seen != nil && e.Seen != nil && o.Seen.Observation == e.Seen.Observation ||
			o.Tried != nil && e.Tried != nil && o.Tried.Intervention == e.Tried.Intervention)
	})
	if same >= 0 {
		evidence[same] = e
	} else {
		evidence = append(evidence, e)
	}
	a.Evidence = evidence
	return a
}

// WithDangers is the account with those of some further readings that may have
// reached a danger limit: of what is not quite said yet, a danger counts at once.
func (a Account) WithDangers(lib *content.Library, m faulttree.Meter, possible []suspect.Evidence) Account {
	for _, e := range possible {
		if _, hurts := reaches(lib, e, m); hurts {
			a = a.With(e)
		}
	}
	return a
}

// Knowing is the account with another choice of a fact, "" for one that is not
// known.
func (a Account) Knowing(fact, choice string) Account {
	facts := maps.Clone(a.Facts)
	if facts == nil {
		facts = map[string]string{}
	}
	facts[fact] = choice
	if choice == "" {
		delete(facts, fact)
	}
	a.Facts = facts
	return a
}

// Without is the account without one piece of evidence.
func (a Account) Without(i int) Account {
	if i >= 0 && i < len(a.Evidence) {
		a.Evidence = slices.Delete(slices.Clone(a.Evidence), i, i+1)
	}
	return a
}

// whyNot says why a piece of evidence counts for nothing; "" where it counts.
func whyNot(lib *content.Library, a Account, e suspect.Evidence) string {
	needs := e.Quantity.Needs
	switch {
	case e.Seen != nil:
		o := lib.Forest.Observation(e.Seen.Observation)
		if o == nil || o.Sight(e.Seen.Choice) == nil {
			return "The handbook in use does not ask this."
		}
		needs = o.Needs
	case e.Tried != nil:
		i := lib.Forest.Intervention(e.Tried.Intervention)
		if i == nil {
			return "The handbook in use does not know this."
		}
		if lib.Forest.Tree(e.Tried.Tree) == nil {
			return "Say with which complaint you came: what was tried is judged by it."
		}
		needs = i.Needs
	case lib.Forest.Quantities[e.Quantity.ID].ID == "":
		return "The handbook in use has no such reading."
	}
	if needs.Unmet(a.Fact) {
		return "There is no such thing on the vehicle that the facts describe."
	}
	return ""
}

// Complaints lists the walks that a complaint leads to, by which it is judged
// whether something that was tried helped.
func Complaints(lib *content.Library) []Choice {
	var out []Choice
	for _, id := range lib.Forest.Complaints() {
		out = append(out, Choice{ID: id, Text: TreeTitle(lib, id), Digit: digit(len(out))})
	}
	return out
}

// ComplaintOf is the complaint of an account as a fact is, and as it is asked.
func ComplaintOf(lib *content.Library, a Account) FactOf {
	f := FactOf{ID: suspect.Complaint, Name: "Complaint", Question: "With which complaint did you come?", Choices: Complaints(lib)}
	for _, c := range f.Choices {
		if t := lib.Forest.Tree(a.Tree); t != nil && t.ID == c.ID {
			f.Known = c.Text
		}
	}
	f.Choices = append(f.Choices, Choice{Text: "With none of these", Digit: digit(len(f.Choices))})
	return f
}

// ForWalk is the account as a walk may begin with it, and how many readings that
// leaves out: those that are doubtful or were told by somebody else, for the walk
// would rest on them. One that may have reached a danger limit is given all the
// same.
func (a Account) ForWalk(lib *content.Library, m faulttree.Meter) (given Account, left int) {
	given, _ = a.In(lib)
	given.Evidence = slices.DeleteFunc(given.Evidence, func(e suspect.Evidence) bool {
		_, hurts := reaches(lib, e, m)
		out := e.Quantity.ID != "" && e.Round == given.Round() && (e.Doubtful || e.Told) && !hurts
		if out {
			left++
		}
		return out
	})
	return given, left
}
