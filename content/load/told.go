package load

import (
	"io"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
	"faultwright/faulttree/suspect"
)

const (
	complaintKey = "complaint"
	seenKey      = "seen"
	triedKey     = "tried"

	readingKey  = "reading"
	choiceKey   = "choice"
	cameOfKey   = "came-of-it"
	doubtfulKey = "doubtful"
	toldKey     = "told"
	roundKey    = "round"

	// mostTold is how many things a file may tell, and mostRounds how many repairs
	// they may lie apart.
	mostTold   = 500
	mostRounds = 99
)

// toldKeys are the keys that only an account has.
var toldKeys = []string{complaintKey, seenKey, triedKey}

// CameOf lists what may come of something that was tried: the complaint is gone,
// or still there.
var CameOf = []string{"gone", "still"}

// AccountFile is what a file says of a vehicle.
type AccountFile struct {
	Tree     string                   // the walk by whose complaint is judged what was tried; "" for none
	Facts    map[string]string        // by id, the choice that holds
	Evidence []suspect.Evidence       // in the order of the file
	Choices  map[faulttree.Ref]string // answers to the questions of walks
}

// Account reads a file of the form that [Readings] takes, in which more may be
// told: beside a reading, as in {reading: 118 V, doubtful: true, told: true,
// round: 1}, that whoever gave it was not sure, that somebody else read it, and
// after how many repairs; what was seen, as in seen: {smell: plug}; what was
// tried and came of it, as in tried: {another-cord: gone}; and complaint: and the
// walk by whose complaint that is judged. Marks beside what was seen or tried
// stand as in {choice: plug, told: true} and {came-of-it: gone, round: 1}.
// Nothing is told if anything in the file is wrong.
func Account(r io.Reader, name string, f *faulttree.Forest) (AccountFile, source.List) {
	in := readings{forest: f, marked: true}
	told, diags := in.file(r, name)
	for _, e := range told.Evidence {
		if e.Tried != nil {
			e.Tried.Tree = told.Tree
		}
	}
	return told, diags
}

// told reads a key that only an account has.
func (in *readings) told(field document.Field) {
	if !in.marked {
		in.diags.Add(field.KeyPos, ruleReading, "%s is for what weighs an account of a vehicle; a walk takes readings, facts and answers alone", field.Key)
		return
	}
	if field.Key == complaintKey {
		ids := in.forest.Complaints()
		in.out.Tree = oneOf(field.Value, "the "+complaintKey, ids)
		return
	}
	for _, one := range field.Value.Fields(field.Key) {
		var e suspect.Evidence
		if field.Key == seenKey {
			in.seen(one, &e)
		} else {
			in.tried(one, &e)
		}
		if e.Seen != nil || e.Tried != nil {
			in.add(one.Value, e)
		}
	}
}

func (in *readings) seen(field document.Field, e *suspect.Evidence) {
	e.Seen = seenBy(in.forest, &in.diags, ruleChoice, field, func() document.Value { return in.unmarked(field.Value, choiceKey, e) })
}

// seenBy is a choice of an observation, which is the key of a field; nil where there is
// none such.
func seenBy(f *faulttree.Forest, diags *source.List, rule string, field document.Field, choice func() document.Value) *suspect.Seen {
	o := f.Observation(field.Key)
	if o == nil {
		diags.AddHint(field.KeyPos, rule, source.DidYouMean(field.Key, f.ObservationIDs()), "there is no observation %s", field.Key)
		return nil
	}
	id := oneOf(choice(), field.Key, o.ChoiceIDs())
	if id == "" {
		return nil
	}
	return &suspect.Seen{Observation: o.ID, Choice: id}
}

func (in *readings) tried(field document.Field, e *suspect.Evidence) {
	i := in.forest.Intervention(field.Key)
	if i == nil {
		in.diags.AddHint(field.KeyPos, ruleChoice, source.DidYouMean(field.Key, in.forest.InterventionIDs()), "there is no intervention %s", field.Key)
		return
	}
	if came := oneOf(in.unmarked(field.Value, cameOfKey, e), field.Key, CameOf); came != "" {
		e.Tried = &suspect.Tried{Intervention: i.ID, Gone: came == CameOf[0]}
	}
}

// add adds what one value tells.
func (in *readings) add(v document.Value, e suspect.Evidence) {
	switch n := len(in.out.Evidence); {
	case n > mostTold:
		return
	case n == mostTold:
		v.Report(ruleReading, "", "this is more than %d readings; give the rest as a file of its own", mostTold)
	}
	in.out.Evidence = append(in.out.Evidence, e)
}

// unmarked is what stands under a key beside the marks, which go into e; a value
// without marks is that itself.
func (in *readings) unmarked(v document.Value, key string, e *suspect.Evidence) document.Value {
	if !v.IsMap() {
		return v
	}
	return in.marks(v, e, key).Need(key)
}

// marks reads a mapping of marks, which go into e, and of other keys.
func (in *readings) marks(v document.Value, e *suspect.Evidence, keys ...string) document.Map {
	m := v.Map("a "+keys[0]+" with marks", append(keys, doubtfulKey, toldKey, roundKey)...)
	e.Doubtful, e.Told = flag(m, doubtfulKey), flag(m, toldKey)
	e.Round = m.Get(roundKey).Number(roundKey, 0, mostRounds)
	return m
}
