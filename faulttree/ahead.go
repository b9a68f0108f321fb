package faulttree

// Ahead is how many steps a reader usually still answers from a step on, that
// step included: 0 at a finding. The usual way takes at each step the exit of
// the mildest signal, since most readings are sound, and of several such the
// one with the most to come; what could not be measured and what is passed
// without a question do not count. A way back to a step already passed is left
// out, and an owner's walk ends where the next step is for a qualified person.
func (f *Forest) Ahead(from Ref, role Role) int {
	return counter{f, role, map[Ref]int{}}.from(from)
}

// Ahead is how many answers the walk usually still takes, that to what it asks
// now among them.
func (w Walk) Ahead() int {
	if w.forest == nil {
		return 0
	}
	n := w.forest.Ahead(w.at, w.role)
	s := w.step()
	switch asked := w.Step(); {
	case asked != nil && asked.Kind == KindFact:
		n++
	case s != nil && s.Kind == KindChart:
		u := s.Under(w.Fact)
		n -= len(s.Measure) - len(u.Measure)
		for _, r := range w.knownAt(u) {
			if r != nil {
				n--
			}
		}
	}
	return n
}

// counter remembers the steps ahead of each step; a step under way counts 0.
type counter struct {
	forest *Forest
	role   Role
	known  map[Ref]int
}

func (c counter) from(at Ref) int {
	s := c.forest.Step(at)
	if s == nil || s.Kind == KindFinding || s.For == Qualified && c.role == Owner {
		return 0
	}
	if n, ok := c.known[at]; ok {
		return n
	}
	c.known[at] = 0
	most, mildest := 0, Danger
	for _, e := range s.usual() {
		if n := c.from(e.To); e.Signal < mildest || e.Signal == mildest && n > most {
			most, mildest = n, e.Signal
		}
	}
	switch s.Kind {
	case KindWeigh:
	case KindChart:
		most += len(s.Measure)
	default:
		most++
	}
	c.known[at] = most
	return most
}

// usual lists the exits of s by readings, choices or its act.
func (s *Step) usual() []Exit {
	out := s.answered()
	if s.Act.Exit.Set() {
		out = append(out, s.Act.Exit)
	}
	return out
}
