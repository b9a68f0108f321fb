package practice

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/journal"
	"faultwright/faulttree/source"
)

// head begins the first line of an attempt's journal.
var head = journal.Head{Kind: "attempt", Format: 1}

// Header is what is known when an attempt begins.
type Header struct {
	ID         string          `json:"id"` // see [journal.NewID]; also the name of its file
	Case       string          `json:"case"`
	Seed       uint64          `json:"seed,omitzero"`
	Level      Level           `json:"level,omitzero"`
	Role       faulttree.Role  `json:"role"`
	Supervised bool            `json:"supervised,omitzero"` // that of a trainee; see [RoleName]
	Meter      faulttree.Meter `json:"meter"`
	Rules      int             `json:"rules,omitzero"` // see [Rules]
	Started    time.Time       `json:"started"`
	Content    string          `json:"content,omitempty"` // fingerprint of the handbook in use, "" if unknown
	// For tells whose it is, where it is one at an assignment: the same text for the same
	// assignment and name, which is not told by it.
	For string `json:"for,omitzero"`
}

// SameTask reports whether two attempts are at the same variant of a scenario, with as much
// help and for the same role, whoever makes them.
func (h Header) SameTask(o Header) bool {
	return h.Case == o.Case && h.Seed == o.Seed && h.Level == o.Level && h.Role == o.Role && h.Supervised == o.Supervised
}

type headerLine struct {
	journal.Head
	Header
}

// Kept is an attempt on record.
type Kept struct {
	Header  Header
	Attempt Attempt
	Draft   Draft            // what was not said yet
	Damage  []journal.Damage // what could not be read in the journal; nil for a sound one
	Torn    bool             // a last, unfinished line was left out: it was never confirmed
	records int
	last    int // the number of the last record

	drafts, draftBytes int // how many there were, and what they take
}

// Doubts tells of the damage of a record and of a line that was never finished.
func (k Kept) Doubts() []journal.Doubt { return journal.Doubts(k.Damage, k.Torn) }

// Lost reports whether something that was on record is lost, or may be.
func (k Kept) Lost() bool {
	return slices.ContainsFunc(k.Damage, func(d journal.Damage) bool { return d.Lost })
}

// record is one thing that happened: it has exactly one of what follows Seq.
type record struct {
	Seq        int         `json:"seq"`
	Acts       []Act       `json:"acts,omitempty"` // done together: through the door, then what was asked for
	Hint       *Hint       `json:"hint,omitempty"`
	Prediction *Prediction `json:"prediction,omitempty"`
	Conclusion *Conclusion `json:"conclusion,omitempty"`
	Repaired   bool        `json:"repaired,omitzero"`
	Beside     string      `json:"beside,omitzero"`
	Draft      *Draft      `json:"draft,omitempty"`
}

// mostRecords is how many records one attempt may have.
const mostRecords = MostActs + MostHints + mostDrafts + 1000

// EncodeHeader is h as the first line of a journal.
func EncodeHeader(h Header) ([]byte, error) {
	if !journal.ValidID(h.ID) {
		return nil, fmt.Errorf("%q cannot be the name of an attempt", h.ID)
	}
	if err := h.Meter.Check(); err != nil {
		return nil, err
	}
	return journal.Encode(h.Started, headerLine{head, h})
}

func decodeHeader(text []byte) (Header, error) {
	if err := head.Check(text); err != nil {
		return Header{}, err
	}
	var h headerLine
	if err := journal.Decode(text, &h); err != nil {
		return Header{}, err
	}
	if !journal.ValidID(h.ID) {
		return Header{}, fmt.Errorf("%q cannot be the name of an attempt", h.ID)
	}
	return h.Header, h.Meter.Check()
}

func decodeRecord(text []byte) (record, int, error) {
	var r record
	if err := journal.Decode(text, &r); err != nil {
		return r, 0, err
	}
	if n := r.parts(); n != 1 {
		return r, r.Seq, fmt.Errorf("it tells of %d things, where a record tells of one", n)
	}
	return r, r.Seq, ofKinds(r.Acts)
}

// parts counts what the record tells.
func (r record) parts() (n int) {
	for _, is := range []bool{len(r.Acts) > 0, r.Hint != nil, r.Prediction != nil, r.Conclusion != nil, r.Repaired, r.Beside != "", r.Draft != nil} {
		if is {
			n++
		}
	}
	return n
}

// ReadJournal turns the text of a journal into an attempt. What could not be
// read is told in Damage; keep is how many bytes stay when a line is to be
// appended. The error is for a journal that does not say what it is an attempt
// at.
func ReadJournal(text []byte) (k Kept, keep int, err error) {
	format := journal.Format[Header, record]{Of: "an attempt", Most: mostRecords, Header: decodeHeader, Record: decodeRecord}
	j, err := format.Read(text)
	k = Begun(j.Header)
	k.Damage, k.Torn, k.records, k.last = j.Damage, j.Torn, len(j.Records), j.Last
	switch {
	case err != nil:
		return k, 0, err
	case !j.Headed:
		return k, 0, j.Unheaded()
	}
	for _, r := range j.Records {
		k = k.after(r)
	}
	k.Attempt.hide()
	k.Draft.hide()
	if k.Attempt.takes(k.Draft) != nil {
		k.Draft = Draft{}
	}
	return k, j.Keep, nil
}

// Begun is the record of an attempt of which nothing is on record but its header.
func Begun(h Header) Kept {
	return Kept{Header: h, Attempt: Attempt{Case: h.Case, Seed: h.Seed, Level: h.Level, Role: h.Role, Supervised: h.Supervised, Meter: h.Meter, Rules: h.Rules, Started: h.Started}}
}

// after is k after one more record.
func (k Kept) after(r record) Kept {
	k.Attempt = k.Attempt.after(r)
	if r.Draft != nil {
		k.Draft = *r.Draft
		k.drafts++
		k.draftBytes += r.Draft.size()
	}
	return k
}

// after is the attempt after one more record.
func (a Attempt) after(r record) Attempt {
	a.Acts = append(a.Acts, r.Acts...)
	if r.Hint != nil {
		a.Hints = append(a.Hints, *r.Hint)
	}
	if r.Prediction != nil {
		a.Predictions = append(a.Predictions, *r.Prediction)
	}
	if r.Conclusion != nil {
		a.Conclusion = r.Conclusion
	}
	if r.Repaired {
		a.Repaired = len(a.Acts)
	}
	if r.Beside != "" {
		a.Beside = append(a.Beside, r.Beside)
	}
	return a
}

// hide takes what is not shown out of every text.
func (a *Attempt) hide() {
	for i := range a.Acts {
		a.Acts[i].Shown, a.Acts[i].Note = source.Shown(a.Acts[i].Shown), source.Shown(a.Acts[i].Note)
		for k, name := range a.Acts[i].Trips {
			a.Acts[i].Trips[k] = source.Shown(name)
		}
	}
	for i := range a.Hints {
		a.Hints[i].Text = source.Shown(a.Hints[i].Text)
	}
	for i, p := range a.Predictions {
		a.Predictions[i].Expects, a.Predictions[i].Tells = source.Shown(p.Expects), source.Shown(p.Tells)
	}
	if a.Conclusion != nil {
		a.Conclusion.Tell = source.Shown(a.Conclusion.Tell)
	}
}

// Decode reads an attempt that was written as JSON; the error is for one that
// cannot be understood, or is past all bounds. Only [Case.Verify] tells whether it
// is true.
func Decode(text []byte) (Attempt, error) {
	var a Attempt
	if len(text) > mostBytes {
		return a, fmt.Errorf("the attempt has %d bytes; at most %d are read", len(text), mostBytes)
	}
	if err := journal.Decode(text, &a); err != nil {
		return Attempt{}, err
	}
	if err := errors.Join(a.bounded(), ofKinds(a.Acts)); err != nil {
		return Attempt{}, err
	}
	a.hide()
	return a, nil
}

// ofKinds reports an act that does not say what it is.
func ofKinds(acts []Act) error {
	if i := slices.IndexFunc(acts, func(a Act) bool { return a.Kind == 0 }); i >= 0 {
		return fmt.Errorf("act %d has no kind", Number(i))
	}
	return nil
}

// mostBytes is the largest attempt that is read.
const mostBytes = 8 << 20

var errEnded = errors.New("the attempt has ended; what is read now is read after the repair")
