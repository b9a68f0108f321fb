package print

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/content/view"
	"faultwright/faulttree"
)

// way is one way on from a step: for which readings, and where to.
type way struct {
	When  string // "≥ 15 V"
	Label string // what its author calls it
	To    []target
	spans []faulttree.Span // of the one reading of a step; nil for what is in words
}

// target is where a way leads. From is by which steps one must have come, where that
// makes a difference.
type target struct {
	From   string
	Signal faulttree.Signal
	Stop   bool
	Code   string // of a step, a finding or another walk
}

// ways are where a node leads, in the order of its document; for a chart those beside
// its rows.
func (p *plan) ways(n *node) []way {
	var out []way
	add := func(when, label string, exit func(*faulttree.Step) faulttree.Exit) {
		if exit(n.Step).Set() {
			out = append(out, way{When: when, Label: label, To: p.targets(n, exit)})
		}
	}
	for i, b := range n.Branches {
		add(boundsText(n.Step, b.Bounds), b.Label, func(s *faulttree.Step) faulttree.Exit { return s.Under(p.known).Branches[i].Exit })
		if len(b.Bounds) == 1 && len(n.Measure)+len(n.Derive) == 1 {
			out[len(out)-1].spans = []faulttree.Span{b.Bounds[0].Span}
		}
	}
	add("OL", n.OverRange.Label, func(s *faulttree.Step) faulttree.Exit { return s.OverRange })
	for i, c := range n.Choices {
		add(c.Text, "", func(s *faulttree.Step) faulttree.Exit { return s.Choices[i].Exit })
	}
	if n.Kind == faulttree.KindAct {
		add("then", n.Act.Label, func(s *faulttree.Step) faulttree.Exit { return s.Act.Exit })
	}
	if unread := p.targets(n, notPossible); !slices.Equal(unread, p.unread) {
		add(cannot, n.NotPossible.Label, notPossible)
	}
	add("your vehicle has none of this", n.NotApplicable.Label, func(s *faulttree.Step) faulttree.Exit { return s.NotApplicable })
	add("tried "+view.Count(max(1, n.Recheck), "time"), n.Then.Label, func(s *faulttree.Step) faulttree.Exit { return s.Then })
	return merged(out, n.Step)
}

func notPossible(s *faulttree.Step) faulttree.Exit { return s.NotPossible }

// commonUnread is where most steps of a sheet lead whose readings cannot be taken, so that
// it is said once; nil where fewer than three agree.
func (p *plan) commonUnread(on *sheetPlan) []target {
	var found [][]target
	var times []int
	for _, n := range on.nodes {
		if !n.NotPossible.Set() {
			continue
		}
		to := p.targets(n, notPossible)
		i := slices.IndexFunc(found, func(o []target) bool { return slices.Equal(o, to) })
		if i < 0 {
			i, found, times = len(found), append(found, to), append(times, 0)
		}
		times[i]++
	}
	if len(times) == 0 || slices.Max(times) < 3 {
		return nil
	}
	return found[slices.Index(times, slices.Max(times))]
}

// merged is ways with those that lead to the same as one, in the order of the first.
// The one that takes what is out of range and what cannot be read takes all else.
func merged(ways []way, s *faulttree.Step) []way {
	var out []way
	for _, w := range ways {
		i := slices.IndexFunc(out, func(o way) bool { return slices.Equal(o.To, w.To) })
		if i < 0 {
			out = append(out, w)
			continue
		}
		if out[i].spans = append(out[i].spans, w.spans...); w.spans != nil && len(s.Measure) == 1 {
			out[i].When = spans(out[i].spans, s.Measure[0].Quantity.Unit)
		} else {
			out[i].When += " or " + w.When
		}
		if out[i].Label != w.Label {
			out[i].Label = ""
		}
	}
	for i, w := range out {
		if strings.HasSuffix(w.When, " or OL or "+cannot) {
			w.When, w.Label = "all else, or "+cannot, ""
			return append(append(slices.Clone(out[:i]), out[i+1:]...), w)
		}
	}
	return out
}

// runs is the ways of a chart with those that follow one another to the same place as
// one: all of them, or only those that ask one thing each. They are tried in their
// order, so others are not joined.
func runs(ways []way, all bool) []way {
	var out []way
	for _, w := range ways {
		n := len(out) - 1
		if n >= 0 && slices.Equal(out[n].To, w.To) && w.When != otherwise && (all || !strings.Contains(out[n].When+w.When, and)) {
			out[n].When += ", or " + w.When
			continue
		}
		out = append(out, w)
	}
	return out
}

// and stands between what a row asks of several columns.
const and = " and "

// otherwise is the last row of a chart, which asks nothing.
const otherwise = "else"

// cannot is how a way begins that is taken where a reading was not possible.
const cannot = "cannot be read"

// targets are where an exit leads from each use of a node, as one where all agree.
func (p *plan) targets(n *node, exit func(*faulttree.Step) faulttree.Exit) []target {
	var out []target
	var uses [][]*faulttree.Step
	for _, use := range n.uses {
		t := p.target(exit(use))
		i := slices.Index(out, t)
		if i < 0 {
			i = len(out)
			out, uses = append(out, t), append(uses, nil)
		}
		uses[i] = append(uses[i], use)
	}
	if len(out) == 1 {
		return out
	}
	for i := range out {
		var from []string
		for _, use := range uses[i] {
			for _, s := range p.leading(use) {
				if n := p.byStep[s.Ref()]; n != nil && !slices.Contains(from, n.Code) {
					from = append(from, n.Code)
				}
			}
		}
		out[i].From = strings.Join(from, ", ")
	}
	return out
}

// target is where one exit leads.
func (p *plan) target(e faulttree.Exit) target {
	e = p.onward(e)
	t := target{Signal: e.Signal}
	s, n := p.lib.Forest.Step(e.To), p.node(e.To)
	switch {
	case s == nil:
		t.Code = e.Text
	case n != nil:
		t.Code, t.Stop = n.Code, n.Stop()
		if n.Ref() != s.Ref() && !slices.Contains(n.uses, s) { // folded: the worst that its procedure may come to
			t.Signal = faulttree.Danger
		}
	default:
		t.Code = p.door(s.Tree)
	}
	return t
}

// door is the code of another walk.
func (p *plan) door(tree string) string {
	i := slices.Index(p.doors, tree)
	if i < 0 {
		i = len(p.doors)
		p.doors = append(p.doors, tree)
	}
	return fmt.Sprint("W", i+1)
}

// boundsText words what a branch asks. Of a step that reads one thing only the limit
// is told.
func boundsText(s *faulttree.Step, bounds []faulttree.Bound) string {
	var out []string
	for _, b := range bounds {
		name, u := columnOf(s, b.Var)
		text := limit(b.Span, u)
		if len(s.Measure)+len(s.Derive) > 1 {
			text = name + " " + text
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return "any figure"
	}
	return strings.Join(out, ", ")
}

// columnOf is the name and the unit of a variable or derived value of a step.
func columnOf(s *faulttree.Step, i int) (string, faulttree.Unit) {
	if i < len(s.Measure) {
		return s.Measure[i].Name, s.Measure[i].Quantity.Unit
	}
	d := s.Derive[i-len(s.Measure)]
	return d.Name, d.Unit
}
