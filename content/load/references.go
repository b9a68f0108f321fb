package load

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// refKind is what a reference leads to.
type refKind uint8

const (
	refCard refKind = iota
	refCaution
	refFault
	refSource
	refTree
	refStep
	refRelated
	refFigure
	refRig
	refScenario
	refFragment
	refMethod
	refExit // of the fragment named as the tree
)

// refWords is how messages name each kind, and the rule a dangling one breaks.
var refWords = [...]struct{ word, rule string }{
	refCard:     {"card", RuleUnknownCard},
	refCaution:  {"caution", RuleUnknownCaution},
	refFault:    {"fault", RuleUnknownFault},
	refSource:   {"source", RuleUnknownSource},
	refTree:     {"tree", RuleUnknownTree},
	refStep:     {"step", RuleUnknownStep},
	refRelated:  {"card, fault, caution or tree", RuleUnknownRelated},
	refFigure:   {"figure", RuleUnknownFigure},
	refRig:      {"rig", RuleUnknownRig},
	refScenario: {word: "scenario"},
	refFragment: {"fragment", RuleUnknownFragment},
	refMethod:   {word: "method"},
	refExit:     {"exit", RuleFragmentExits},
}

// reference is an id that must lead somewhere. Tree is where a step without a
// tree of its own is looked up. A link stands in the text.
type reference struct {
	kind refKind
	id   string
	tree string
	pos  source.Pos
	link bool
}

// linkSchemes are the links into the handbook.
var linkSchemes = map[string]refKind{
	"card": refCard, "caution": refCaution, "fault": refFault, "source": refSource, "tree": refTree, "step": refStep,
}

// links notes where the links and figures of a text lead.
func (p *part) links(blocks []document.Block) {
	document.Links(blocks, func(l document.Link) {
		scheme, rest, ok := strings.Cut(l.Target, ":")
		kind, known := linkSchemes[scheme]
		switch {
		case ok && known && kind == refStep && !strings.Contains(rest, "#"):
			p.diags.Add(l.Pos, RuleBrokenLink, "the link %s names no tree; expected step:tree#step", l.Target)
		case ok && known:
			p.refs = append(p.refs, reference{kind: kind, id: rest, pos: l.Pos, link: true})
		case ok && (scheme == "http" || scheme == "https") && strings.HasPrefix(rest, "//"):
		case ok && scheme == "figure":
			p.diags.Add(l.Pos, RuleBrokenLink, "%s is a link; a figure is an image: ![what it shows](%s)", l.Target, l.Target)
		default:
			p.diags.AddHint(l.Pos, RuleBrokenLink, source.DidYouMean(scheme, slices.Sorted(maps.Keys(linkSchemes))), "the link %q leads nowhere; expected card:, caution:, fault:, source:, tree:, step: or a citation by https:", l.Target)
		}
	})
	document.Figures(blocks, func(f document.Figure) {
		p.refs = append(p.refs, reference{kind: refFigure, id: f.Name, pos: f.Pos, link: true})
	})
}

// shared reports whether documents of the kind share one set of ids.
func (k refKind) shared() bool { return k < refRig && k != refSource }

// known is every id of the handbook. A document that could not be read still
// counts, by the name of its file, so that it is reported once.
type known struct {
	ids   map[refKind]map[string]bool
	trees map[string]*part
	exits map[string][]string // of the fragments
}

func newKnown(parts []*part, m *measurables) *known {
	k := &known{ids: map[refKind]map[string]bool{}, trees: map[string]*part{}, exits: map[string][]string{}}
	for kind := refCard; kind <= refMethod; kind++ {
		k.ids[kind] = map[string]bool{}
	}
	for _, p := range parts {
		kind, ok := p.kind()
		if !ok {
			continue
		}
		k.ids[kind][p.id] = true
		if kind.shared() {
			k.ids[refRelated][p.id] = true
		}
		if kind == refTree {
			k.trees[p.id] = p
			k.named(p)
		}
		if p.fragment != nil {
			k.exits[p.id] = p.fragment.exits
		}
	}
	return k
}

// named makes the names of a tree known beside its id.
func (k *known) named(p *part) {
	for _, n := range p.names {
		if k.trees[n.ID] == nil {
			k.ids[refTree][n.ID], k.ids[refRelated][n.ID], k.trees[n.ID] = true, true, p
		}
	}
}

// kind is what sort of document a part is; lists are none.
func (p *part) kind() (refKind, bool) {
	folder, _, _ := strings.Cut(p.file.Name, "/")
	kind, ok := map[string]refKind{
		"cards": refCard, "cautions": refCaution, "faults": refFault, "sources": refSource, "trees": refTree, "rigs": refRig, "scenarios": refScenario,
		"fragments": refFragment, "methods": refMethod,
	}[folder]
	return kind, ok
}

// check reports the references of a part that lead nowhere.
func (k *known) check(p *part) {
	for _, r := range p.refs {
		switch {
		case p.full():
			return
		case r.kind == refFigure:
			if _, ok := figure.Named(r.id); !ok {
				k.dangling(p, r, figure.Names())
			}
		case r.kind == refStep:
			k.step(p, r)
		case r.kind == refExit:
			if exits, ok := k.exits[r.tree]; ok && !slices.Contains(exits, r.id) {
				k.dangling(p, r, exits)
			}
		case !k.ids[r.kind][r.id]:
			k.dangling(p, r, slices.Sorted(maps.Keys(k.ids[r.kind])))
		}
	}
}

// step checks a reference to a step.
func (k *known) step(p *part, r reference) {
	to := faulttree.ParseRef(r.id, r.tree)
	tree, ok := k.trees[to.Tree]
	if p.fragment != nil && to.Tree == p.id {
		if slices.Contains(p.fragment.exits, to.Step) {
			return
		}
		tree, ok = p, true
	}
	switch {
	case !ok:
		r.kind, r.id = refTree, to.Tree
		k.dangling(p, r, slices.Sorted(maps.Keys(k.ids[refTree])))
	case tree.steps == nil: // the whole tree could not be read
	case !r.link && tree.fragment == nil && to.Tree != tree.id:
		p.diags.AddHint(r.pos, refWords[refStep].rule, "name the tree; the walk goes on with the facts it knows", "%s is a name under which walks of the tree %s begin; no step leads to it", to.Tree, tree.id)
	case tree.hasColumn(to.Step):
	case tree.steps[to.Step] == (source.Pos{}):
		var names []string
		if other := k.trees[r.id]; other != nil && other.tree.Start != "" { // a tree was named, not a step of it
			p.diags.AddHint(r.pos, RuleUnknownStep, fmt.Sprintf("did you mean %s#%s?", other.id, other.tree.Start), "there is no step %s", r.id)
			return
		}
		if tree.fragment != nil {
			names = append(names, tree.fragment.exits...)
		}
		for name := range tree.steps {
			if to.Tree != r.tree {
				name = to.Tree + "#" + name
			}
			names = append(names, name)
		}
		k.dangling(p, r, names)
	}
}

// hasColumn reports whether a step id is that of a column of a chart.
func (p *part) hasColumn(step string) bool {
	chart, column, ok := faulttree.Ref{Tree: p.id, Step: step}.Chart()
	if !ok || p.tree == nil {
		return false
	}
	for _, s := range p.tree.Steps {
		if s.ID == chart.Step && s.Kind == faulttree.KindChart {
			return slices.ContainsFunc(s.Measure, func(v faulttree.Variable) bool { return v.Name == column })
		}
	}
	return false
}

func (k *known) dangling(p *part, r reference, candidates []string) {
	words := refWords[r.kind]
	rule, verb := words.rule, "there is no "
	if r.link && r.kind != refFigure {
		rule, verb = RuleBrokenLink, "the link leads nowhere: there is no "
	}
	hint := ""
	if len(p.diags) < MostErrors {
		hint = source.DidYouMean(r.id, candidates)
	}
	expected := ""
	if r.kind == refExit && len(candidates) > 0 {
		expected = "; expected " + either(candidates)
	}
	p.diags.AddHint(r.pos, rule, hint, "%s%s %s%s", verb, words.word, r.id, expected)
}

// duplicates reports ids that name two documents.
func (k *known) duplicates(parts []*part, diags *source.List) {
	first := map[string]source.Pos{}
	for _, p := range parts {
		kind, ok := p.kind()
		if !ok || !kind.shared() {
			continue
		}
		pos := p.pos()
		if at, twice := first[p.id]; twice {
			twiceDefined(diags, pos, at, p.id)
			continue
		}
		first[p.id] = pos
	}
	for _, p := range parts {
		for _, n := range p.names {
			if at, twice := first[n.ID]; twice {
				twiceDefined(diags, n.Pos, at, n.ID)
				continue
			}
			first[n.ID] = n.Pos
		}
	}
}

// pos is where a document's id stands.
func (p *part) pos() source.Pos {
	switch {
	case p.doc != nil:
		return p.doc.Pos
	case p.tree != nil:
		return p.tree.Pos
	}
	return source.Pos{File: p.file.Name, Line: 1, Column: 1}
}
