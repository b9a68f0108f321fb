package session

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/place"
)

// Visit is the visit under way, as it stands. It is a value: an action on it
// puts another in its place.
type Visit struct {
	file   File[visit.Visit]
	rec    visit.Recorder
	reason string
	failed bool // something could not be put on record; its file is opened anew before it is taken up again
}

// ID names the visit.
func (v *Visit) ID() string { return v.rec.Visit().Header.ID }

// Walk is where it stands.
func (v *Visit) Walk() faulttree.Walk { return v.rec.Walk() }

// Account is what the walk tells of the vehicle; each test after repair is of another.
func (v *Visit) Account() view.Account {
	a := view.AccountOf(v.Walk(), len(v.Record().Rounds())-1)
	a.Facts = v.Facts()
	return a
}

// Facts is what is known of its vehicle, asked by the walk or given before.
func (v *Visit) Facts() map[string]string { return v.rec.Known() }

// Record is all that is on record of it.
func (v *Visit) Record() visit.Visit { return v.rec.Visit() }

// Reason says why it can only be looked at; "" if it can be answered.
func (v *Visit) Reason() string { return v.reason }

// Practice reports whether it is about no real vehicle: a walk beside an attempt at
// practice, or the sample.
func (v *Visit) Practice() bool { return v.Record().Header.Practice != "" || v.Sample() }

// Sample reports whether it is the sample visit of the handbook.
func (v *Visit) Sample() bool { return v.Record().Header.Sample }

// ReadOnly reports whether it can only be looked at.
func (v *Visit) ReadOnly() bool { return v.reason != "" }

// Present is the place of the step it stands at.
func (v *Visit) Present() place.Location { return place.Walk(v.ID(), len(v.Walk().Trail())) }

// FoundBefore is the round, counted from 0, in which the visit had found
// something before the test after repair that is under way; false where none is.
func (v *Visit) FoundBefore(book *content.Library) (round int, ok bool) {
	if len(v.Record().Rounds()) < 2 {
		return 0, false
	}
	rounds := v.Record().Replay(book.Forest)
	round = visit.Found(rounds[:len(rounds)-1])
	return round, round >= 0
}

// FoundIn is what a round of the visit, counted from 0, found.
func (v *Visit) FoundIn(book *content.Library, round int) (view.Finding, bool) {
	rounds := v.Record().Replay(book.Forest)
	if round < 0 || round >= len(rounds) || rounds[round].Err != nil {
		return view.Finding{}, false
	}
	return view.FindingOf(book, rounds[round].Walk)
}

// Doubts are what the reader is told about the record of a visit taken up
// again: what of it could not be read, and what no longer fits the handbook.
func (v *Visit) Doubts(book *content.Library) []string {
	var out []string
	record := v.rec.Visit()
	if len(book.TreeErrors(record.Header.Start.Tree)) > 0 {
		out = append(out, "The handbook in use has errors in this walk; a branch may be missing from it.")
	}
	for _, d := range record.Doubts() {
		out = append(out, d.String())
	}
	if text := v.lapsed(); text != "" {
		out = append(out, text)
	}
	return out
}

// lapsed says how many answers no longer fit; "" if all do.
func (v *Visit) lapsed() string {
	switch n := len(v.rec.Current().Lapsed()); n {
	case 0:
		return ""
	case 1:
		return "1 answer no longer fits this handbook. It is kept, and stands on the sheet."
	default:
		return view.Count(n, "answer") + " no longer fit this handbook. They are kept, and stand on the sheet."
	}
}

// Visit is the one under way; nil if there is none.
func (s *Session) Visit() *Visit { return s.visit }

// VisitIn is the id of the visit under way if it is in a tree, by id or name; "" for none.
func (s *Session) VisitIn(tree string) string {
	if t := s.Book().Forest.Tree(tree); s.visit == nil || t == nil || s.visit.Walk().Tree() != t.Own() {
		return ""
	}
	return s.visit.ID()
}

// UnderWay is the visit with this id if it is the one under way, else nil.
func (s *Session) UnderWay(id string) *Visit {
	if s.visit == nil || s.visit.ID() != id {
		return nil
	}
	return s.visit
}

// ErrTree is the cause for which a tree is not walked: errors in it.
var ErrTree = errors.New("This walk has errors, and a branch may be missing from it. It is not taken until they are mended.")

// Begin starts a visit at a step, an empty one being the tree's first, and
// leads to it. The header is on disk before it returns. On an error, [ErrTree]
// or that of the disk, the visit before it is still under way as it was.
func (s *Session) Begin(at faulttree.Ref) (Outcome, error) { return s.begin(at, nil) }

// BeginBeside starts a visit of a tree beside an attempt at practice, by its id. It
// is marked as practice wherever it shows.
func (s *Session) BeginBeside(tree, attempt string) (Outcome, error) {
	return s.start(faulttree.Ref{Tree: tree}, visit.Header{Practice: attempt})
}

// begin starts a visit of the vehicle in hand, with what of its facts lasts; what was
// told outranks it.
func (s *Session) begin(at faulttree.Ref, told map[string]string) (Outcome, error) {
	said := s.pickUp()
	own := s.vehicle
	begun, err := s.start(at, visit.Header{Vehicle: own.ID, Details: visit.Details{Vehicle: own.Name}})
	if err != nil {
		return begun, err
	}
	begun.Said = join(begun.Said, said)
	if own.ID == "" {
		return begun, nil
	}
	facts := s.lasting(own)
	begun.Said = join(begun.Said, "This visit is of “"+s.Called(own)+"”.")
	begun.Said = join(begun.Said, s.other(at.Tree, facts, own.Name))
	maps.DeleteFunc(facts, func(id, _ string) bool { return s.book.Forest.NamedFor(at.Tree, id) })
	for id := range facts {
		if told[id] != "" {
			facts[id] = told[id]
		}
	}
	if len(facts) == 0 {
		return begun, nil
	}
	rec, _, err := s.visit.rec.Supply(s.Now(), faulttree.Supplied{Facts: facts, Once: true})
	if err != nil {
		s.visit.failed = true
		begun.Said = join(begun.Said, "What is known of “"+own.Name+"” could not be put on record, so it is asked. "+view.Sentence(err.Error()))
		return begun, nil
	}
	s.visit = &Visit{file: s.visit.file, rec: rec}
	begun.To = s.visit.Present()
	begun.Said = join(begun.Said, "What is known of it is not asked again.")
	return begun, nil
}

// other says that a tree is for other vehicles than one with these facts; "" where it is
// not.
func (s *Session) other(tree string, facts map[string]string, name string) string {
	t := s.book.Forest.Tree(tree)
	if t == nil {
		return ""
	}
	for id, choice := range facts {
		if fixed := t.Facts[id]; fixed != "" && fixed != choice {
			return "What this walk is for is not what is noted of “" + name + "”. Make sure that it is the right one, or that an adapter is meant."
		}
	}
	return ""
}

func (s *Session) start(at faulttree.Ref, h visit.Header) (Outcome, error) {
	if t := s.book.Forest.Tree(at.Tree); t != nil && at.Step == "" {
		at.Step = t.Start
	}
	if len(s.book.TreeErrors(at.Tree)) > 0 {
		return Outcome{}, ErrTree
	}
	h.Start, h.Role, h.Meter, h.Started, h.Content = at, s.settings.Role, s.settings.Meter, s.Now(), s.book.Fingerprint()
	file, err := s.create(h)
	if err != nil {
		return Outcome{}, fmt.Errorf("A visit could not be begun: %w", err)
	}
	rec, err := visit.Resume(file, file.Record(), s.book.Forest)
	if err != nil {
		return Outcome{}, fmt.Errorf("A visit could not be begun: %w", errors.Join(err, file.Close()))
	}
	return Outcome{To: place.Walk(file.Record().Header.ID, 0), Said: s.replace(&Visit{file: file, rec: rec})}, nil
}

// sampleReason stands on every page of the sample.
const sampleReason = "SAMPLE: a visit of no real vehicle, with made-up readings. It can only be looked at, and nothing of it is kept."

// BeginSample shows the sample visit of the handbook from its first step. The visit under way stays on record.
func (s *Session) BeginSample() (Outcome, error) {
	sample := s.book.Sample
	if sample == nil {
		return Outcome{}, errors.New("This handbook has no sample visit.")
	}
	begun, err := s.start(faulttree.Ref{Tree: sample.Tree}, visit.Header{Sample: true})
	if err != nil {
		return Outcome{}, err
	}
	rec, _, err := s.visit.rec.Supply(s.Now(), sample.Given)
	if err != nil {
		return Outcome{}, fmt.Errorf("The sample visit could not be begun: %w", err)
	}
	s.visit = &Visit{file: s.visit.file, rec: rec, reason: sampleReason}
	return begun, nil
}

func (s *Session) create(h visit.Header) (File[visit.Visit], error) {
	if s.options.Visits == nil || h.Sample {
		h.ID = visit.NewID(h.Started, s.options.Random())
		return unkept[visit.Visit]{record: visit.Visit{Header: h}}, nil
	}
	return s.options.Visits.Create(h)
}

// BeginWith starts a visit at a step, or at the chart that has this column, and
// gives it the readings taken there, in this visit and no other. They answer the
// step at once, or as soon as it is asked: a fact may come first. If the visit
// begins and they cannot be recorded, the outcome is the visit at that step, with
// the readings typed there and the reason told.
func (s *Session) BeginWith(at faulttree.Ref, first faulttree.Answer) (Outcome, error) {
	stands, _, _ := at.Chart()
	begun, err := s.Begin(stands)
	if err != nil {
		return Outcome{}, err
	}
	given := faulttree.Supplied{Readings: map[string][]faulttree.Reading{}, Once: true}
	if step := s.book.Forest.Step(at); step != nil {
		for q, r := range step.Readings(first) {
			given.Readings[q.ID] = append(given.Readings[q.ID], r)
		}
	}
	next, err := s.Supply(begun.To.ID, given)
	if err != nil {
		if s.visit.Walk().At() == s.book.Forest.Canonical(at) {
			for i, r := range first.Readings {
				s.Keep(begun.To, i, r.Text)
			}
		}
		begun.Said = join(begun.Said, err.Error())
		return begun, nil
	}
	next.Said = join(begun.Said, next.Said)
	return next, nil
}

// Open makes the visit with this id the one under way. Where another window
// has it, it can be looked at. The text says what went wrong with the visit
// before it, "" for nothing. On an error the visit before it is still under
// way. The one under way is opened anew if its file has failed, or if it could
// only be looked at.
func (s *Session) Open(id string) (said string, err error) {
	v := s.UnderWay(id)
	switch {
	case v != nil && (v.Sample() || !v.ReadOnly() && !v.failed):
		return "", nil
	case s.options.Visits == nil:
		return "", ErrGone
	case v != nil:
		said = s.Close() // its own lock would stand in the way
	}
	next := &Visit{}
	next.file, err = s.options.Visits.Open(id)
	if errors.Is(err, store.ErrElsewhere) {
		var record visit.Visit
		record, err = s.options.Visits.Read(id)
		next.file = unkept[visit.Visit]{record, store.ErrElsewhere}
		next.reason = "This visit is open in another window. It can be looked at here, not changed."
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", ErrGone
	case err != nil:
		return "", fmt.Errorf("The visit cannot be opened. %s", view.Sentence(err.Error()))
	}
	next.rec, err = visit.Resume(next.file, next.file.Record(), s.book.Forest)
	if err != nil {
		return "", fmt.Errorf("The visit cannot be opened. %s", view.Sentence(errors.Join(err, next.file.Close()).Error()))
	}
	return join(said, s.replace(next)), nil
}

// ErrGone is the cause for which a visit cannot be opened: it was deleted, or
// never was.
var ErrGone = errors.New("This visit is not on record any more.")

// replace puts a visit, or none, under way. It says what went wrong with the
// one before.
func (s *Session) replace(next *Visit) string {
	before := s.visit
	s.visit = next
	if before == nil {
		return ""
	}
	if err := before.file.Close(); err != nil {
		return "The record of the visit before could not be closed: " + err.Error()
	}
	return ""
}

// Close lets go of the visit under way; its record stays.
func (s *Session) Close() string { return s.replace(nil) }

// Delete removes a visit for good. On an error it is still on record.
func (s *Session) Delete(id string) error {
	if s.options.Visits == nil {
		return ErrGone
	}
	if s.UnderWay(id) != nil {
		s.Close()
	}
	if err := s.options.Visits.Delete(id); err != nil {
		return fmt.Errorf("The visit was not deleted. %s", view.Sentence(err.Error()))
	}
	s.Forget(id)
	return nil
}

func join(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " " + b
}
