package load

import (
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Bounds on the use of fragments: how deep they may lie in one another, and how
// many steps and exits all their uses together may bring.
const (
	mostNested   = 5
	mostExpanded = 100_000
)

// expander puts the steps of fragments in the place of their uses.
type expander struct {
	fragments map[string]*part
	left      int // steps and exits that may still be brought
}

// expand makes the uses of fragments in all trees the steps they stand for.
func expand(parts []*part) {
	x := &expander{fragments: map[string]*part{}, left: mostExpanded}
	whole := true // every tree was read
	for _, p := range parts {
		if p.fragment != nil {
			x.fragments[p.id] = p
		}
	}
	x.loops(parts)
	for _, p := range parts {
		if p.tree == nil || p.fragment != nil {
			continue
		}
		whole = whole && p.steps != nil
		if len(p.fragmentUses) > 0 && p.steps != nil {
			x.tree(p)
		}
	}
	for _, p := range parts {
		if p.tree != nil && p.fragment == nil && p.steps != nil {
			p.circles()
		}
	}
	for _, p := range parts {
		if p.fragment != nil && !p.fragment.used && whole {
			p.diags = append(p.diags, source.Diagnostic{Pos: p.tree.Pos, Severity: source.Warning, Rule: RuleUnusedFragment,
				Message: "no tree uses the fragment " + p.id + ", so nothing proves it"})
		}
	}
}

// loops reports every use by which a fragment comes to use itself, and takes it
// away.
func (x *expander) loops(parts []*part) {
	done, under := map[*part]bool{}, map[*part]bool{}
	var visit func(p *part)
	visit = func(p *part) {
		under[p] = true
		for _, s := range p.tree.Steps {
			u := p.fragmentUses[s]
			if u == nil {
				continue
			}
			switch to := x.fragments[u.fragment]; {
			case to == nil || done[to]:
			case under[to]:
				p.diags.Add(u.pos, RuleFragmentLoop, "the fragment %s comes to use itself here", u.fragment)
				u.fragment = ""
			default:
				visit(to)
			}
		}
		under[p], done[p] = false, true
	}
	for _, p := range parts {
		if p.fragment != nil && !done[p] {
			visit(p)
		}
	}
}

// tree replaces the uses of one tree.
func (x *expander) tree(p *part) {
	e := &expansion{expander: x, tree: p, joined: map[string]bool{}}
	for _, s := range p.tree.Steps {
		e.step(p, s, scope{to: func(text string) string { return text }})
	}
	p.tree.Steps = e.steps
}

// expansion is the making of one tree's steps.
type expansion struct {
	*expander
	tree   *part
	steps  []*faulttree.Step
	joined map[string]bool // fragments whose limits the tree has taken
	full   bool            // too much was brought; this was told
}

// scope is the place in which steps are put.
type scope struct {
	prefix string                   // of their ids
	to     func(text string) string // where a go of theirs leads, as the tree would write it
	uses   []source.Pos             // by which they come there, the outermost first
}

// step puts step s of a document in its place, or what it stands for.
func (e *expansion) step(from *part, s *faulttree.Step, in scope) {
	if u := from.fragmentUses[s]; u != nil {
		e.use(from, s, u, in)
		return
	}
	if len(in.uses) == 0 {
		e.steps = append(e.steps, s)
		return
	}
	exits := s.Exits()
	if e.left -= 1 + len(exits); e.left < 0 || len(e.steps) >= mostSteps {
		e.tooMuch(in.uses[0])
		return
	}
	c := *s
	c.Tree, c.ID, c.Uses = e.tree.id, in.prefix+s.ID, in.uses
	c.Branches, c.Choices = slices.Clone(s.Branches), slices.Clone(s.Choices)
	if s.Chart != nil {
		c.Chart = &faulttree.Chart{Rows: slices.Clone(s.Chart.Rows), Pins: s.Chart.Pins, Before: s.Chart.Before, Cost: s.Chart.Cost}
	}
	c.EachExit(func(x *faulttree.Exit) {
		x.Text = in.to(x.Text)
		x.To = faulttree.ParseRef(x.Text, c.Tree)
	})
	e.steps = append(e.steps, &c)
	e.tree.steps[c.ID] = s.Pos
	e.tree.prose[c.ID] = from.prose[s.ID]
}

// use puts the steps of a fragment in the place of step s. What stands beside
// the use is that of the first of them, before its own.
func (e *expansion) use(from *part, s *faulttree.Step, u *fragmentUse, in scope) {
	f := e.fragments[u.fragment]
	if e.left--; f == nil || e.full {
		return
	}
	if e.left < 0 || len(in.uses) == mostNested {
		e.tooMuch(append(slices.Clip(in.uses), u.pos)[0])
		return
	}
	f.fragment.used = true
	id := in.prefix + s.ID
	inner := scope{prefix: id + ".", uses: append(slices.Clip(in.uses), u.pos), to: func(text string) string {
		switch out, ok := u.exits[text]; {
		case ok && slices.Contains(f.fragment.exits, text):
			return in.to(out)
		case strings.Contains(text, "#"):
			return text
		}
		return id + "." + text
	}}
	if missing := lacking(f.fragment.exits, u.exits); missing != "" {
		e.report(from, u.pos, RuleFragmentExits, "the use does not say where the exit %s of the fragment %s leads", missing, u.fragment)
		return
	}
	e.limits(f, inner.uses[0])
	before := len(e.steps)
	for _, one := range f.tree.Steps {
		e.step(f, one, inner)
	}
	e.tree.steps[id] = s.Pos
	start := id + "." + f.tree.Start
	if deeper, ok := e.tree.tree.Was[start]; ok { // it stands for a fragment as well
		start = deeper
	}
	e.tree.tree.Was[id] = start
	k := slices.IndexFunc(e.steps[before:], func(c *faulttree.Step) bool { return c.ID == start })
	if k < 0 {
		return // what the fragment starts at is reported there
	}
	first := e.steps[before+k]
	first.Title = s.Title
	first.Cautions = content.Union(s.Cautions, first.Cautions)
	first.Cards = content.Union(s.Cards, first.Cards)
	first.Sources = content.Union(s.Sources, first.Sources)
	e.tree.prose[first.ID] = slices.Concat(from.prose[s.ID], e.tree.prose[first.ID])
}

// report adds an error to the document it stands in.
func (e *expansion) report(in *part, pos source.Pos, rule, format string, args ...any) {
	if !in.full() {
		in.diags.Add(pos, rule, format, args...)
	}
}

// tooMuch reports once that the uses of a tree bring more than is read.
func (e *expansion) tooMuch(at source.Pos) {
	if !e.full {
		e.full = true
		e.report(e.tree, at, RuleTreeSize, "with what its fragments bring, the tree has more than %d steps, the handbook more than %d steps and exits from fragments, or they are nested more than %d deep", mostSteps, mostExpanded, mostNested)
	}
}

// limits gives the tree the limits of a fragment, and its danger limits.
func (e *expansion) limits(f *part, at source.Pos) {
	if e.joined[f.id] {
		return
	}
	e.joined[f.id] = true
	tree := e.tree.tree
	for _, name := range slices.Sorted(maps.Keys(f.tree.Limits)) {
		theirs := f.tree.Limits[name]
		ours, both := tree.Limits[name]
		switch {
		case !both && len(tree.Limits) < mostLimits:
			tree.Limits[name] = theirs
		case !both:
			e.tooMuch(at)
		case ours.Value != theirs.Value || ours.Unit.Symbol() != theirs.Unit.Symbol():
			e.conflict(at, ours.Pos, theirs.Pos, "the limit "+name, ours.Value.With(ours.Unit), theirs.Value.With(theirs.Unit), f.id)
		}
	}
	for _, quantity := range f.tree.Dangers() {
		theirs := f.tree.Danger[quantity]
		ours, both := tree.Danger[quantity]
		switch {
		case !both:
			tree.Danger[quantity] = theirs
			tree.Gravest = append(tree.Gravest, quantity)
		case tree.Limits[ours].Value != f.tree.Limits[theirs].Value:
			e.conflict(at, tree.Limits[ours].Pos, f.tree.Limits[theirs].Pos, "the danger limit of "+quantity, ours, theirs, f.id)
		}
	}
}

func (e *expansion) conflict(at, ours, theirs source.Pos, what, our, their, fragment string) {
	if e.tree.full() {
		return
	}
	e.tree.diags = append(e.tree.diags, source.Diagnostic{
		Pos: at, Rule: RuleFragmentLimits,
		Message: what + " is " + our + " in this tree, but " + their + " in the fragment " + fragment,
		Hint:    "see " + ours.String() + " and " + theirs.String(),
		Related: []source.Related{{Pos: ours, Message: "in the tree"}, {Pos: theirs, Message: "in the fragment"}},
	})
}

// lacking is the first of the exits to which nothing is given; "" if there is
// none.
func lacking(exits []string, given map[string]string) string {
	for _, name := range exits {
		if given[name] == "" {
			return name
		}
	}
	return ""
}
