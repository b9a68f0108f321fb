package scripted

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
)

// Kind is how a learner goes about a case.
type Kind uint8

const (
	Careful  Kind = iota // the best order, looking ahead
	Greedy               // each time what tells most by itself, whatever it costs
	Random               // anything that is permitted
	Careless             // goes in unread, ohms on live, and a guess
)

// Kinds lists every Kind, the best first.
func Kinds() []Kind { return []Kind{Careful, Greedy, Random, Careless} }

// String is a word for it.
func (k Kind) String() string { return [...]string{"careful", "greedy", "random", "careless"}[k] }

// mostReadings is how many readings a learner takes at most.
const mostReadings = 40

// mostAgain is how often a reading is taken that is worth taking once more.
const mostAgain = 2

// Play plays a case to the end. The book is what the attempt will be marked by: all
// but the careless one stop where what is to be done is held by it, the careful one
// once nothing dead tells more either, or where nothing is left to read.
func Play(ctx context.Context, k Kind, c practice.Case, role faulttree.Role, m faulttree.Meter, b mark.Book, seed uint64) (practice.Attempt, error) {
	p, err := Begin(c, role, m)
	if err != nil {
		return practice.Attempt{}, err
	}
	p.felt = b.Rubric.Felt
	s := &scripted{Player: p, ctx: ctx, kind: k, b: b, rng: rand.New(rand.NewPCG(seed, uint64(k))), done: map[string]int{}}
	if k == Careless {
		err = s.careless()
	} else {
		err = s.play()
	}
	return p.Attempt, err
}

// scripted is a learner at work.
type scripted struct {
	*Player
	ctx  context.Context
	kind Kind
	b    mark.Book
	rng  *rand.Rand
	done map[string]int // how often quantities were read, or could not be
	read []faulttree.Quantity
}

// play proves the meter, reads until it is held what is to be done, concludes,
// repairs and reads again.
func (s *scripted) play() error {
	misread, blind, err := s.meter()
	if err != nil {
		return err
	}
	if s.kind == Careful && !blind {
		if err := s.seeForHimself(); err != nil {
			return err
		}
	}
	var known mark.Known
	s.reconsiders = s.kind != Random
	for range mostReadings {
		if known, err = mark.Know(s.ctx, s.Case, s.Attempt, len(s.Attempt.Acts), s.b); err != nil {
			return err
		}
		if blind || s.kind != Careful && known.Held() >= s.b.Rubric.Held {
			break
		}
		q, ok, err := s.choose(known)
		if err != nil {
			return err
		}
		if !ok {
			break
		}
		t, _ := known.Taking(q.ID)
		err = s.take(t)
		if errors.Is(err, errRead) {
			continue
		}
		s.done[q.ID]++
		switch {
		case errors.Is(err, errStays), errors.Is(err, errRejected):
		case err != nil:
			return err
		default:
			s.read = append(s.read, q)
		}
	}
	s.reconsiders = false
	if known, err = mark.Know(s.ctx, s.Case, s.Attempt, len(s.Attempt.Acts), s.b); err != nil {
		return err
	}
	if err := s.Conclude(s.conclusion(known.Belief, misread, blind)); err != nil {
		return err
	}
	return s.verify(known, blind)
}

// seeForHimself reads what the customer complains of, where that can be read with nothing
// live near him; the body as it was brought.
func (s *scripted) seeForHimself() error {
	known, err := mark.Know(s.ctx, s.Case, s.Attempt, len(s.Attempt.Acts), s.b)
	if err != nil {
		return err
	}
	q, acts, _, err := ToComplaint(s.Case, s.Attempt, known, s.felt, s.b.Forest.Tree(s.b.Tree))
	if err != nil || len(acts) == 0 {
		return err
	}
	if OfBody(q) {
		err = s.Body()
	} else {
		t, _ := known.Taking(q.ID)
		err = s.take(t)
	}
	if err == nil {
		s.read = append(s.read, q)
	} else if errors.Is(err, errStays) || errors.Is(err, errRejected) {
		err = nil
	}
	return err
}

// misused is a player whose meter has one of the mistakes with it that a learner knows.
type misused struct {
	*Player
	fault string
}

// misused lists them, each before the vehicle as if nothing else were wrong.
func (s *scripted) misused() ([]misused, error) {
	var out []misused
	for _, f := range s.b.Faults {
		for i, v := range f.Variants {
			if v.Shows() {
				continue
			}
			other := s.Case
			other.Faults = []rig.Applied{f.Ordinary(i)}
			p, err := Begin(other, s.Attempt.Role, s.Attempt.Meter)
			if err != nil {
				return nil, err
			}
			out = append(out, misused{p, f.ID})
		}
	}
	return out, nil
}

// meter proves the meter as it was handed over, if that hurts nobody, and set right.
// Misread is the mistakes with it that this shows; blind, that it does not show there what
// is known to be there, so that nothing it shows elsewhere counts.
func (s *scripted) meter() (misread []string, blind bool, err error) {
	misused, err := s.misused()
	if err != nil {
		return nil, false, err
	}
	sound, err := Begin(s.sound(), s.Attempt.Role, s.Attempt.Meter)
	if err != nil {
		return nil, false, err
	}
	for _, o := range misused {
		if o.Found != sound.Found && o.Found == s.Found && !slices.Contains(misread, o.fault) {
			misread = append(misread, o.fault)
		}
	}
	shown, err := s.Prove()
	if err != nil {
		return nil, false, err
	}
	if right, err := sound.Prove(); err != nil || right.Shown == shown.Shown {
		return misread[:min(1, len(misread))], false, err
	}
	for _, o := range misused {
		if same, err := o.Prove(); err == nil && same.Shown == shown.Shown && o.Found == s.Found {
			return []string{o.fault}, true, nil
		}
	}
	return nil, true, nil
}

// sound is the case without anything wrong.
func (s *scripted) sound() practice.Case {
	c := s.Case
	c.Faults = nil
	return c
}

// choose picks what is read next; false where nothing is left.
func (s *scripted) choose(known mark.Known) (faulttree.Quantity, bool, error) {
	if s.kind == Random {
		all := slices.DeleteFunc(known.Permitted(), func(q faulttree.Quantity) bool { return s.done[q.ID] > 0 })
		if len(all) == 0 {
			return faulttree.Quantity{}, false, nil
		}
		return all[s.rng.IntN(len(all))], true, nil
	}
	var enough []string // was read, or could not be, as often as it will be
	for id, n := range s.done {
		if n >= mostAgain {
			enough = append(enough, id)
		}
	}
	next := known.Next
	if s.kind == Careful {
		next = known.Careful
	}
	all, err := next(enough...)
	if err != nil {
		return faulttree.Quantity{}, false, err
	}
	if len(all) == 0 {
		return faulttree.Quantity{}, false, nil
	}
	best := all[0]
	if s.kind == Greedy {
		for _, n := range all {
			if n.Bits > best.Bits {
				best = n
			}
		}
	}
	return *best.Quantity, true, nil
}

// tested reports whether something read was a test for a fault, unless it is no danger. One
// that nothing read could have shown is still open, and was not found.
func tested(of *suspect.Belief, at faulttree.FaultAt) bool {
	return !slices.ContainsFunc(of.Open(), func(o suspect.Open) bool {
		return o.Fault == at.Fault && o.Place == at.Place && !o.Tested
	})
}

// clearly is how many times likelier than that nothing is wrong a fault must be to be
// named that the readings do not hold. Common practice, no source.
const clearly = 3

// finds reports whether the likeliest of all suspects is named: where it holds enough, or
// is most likely, clearly before a vehicle in order, and was tested; and where it is held
// that something is wrong, for nobody says then that he found no fault.
func (s *scripted) finds(of *suspect.Belief, all []suspect.Suspect) bool {
	if len(all) == 0 || len(all[0].Parts) == 0 {
		return false
	}
	sound := 0.0
	for _, x := range all {
		if len(x.Parts) == 0 {
			sound = x.Share
		}
	}
	top := all[0]
	return top.Share >= s.b.Rubric.Held || 1-sound >= s.b.Rubric.Held ||
		top.Likely == suspect.MostLikely && top.Share >= clearly*sound && tested(of, top.Parts[0].At)
}

// conclusion is what the belief makes most likely, where that is found: for each thing to
// be done the likeliest fault; else that no fault was found. And the dangers that are left.
func (s *scripted) conclusion(of *suspect.Belief, misread []string, blind bool) practice.Conclusion {
	c := practice.Conclusion{Deciding: s.Attempt.ReadingsAt(), Sure: practice.Likely}
	if !blind {
		if top := of.Suspects(); s.finds(of, top) {
			if top[0].Likely != suspect.MostLikely {
				c.Sure = practice.Guess
			}
			who, worst := map[string]bool{}, faulttree.NoSignal
			for _, part := range top[0].Parts {
				at := part.At
				of := s.b.Describe(at.Fault, at.Place)
				by := string(at.Place) + of.RepairBy
				if who[by] {
					continue
				}
				who[by] = true
				c.Faults = append(c.Faults, at.Fault)
				if c.Do == "" || of.Hazard > worst {
					c.Place, c.Do, c.RepairBy, worst = at.Place, at.String(), at.String(), of.Hazard
				}
			}
		}
		for _, o := range of.Open() {
			if at := (faulttree.FaultAt{Fault: o.Fault, Place: o.Place}); o.Share >= s.b.Rubric.InDoubt && !slices.Contains(c.Faults, o.Fault) {
				c.Open = append(c.Open, at)
			}
		}
	}
	c.Faults = append(c.Faults, misread...)
	if len(misread) > 0 && c.Place == "" {
		at := faulttree.FaultAt{Fault: misread[0], Place: faulttree.MeterOwn}
		c.Place, c.Do, c.RepairBy = at.Place, at.String(), at.String()
	}
	if len(c.Faults) == 0 {
		c.Faults = []string{practice.NoFault}
	}
	return c
}

// verify reads again after the repair what was read before, the body also where it was read
// only on the way.
func (s *scripted) verify(known mark.Known, blind bool) error {
	if s.Attempt.Repaired == 0 {
		return nil
	}
	if _, err := s.Prove(); err != nil || blind {
		return err
	}
	read := s.read
	if slices.ContainsFunc(s.Attempt.Acts[:s.Attempt.Repaired], func(a practice.Act) bool {
		return a.Kind == practice.Read && OfBody(faulttree.Quantity{Red: a.Red, Black: a.Black})
	}) {
		for _, id := range s.b.Forest.Quantities.IDs() {
			q := s.b.Forest.Quantities[id]
			if OfBody(q) && !slices.ContainsFunc(read, func(o faulttree.Quantity) bool { return o.ID == id }) {
				read = append(read, q)
			}
		}
	}
	for _, q := range read {
		t, _ := known.Taking(q.ID)
		if err := s.take(t); err != nil && !errors.Is(err, errStays) && !errors.Is(err, errRejected) {
			return err
		}
	}
	return nil
}

// careless goes in and out unread, measures ohms on what is live, switches loads, pulls
// the plug under power, and guesses.
func (s *scripted) careless() error {
	try := func(do func() error) error {
		if err := do(); err != nil && !errors.Is(err, errRejected) {
			return err
		}
		return nil
	}
	r, may := s.Case.Rig, s.Case.May
	place := "panel"
	if s.Case.Direct() {
		place = "dc"
	}
	points := lists.Where(r.Nodes(), func(name string) bool { return rig.Group(name) == place })
	var all []func() error
	if len(points) > 1 {
		for _, f := range []meter.Function{meter.Ohms, meter.Ohms, s.function()} {
			all = append(all, func() error { s.Set(f); _, err := s.Read(points[0], points[1]); return err })
		}
	}
	if r.HasNode("body") && r.HasNode("pedestal.n") {
		for range 2 {
			all = append(all, func() error { _, err := s.Do(practice.Act{Kind: practice.GoOut}); return err }, func() error { _, err := s.Do(practice.Act{Kind: practice.GoIn}); return err })
		}
	}
	for _, leg := range r.Legs() {
		all = append(all, func() error { _, err := s.Do(practice.Act{Kind: practice.Load, Name: leg, On: true}); return err })
	}
	for _, w := range r.Switches {
		if len(w.Covers) > 0 && slices.Contains(may, w.Name) {
			all = append(all, func() error { return s.Throw(w.Name, false) }, func() error { return s.Throw(w.Name, true) })
		}
	}
	for _, one := range all {
		if err := try(one); err != nil {
			return err
		}
	}
	var faults []string
	for _, f := range s.b.Faults {
		if len(f.In(r)) > 0 {
			faults = append(faults, f.ID)
		}
	}
	return s.Conclude(practice.Conclusion{Faults: []string{faults[s.rng.IntN(len(faults))]}, Sure: practice.Sure})
}
