package faulttree

import (
	"slices"

	"faultwright/faulttree/order"
)

// Ahead is how many answers the walk usually still takes, that to what it asks
// now among them: 0 at a finding. The usual way takes at each step the exit of
// the mildest signal, since most readings are sound, and of several such the
// one with the most to come; what could not be measured and what is passed
// without a question do not count. A way back to a step already passed is left
// out, and an owner's walk ends where the next step is for a qualified person.
// What the facts rule out is not asked, and no chart asks what was read before
// it.
func (w Walk) Ahead() int {
	s := w.step()
	if s == nil {
		return 0
	}
	c := counter{w.forest, w.role, w.Fact, map[Ref]int{}, map[Ref]Ref{}}
	c.from(w.at)
	read := map[string]bool{}
	if u := s.Under(w.Fact); u.Kind == KindChart {
		for i, r := range w.knownAt(u) {
			read[u.Measure[i].Quantity.ID] = r != nil
		}
	}
	n := c.along(w.at, read)
	if asked := w.Step(); asked != nil && asked.Kind == KindFact {
		n++
	}
	return n
}

// counter remembers the steps ahead of each step, and where the usual way goes
// on; a step under way counts 0.
type counter struct {
	forest *Forest
	role   Role
	fact   func(id string) string
	known  map[Ref]int
	next   map[Ref]Ref
}

// at is the step r as the facts have it; nil where the usual way ends.
func (c counter) at(r Ref) *Step {
	s := c.forest.Step(r)
	if s == nil || s.Kind == KindFinding || s.For == Qualified && c.role == Owner {
		return nil
	}
	return s.Under(c.fact)
}

func (c counter) from(at Ref) int {
	s := c.at(at)
	if s == nil {
		return 0
	}
	if n, ok := c.known[at]; ok {
		return n
	}
	c.known[at] = 0
	exits := s.usual()
	if s.passedOver() {
		exits = []Exit{s.NotApplicable}
	}
	most, mildest := 0, Danger
	for _, e := range exits {
		if n := c.from(e.To); e.Signal < mildest || e.Signal == mildest && (n > most || !c.next[at].set()) {
			most, mildest = n, e.Signal
			c.next[at] = e.To
		}
	}
	switch {
	case s.passedOver():
	case s.Kind == KindChart:
		most += len(s.usuallyAsked())
	default:
		most++
	}
	c.known[at] = most
	return most
}

// along counts the answers of the usual way, past what is read already.
func (c counter) along(at Ref, read map[string]bool) int {
	n, passed := 0, map[Ref]bool{}
	for s := c.at(at); s != nil && !passed[at]; s = c.at(at) {
		passed[at] = true
		switch {
		case s.passedOver():
		case s.Kind == KindChart:
			for _, column := range s.usuallyAsked() {
				if id := s.Measure[column].Quantity.ID; !read[id] {
					read[id] = true
					n++
				}
			}
		default:
			n++
			for _, v := range s.Measure {
				read[v.Quantity.ID] = true
			}
			if s.Stop() {
				clear(read)
			}
		}
		at = c.next[at]
	}
	return n
}

func (r Ref) set() bool { return r.Step != "" }

// passedOver reports whether the facts leave s nothing to ask.
func (s *Step) passedOver() bool { return s.NotApplicable.Set() && len(s.Measure) == 0 }

// usuallyAsked lists the columns that the chart s asks on the likeliest way to its
// mildest row.
func (s *Step) usuallyAsked() []int {
	var all []int
	for c := range s.Measure {
		all = append(all, c)
	}
	if s.Chart == nil || len(s.Measure) == 0 {
		return all
	}
	t := s.compiled()
	if t.cramped != "" || t.plan().tree == nil {
		return all
	}
	var usual []int
	mildest, likeliest := Danger, -1.0
	var follow func(p *order.Plan, asked []int, share float64)
	follow = func(p *order.Plan, asked []int, share float64) {
		if p.Ask < 0 {
			signal := s.Chart.Rows[p.Result].Signal
			if likeliest < 0 || signal < mildest || signal == mildest && share > likeliest {
				usual, mildest, likeliest = asked, signal, share
			}
			return
		}
		for _, b := range p.Then {
			follow(b.Plan, append(slices.Clip(asked), p.Ask), share*b.Share)
		}
	}
	follow(t.plan().tree, nil, 1)
	return usual
}

// usual lists the exits of s by readings, choices or its act.
func (s *Step) usual() []Exit {
	out := s.answered()
	if s.Act.Exit.Set() {
		out = append(out, s.Act.Exit)
	}
	return out
}
