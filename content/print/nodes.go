package print

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// node is a step as paper has it: once, however often its walk uses the fragment that
// it stands in. Each use is a step of the engine, and may go on elsewhere.
type node struct {
	*faulttree.Step                   // as the facts leave it
	Code            string            // "7"; "F3" for a finding
	uses            []*faulttree.Step // in document order, the node's own step among them
}

// plan is a walk as paper has it.
type plan struct {
	lib    *content.Library
	tree   *faulttree.Tree
	known  faulttree.Known
	sheets []*sheetPlan // that of the walk first, then those of its long procedures
	met    map[faulttree.Ref]bool
	led    map[string][]*faulttree.Step // by use of a fragment, what leads there, worked out once
	byStep map[faulttree.Ref]*node
	codes  map[string]string // of the readings, by quantity id
	unread []target          // see commonUnread
	doors  []string          // the other walks that are pointed to
}

// sheetPlan is what stands on one or two pages: the walk, or a procedure that it shares
// with others.
type sheetPlan struct {
	title  string // of the procedure; "" for the walk
	file   string // of the fragment; "" for the walk
	nodes  []*node
	folded []*node // what they tell of the meter alone; see fold
}

// planOf numbers the steps and the findings of a walk that somebody may come to who
// begins at its start, or at a step that takes a figure already at hand.
func planOf(lib *content.Library, t *faulttree.Tree) *plan {
	p := wholePlan(lib, t)
	p.fold(p.sheets[0])
	p.number()
	return p
}

// wholePlan is a plan from which nothing is folded away, not numbered.
func wholePlan(lib *content.Library, t *faulttree.Tree) *plan {
	p := &plan{lib: lib, tree: t, byStep: map[faulttree.Ref]*node{}, led: map[string][]*faulttree.Step{}, codes: map[string]string{}, sheets: []*sheetPlan{{}}}
	p.known = func(fact string) string { return t.Facts[fact] }
	p.met = p.reached()
	apart := procedures(lib)
	for _, s := range t.Steps {
		if !p.met[s.Ref()] || p.passed(s) {
			continue
		}
		on := p.sheets[0]
		if len(s.Uses) > 0 && apart[s.Uses[0]] != "" {
			on = p.sheetOf(apart[s.Uses[0]], s)
		}
		i := slices.IndexFunc(on.nodes, func(n *node) bool { return n.Pos == s.Pos && p.toldApart(n, s) })
		if i < 0 {
			i = len(on.nodes)
			on.nodes = append(on.nodes, &node{Step: s.Under(p.known)})
		}
		on.nodes[i].uses = append(on.nodes[i].uses, s)
		p.byStep[s.Ref()] = on.nodes[i]
	}
	return p
}

// number gives every node its code.
func (p *plan) number() {
	steps, findings := 0, 0
	for _, on := range p.sheets {
		for _, n := range on.nodes {
			if n.Kind == faulttree.KindFinding {
				findings++
				n.Code = fmt.Sprint("F", findings)
			} else {
				steps++
				n.Code = fmt.Sprint(steps)
			}
		}
	}
}

// toldApart reports whether the reader of a node can tell a further use of it from those
// that it has: by the step that led there. A finding leads nowhere.
func (p *plan) toldApart(n *node, use *faulttree.Step) bool {
	if n.Kind == faulttree.KindFinding {
		return true
	}
	led := p.leading(use)
	return !slices.ContainsFunc(n.uses, func(other *faulttree.Step) bool {
		return slices.ContainsFunc(p.leading(other), func(s *faulttree.Step) bool {
			return slices.ContainsFunc(led, func(l *faulttree.Step) bool { return l.Pos == s.Pos })
		})
	})
}

// nodes are those of all sheets.
func (p *plan) nodes() []*node {
	var out []*node
	for _, on := range p.sheets {
		out = append(out, on.nodes...)
	}
	return out
}

// sheetOf is the sheet of a procedure, begun with its first step.
func (p *plan) sheetOf(file string, first *faulttree.Step) *sheetPlan {
	for _, on := range p.sheets {
		if on.file == file {
			return on
		}
	}
	on := &sheetPlan{title: first.Title, file: file}
	p.sheets = append(p.sheets, on)
	return on
}

// long is from how many steps and findings on a procedure that walks share is printed on
// pages of its own, so that those of the walk can be taken in.
const long = 12

// procedures names the file of the fragment for every use of a long procedure that
// several walks share.
func procedures(lib *content.Library) map[source.Pos]string {
	files := map[source.Pos]string{}          // by use
	trees := map[string]map[string]bool{}     // by file, which use it
	steps := map[string]map[source.Pos]bool{} // by file
	for _, t := range lib.Forest.Trees {
		for _, s := range t.Steps {
			if len(s.Uses) == 1 && files[s.Uses[0]] == "" {
				files[s.Uses[0]] = s.Pos.File
			}
		}
		for _, s := range t.Steps {
			if len(s.Uses) == 0 {
				continue
			}
			file := files[s.Uses[0]]
			if trees[file] == nil {
				trees[file], steps[file] = map[string]bool{}, map[source.Pos]bool{}
			}
			trees[file][t.ID], steps[file][s.Pos] = true, true
		}
	}
	maps.DeleteFunc(files, func(_ source.Pos, file string) bool { return len(trees[file]) < 2 || len(steps[file]) < long })
	return files
}

// fold takes out what a procedure tells of the meter alone beyond that it is proved or
// not: of a fragment that reads nothing else, the step it begins with stays, and where
// that leads if it cannot be done. To whoever stands there with paper a meter that is not
// proved does not count, whatever is wrong with it; how that is found is told in short.
func (p *plan) fold(on *sheetPlan) {
	folded := map[*node]bool{}
	groups := map[string][]*node{}
	for _, n := range on.nodes {
		if len(n.Uses) > 0 {
			groups[n.Pos.File] = append(groups[n.Pos.File], n)
		}
	}
	for _, group := range groups {
		first := group[0]
		doubt := p.node(first.NotPossible.To)
		if doubt == nil || slices.ContainsFunc(group, (*node).ofVehicle) || !slices.Contains(group, doubt) {
			continue
		}
		for _, n := range group {
			if n.Pos == first.Pos || n == doubt {
				continue
			}
			folded[n] = true
			on.folded = append(on.folded, n)
			for _, use := range n.uses {
				p.byStep[use.Ref()] = doubt
			}
		}
	}
	clear(p.led) // what is folded away leads nowhere
	on.nodes = slices.DeleteFunc(on.nodes, func(n *node) bool { return folded[n] })
}

// ofVehicle reports whether a node reads or asks anything beyond the meter.
func (n *node) ofVehicle() bool {
	return n.Kind != faulttree.KindFinding && n.Kind != faulttree.KindMeasure || slices.ContainsFunc(n.Measure, func(v faulttree.Variable) bool { return !v.Quantity.OfMeter() })
}

// node is the node of a step, nil for one that is not on the page.
func (p *plan) node(r faulttree.Ref) *node {
	if s := p.lib.Forest.Step(r); s != nil && s.Tree == p.tree.Own() {
		return p.byStep[s.Ref()]
	}
	return nil
}

// reached is the steps of the walk that its page tells of: what the facts rule out is
// not on it. A step that nothing leads to takes a figure that was read before.
func (p *plan) reached() map[faulttree.Ref]bool {
	led := map[faulttree.Ref]bool{}
	for _, s := range p.tree.Steps {
		for _, e := range s.Exits() {
			led[p.lib.Forest.Canonical(e.To)] = true
		}
	}
	met := map[faulttree.Ref]bool{}
	var meet func(r faulttree.Ref)
	meet = func(r faulttree.Ref) {
		s := p.lib.Forest.Step(r)
		if s == nil || s.Tree != p.tree.Own() || met[s.Ref()] {
			return
		}
		met[s.Ref()] = true
		for _, e := range p.exits(s) {
			meet(e.To)
		}
	}
	meet(faulttree.Ref{Tree: p.tree.Own(), Step: p.tree.Start})
	for _, s := range p.tree.Steps {
		if !led[s.Ref()] {
			meet(s.Ref())
		}
	}
	return met
}

// passed reports whether the facts leave a step nothing to read, so that a walk goes past
// it.
func (p *plan) passed(s *faulttree.Step) bool {
	return s.Reads() && len(s.Under(p.known).Measure) == 0
}

// onward is where an exit comes to behind the steps that are passed.
func (p *plan) onward(e faulttree.Exit) faulttree.Exit {
	for range p.tree.Steps { // each at most once
		s := p.lib.Forest.Step(e.To)
		if s == nil || !p.passed(s) {
			break
		}
		e.To, e.Text, e.Signal = s.NotApplicable.To, s.NotApplicable.Text, max(e.Signal, s.NotApplicable.Signal)
	}
	return e
}

// exits are where a step may lead by what is known.
func (p *plan) exits(s *faulttree.Step) []faulttree.Exit {
	if p.passed(s) {
		return []faulttree.Exit{s.NotApplicable}
	}
	return s.Under(p.known).Exits()
}

// leading lists what leads to a use of a fragment from outside of it: a reader tells the
// use by that. The id of a step of a use begins with that of the use.
func (p *plan) leading(use *faulttree.Step) []*faulttree.Step {
	within := use.ID[:strings.LastIndex(use.ID, ".")+1]
	if known, ok := p.led[within]; ok {
		return known
	}
	var out []*faulttree.Step
	for _, s := range p.tree.Steps {
		folded := p.byStep[s.Ref()] != nil && p.byStep[s.Ref()].Pos != s.Pos
		if !p.met[s.Ref()] || p.passed(s) || folded || within != "" && strings.HasPrefix(s.ID, within) {
			continue
		}
		into := func(e faulttree.Exit) bool {
			e = p.onward(e)
			to := p.lib.Forest.Step(e.To)
			n := p.node(e.To)
			return to != nil && to.Tree == p.tree.Own() && to.Kind != faulttree.KindFinding && strings.HasPrefix(to.ID, within) && (n == nil || n.Pos == to.Pos)
		}
		if slices.ContainsFunc(p.exits(s), into) {
			out = append(out, s)
		}
	}
	p.led[within] = out
	return out
}
