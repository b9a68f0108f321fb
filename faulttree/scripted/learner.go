package scripted

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"

	"faultwright/faulttree"
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
	Random               // any of what may be read next
	Careless             // goes in unread, ohms on live, and a guess
)

// Kinds lists every Kind, the best first.
func Kinds() []Kind { return []Kind{Careful, Greedy, Random, Careless} }

// String is a word for it.
func (k Kind) String() string { return [...]string{"careful", "greedy", "random", "careless"}[k] }

// mostReadings is how many readings a learner takes at most.
const mostReadings = 40

// Play plays a case to the end. The book is what the attempt will be marked by: all
// but the careless one stop where what is to be done is held by it, or where nothing
// is left to read.
func Play(ctx context.Context, k Kind, c practice.Case, role faulttree.Role, m faulttree.Meter, b mark.Book, seed uint64) (practice.Attempt, error) {
	p, err := Begin(c, role, m)
	if err != nil {
		return practice.Attempt{}, err
	}
	p.felt = b.Rubric.Felt
	s := &scripted{Player: p, ctx: ctx, kind: k, b: b, rng: rand.New(rand.NewPCG(seed, uint64(k))), done: map[string]bool{}}
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
	done map[string]bool // quantities that were read, or cannot be
	read []faulttree.Quantity
}

// play proves the meter, reads until it is held what is to be done, concludes,
// repairs and reads again.
func (s *scripted) play() error {
	misread, blind, err := s.meter()
	if err != nil {
		return err
	}
	var known mark.Known
	for range mostReadings {
		if known, err = mark.Know(s.ctx, s.Case, s.Attempt, len(s.Attempt.Acts), s.b); err != nil {
			return err
		}
		if blind || known.Held() >= s.b.Rubric.Held {
			break
		}
		q, ok, err := s.choose(known)
		if err != nil {
			return err
		}
		if !ok {
			break
		}
		s.done[q.ID] = true
		t, _ := known.Taking(q.ID)
		switch err := s.take(q, t); {
		case errors.Is(err, errStays), errors.Is(err, errRejected):
		case err != nil:
			return err
		default:
			s.read = append(s.read, q)
		}
	}
	if known, err = mark.Know(s.ctx, s.Case, s.Attempt, len(s.Attempt.Acts), s.b); err != nil {
		return err
	}
	if err := s.Conclude(s.conclusion(known.Belief, misread, blind)); err != nil {
		return err
	}
	return s.verify(known, blind)
}

// meter proves the meter as it was handed over, if that hurts nobody, and set right.
// Misread is the mistakes with it that this shows; blind, that it shows nothing.
func (s *scripted) meter() (misread []string, blind bool, err error) {
	for _, f := range s.b.Faults {
		for i, v := range f.Variants {
			if v.Shows() {
				continue
			}
			other := s.Case
			other.Faults = []rig.Applied{f.Ordinary(i)}
			o, err := Begin(other, s.Attempt.Role, s.Attempt.Meter)
			if err != nil {
				return nil, false, err
			}
			sound, err := Begin(s.sound(), s.Attempt.Role, s.Attempt.Meter)
			if err != nil {
				return nil, false, err
			}
			if o.Found != sound.Found && o.Found == s.Found && !slices.Contains(misread, f.ID) {
				misread = append(misread, f.ID)
			}
		}
	}
	shown, err := s.Prove()
	if err != nil || shown.Numeric() && shown.Reading().Low > 0 {
		return misread[:min(1, len(misread))], false, err
	}
	for _, f := range s.b.Faults {
		for i, v := range f.Variants {
			if v.Shows() {
				continue
			}
			other := s.Case
			other.Faults = []rig.Applied{f.Ordinary(i)}
			o, err := Begin(other, s.Attempt.Role, s.Attempt.Meter)
			if err != nil {
				return nil, false, err
			}
			if same, err := o.Prove(); err == nil && same.Shown == shown.Shown && o.Found == s.Found {
				return []string{f.ID}, true, nil
			}
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
	all, err := known.Next()
	if err != nil {
		return faulttree.Quantity{}, false, err
	}
	all = slices.DeleteFunc(all, func(n suspect.Next) bool { return s.done[n.Quantity.ID] })
	if len(all) == 0 {
		return faulttree.Quantity{}, false, nil
	}
	best := all[0]
	switch s.kind {
	case Random:
		best = all[s.rng.IntN(len(all))]
	case Greedy:
		for _, n := range all {
			if n.Bits > best.Bits {
				best = n
			}
		}
	}
	return *best.Quantity, true, nil
}

// conclusion is what the belief makes likeliest: for each thing to be done the
// likeliest fault, and the dangers that are left.
func (s *scripted) conclusion(of *suspect.Belief, misread []string, blind bool) practice.Conclusion {
	c := practice.Conclusion{Deciding: s.Attempt.ReadingsAt(), Sure: practice.Likely}
	if !blind {
		if top := of.Suspects(); len(top) > 0 && len(top[0].Parts) > 0 {
			who := map[string]bool{}
			for _, part := range top[0].Parts {
				at := part.At
				by := string(at.Place) + s.b.Describe(at.Fault, at.Place).RepairBy
				if who[by] {
					continue
				}
				who[by] = true
				c.Faults = append(c.Faults, at.Fault)
				if c.Do == "" {
					c.Place, c.Do, c.RepairBy = at.Place, at.String(), at.String()
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

// verify reads again after the repair what was read before.
func (s *scripted) verify(known mark.Known, blind bool) error {
	if s.Attempt.Repaired == 0 {
		return nil
	}
	if _, err := s.Prove(); err != nil || blind {
		return err
	}
	for _, q := range s.read {
		t, _ := known.Taking(q.ID)
		if err := s.take(q, t); err != nil && !errors.Is(err, errStays) && !errors.Is(err, errRejected) {
			return err
		}
	}
	return nil
}

// careless goes in unread, measures ohms on what is live, and guesses.
func (s *scripted) careless() error {
	try := func(do func() error) error {
		if err := do(); err != nil && !errors.Is(err, errRejected) {
			return err
		}
		return nil
	}
	place, function := "panel", s.function()
	if s.Case.Direct() {
		place = "dc"
	}
	var points []string
	for _, name := range s.Case.Rig.Nodes() {
		if rig.Group(name) == place {
			points = append(points, name)
		}
	}
	if len(points) > 1 {
		for _, f := range []func(){func() { s.Set(meter.Ohms) }, func() { s.Set(function) }} {
			f()
			if err := try(func() error { _, err := s.Read(points[0], points[1]); return err }); err != nil {
				return err
			}
		}
	}
	var all []string
	for _, f := range s.b.Faults {
		if len(f.In(s.Case.Rig)) > 0 {
			all = append(all, f.ID)
		}
	}
	return s.Conclude(practice.Conclusion{Faults: []string{all[s.rng.IntN(len(all))]}, Sure: practice.Sure})
}
