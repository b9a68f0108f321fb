package load

import (
	"maps"
	"slices"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// mostExits is how many exits of a fragment are read.
const mostExits = 50

// fragment is what a document of a procedure has beside its steps.
type fragment struct {
	exits []string // by which its steps lead out of it
	used  bool     // by a tree, or by a fragment that one uses
}

// fragmentUse stands in a step block in place of what the step asks for: the
// steps of a fragment are put there.
type fragmentUse struct {
	fragment string
	exits    map[string]string // name of an exit -> where it leads, as a go is written
	pos      source.Pos
}

// readFragment reads a procedure of several steps, in the form of a tree.
func (p *part) readFragment(m *measurables) {
	front, doc := p.open("fragment", "start", "exits", "limits", "danger")
	r := &treeReader{part: p, m: m, used: map[string]bool{}, unread: map[string]bool{}}
	p.fragment = &fragment{}
	p.tree = &faulttree.Tree{
		ID: doc.ID, Title: doc.Title, Start: p.needTo(refStep, front, "start"), Pos: doc.Pos,
		Limits: map[string]faulttree.Limit{}, Danger: map[string]string{},
	}
	exits := map[string]source.Pos{}
	list := front.Need("exits")
	for _, item := range cut(list, list.Items("exits"), mostExits, RuleTreeSize, "the fragment has", "exits") {
		name := item.Text("an entry of exits")
		first, twice := exits[name]
		if !checkID(item, name, "an exit") {
			continue
		}
		if twice {
			twiceDefined(&p.diags, item.Pos(), first, "the exit "+name)
			continue
		}
		exits[name] = item.Pos()
		p.fragment.exits = append(p.fragment.exits, name)
	}
	r.limits(front.Get("limits"))
	r.danger(front.Get("danger"))
	r.steps(doc.Body)
	p.checkExits(exits)
}

// checkExits reports exits of a fragment that are steps as well, and those that
// none of its steps leads to.
func (p *part) checkExits(exits map[string]source.Pos) {
	if p.steps == nil {
		return
	}
	led := map[string]bool{}
	for _, s := range p.tree.Steps {
		s.EachExit(func(e *faulttree.Exit) { led[e.Text] = true })
		if u := p.fragmentUses[s]; u != nil {
			for _, to := range u.exits {
				led[to] = true
			}
		}
	}
	all := p.fragment.exits
	p.fragment.exits = nil
	for _, name := range all {
		if _, isStep := p.steps[name]; !isStep {
			p.fragment.exits = append(p.fragment.exits, name)
		}
		switch at, isStep := p.steps[name]; {
		case isStep:
			twiceDefined(&p.diags, exits[name], at, "the exit "+name)
		case name == p.tree.Start:
			p.diags.Add(exits[name], RuleFragmentExits, "the fragment starts at its exit %s; expected one of its steps", name)
		case !led[name] && !p.diags.HasErrors():
			p.diags.Add(exits[name], RuleFragmentExits, "no step of the fragment leads to its exit %s", name)
		}
	}
}

// use reads a step that stands for the steps of a fragment.
func (r *stepReader) use(v document.Value, m document.Map) {
	for _, f := range v.Fields("a step block") {
		if f.Key != "use" && f.Key != "cautions" && f.Key != "cards" && f.Key != "sources" && m.Has(f.Key) {
			r.diags.Add(f.KeyPos, RuleBadStep, "%s does not belong to a step with use; the steps of the fragment say it", f.Key)
		}
	}
	r.step.Cautions = r.refer(refCaution, m.Get("cautions"), "cautions")
	r.step.Cards = r.refer(refCard, m.Get("cards"), "cards")
	r.step.Sources = r.refer(refSource, m.Get("sources"), "sources")
	of := m.Get("use").Map("use", "fragment", "exits")
	u := &fragmentUse{fragment: r.needTo(refFragment, of, "fragment"), exits: map[string]string{}, pos: m.KeyPos("use")}
	for _, f := range of.Need("exits").Fields("exits") {
		if to := r.noted(refStep, f.Value.Text("where an exit leads"), f.Value.Pos()); to != "" {
			u.exits[f.Key] = to
		}
		r.refs = append(r.refs, reference{kind: refExit, id: f.Key, tree: u.fragment, pos: f.KeyPos})
	}
	if r.fragmentUses == nil {
		r.fragmentUses = map[*faulttree.Step]*fragmentUse{}
	}
	r.fragmentUses[r.step] = u
}

// was reads which steps of a tree had another id.
func (r *treeReader) was(v document.Value) {
	for _, f := range cut(v, v.Fields("was"), mostSteps, RuleTreeSize, "the tree has", "earlier ids") {
		to := f.Value.Text("the id a step has now")
		at, taken := r.part.steps[f.Key]
		switch {
		case to == "" || r.part.steps == nil:
		case !idForm.MatchString(strings.ReplaceAll(f.Key, ".", "-")):
			r.diags.Add(f.KeyPos, RuleBadID, "%s never was the id of a step; expected lower-case letters, digits, hyphens and dots", f.Key)
		case taken:
			twiceDefined(&r.diags, f.KeyPos, at, "the step "+f.Key)
		default:
			r.noted(refStep, to, f.Value.Pos())
			r.part.steps[f.Key] = f.KeyPos
			r.tree.Was[f.Key] = to
		}
	}
}

// circles reports earlier ids that lead only to one another.
func (p *part) circles() {
	for _, was := range slices.Sorted(maps.Keys(p.tree.Was)) {
		id, ok := was, true
		for range len(p.tree.Was) {
			if id, ok = p.tree.Was[id]; !ok {
				break
			}
		}
		if ok && p.tree.Was[id] != "" && !p.full() {
			p.diags.Add(p.steps[was], RuleUnknownStep, "the earlier id %s leads in a circle, and to no step", was)
		}
	}
}
