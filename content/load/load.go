package load

import (
	"context"
	"fmt"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/plainfile"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// MostErrors is how many diagnostics of one file are shown; one more says how
// many others there are.
const MostErrors = 200

// mostNotes is how many of one file are gathered: beyond that, looking for more
// costs time and tells nothing.
const mostNotes = 1000

// full reports whether p has gathered as many diagnostics as it may.
func (p *part) full() bool { return len(p.diags) >= mostNotes }

// Dir loads a folder of the disk. Nothing outside the folder is read,
// whatever links it holds. The error says why the folder itself could not be
// opened; all else stands in the diagnostics.
func Dir(ctx context.Context, dir string) (*content.Library, error) {
	root, err := plainfile.Folder(dir)
	if err != nil {
		return nil, fmt.Errorf("the content folder cannot be opened: %w", err)
	}
	defer root.Close()
	return FS(ctx, plainfile.FS(root)), nil
}

// FS reads the handbook in fsys. The result is the same for the same files,
// and it is never nil. Where fsys follows links out of itself, so does Load;
// [Dir] does not.
func FS(ctx context.Context, fsys fs.FS) *content.Library {
	l := &content.Library{
		Forest:    &faulttree.Forest{Quantities: faulttree.Quantities{}, Trees: map[string]*faulttree.Tree{}},
		Points:    map[string]faulttree.Point{},
		Cards:     map[string]*content.Card{},
		Cautions:  map[string]*content.Caution{},
		Faults:    map[string]*content.Fault{},
		Sources:   map[string]*content.Source{},
		Rigs:      map[string]*rig.Rig{},
		Scenarios: map[string]*content.Scenario{},
		Methods:   map[string]*content.Method{},
		Prose:     map[faulttree.Ref][]document.Block{},
		Files:     map[string]*source.File{},
	}
	files := readFiles(ctx, fsys, &l.Diagnostics)
	for _, f := range files {
		l.Files[f.Name] = f
	}
	m := &measurables{quantities: l.Forest.Quantities, points: l.Points, methods: l.Methods, methodAt: map[string]source.Pos{}}
	var parts []*part
	for _, list := range []struct {
		name string
		read func(*part)
	}{{"facts.yaml", m.readFacts}, {vehiclesFile, m.readLasting}, {"quantities.yaml", m.read}} {
		if f := l.Files[list.name]; f != nil {
			p := &part{file: f}
			list.read(p)
			parts = append(parts, p)
		}
	}
	l.Forest.Facts = m.facts
	l.Forest.Weights, l.Forest.Touch = m.weights, m.touch
	spent, lists := 0, len(parts)
	for _, f := range files {
		if path.Dir(f.Name) == "methods" && spent <= mostFolderWork && ctx.Err() == nil { // trees need to know them
			p := readPart(f, m)
			parts, spent = append(parts, p), spent+p.work
		}
	}
	if lists > 0 && !slices.ContainsFunc(parts[lists:], func(p *part) bool { return p.diags.HasErrors() }) {
		m.unexposed(parts[lists-1])
	}
	if more, ok := readParts(ctx, files, m, spent); ok {
		merge(l, append(parts, more...), m)
	} else {
		l.Diagnostics.Add(source.Pos{}, RuleWork, "the texts of the content folder take more than %d times the work of the shipped handbook to read; nothing of it is loaded", mostFolderWork/shippedWork)
	}
	l.Sample = readSample(l)
	if ctx.Err() != nil && len(l.Diagnostics) == 0 {
		l.Diagnostics.Add(source.Pos{}, RuleCanceled, "loading was stopped before its end: %v", ctx.Err())
	}
	l.Diagnostics.Sort()
	return l
}

// part is what one file gave.
type part struct {
	file    *source.File
	id      string // the file's name without folder and ending
	diags   source.List
	refs    []reference
	work    int    // what reading its text took
	lost    bool   // its text could not be read at all
	written string // the text behind the front matter, as it stands there

	doc     *content.Document // that of the kinds below which are documents of text
	card    *content.Card
	rubric  *content.Rubric
	caution *content.Caution
	fault   *content.Fault
	source  *content.Source
	method  *content.Method
	tree    *faulttree.Tree
	rig     *rig.Rig // complete only if nothing is wrong with it
	rigCut  bool     // parts of the rig were left out
	uses    []use    // what the edits of the fault, or the choices of the tree, name in rigs

	scenario    *content.Scenario
	front       document.Map                // of the scenario
	anyName     bool                        // the id need not be the file's name
	basisBroken bool                        // the scenario rests on what has errors of its own
	names       []faulttree.Name            // of the tree, beside its id
	prose       map[string][]document.Block // by step id
	steps       map[string]source.Pos       // every step id, also of steps that could not be read
	synonyms    [][]string
	openings    []content.Opening
	orders      map[string]content.Order
	evidence    *evidence

	remaining    *remaining                       // what is possible at the findings of a tree
	places       []findingPlace                   // findings that take from their faults
	fragment     *fragment                        // tree holds its steps
	fragmentUses map[*faulttree.Step]*fragmentUse // steps of tree that stand for a fragment
}

// readParts decodes every file but the list of quantities and the methods, on all
// processors; reading those took the work that is spent already. It stops once their text takes more work than a folder may, and reports that.
func readParts(ctx context.Context, files []*source.File, m *measurables, spent int) (done []*part, ok bool) {
	parts := make([]*part, len(files))
	var work atomic.Int64
	work.Store(int64(spent))
	next := make(chan int)
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), max(1, len(files))) {
		workers.Go(func() {
			for i := range next {
				if ctx.Err() != nil || work.Load() > mostFolderWork {
					continue
				}
				if p := readPart(files[i], m); p != nil {
					parts[i] = p
					work.Add(int64(p.work))
				}
			}
		})
	}
	for i, f := range files {
		if path.Dir(f.Name) != "methods" {
			next <- i
		}
	}
	close(next)
	workers.Wait()
	for _, p := range parts {
		if p != nil {
			done = append(done, p)
		}
	}
	return done, work.Load() <= mostFolderWork
}

// readPart decodes one file by the folder it lies in.
func readPart(f *source.File, m *measurables) *part {
	p := &part{file: f, id: strings.TrimSuffix(path.Base(f.Name), path.Ext(f.Name))}
	switch path.Dir(f.Name) {
	case "cards":
		p.readCard()
	case "cautions":
		p.readCaution()
	case "faults":
		p.readFault()
	case "sources":
		p.readSource()
	case "trees":
		p.readTree(m)
	case "methods":
		p.readMethod(m)
	case "fragments":
		p.readFragment(m)
	case "remaining":
		p.readRemaining()
	case "rigs":
		p.readRig(m)
	case "scenarios":
		p.readScenario()
	default:
		switch f.Name {
		case rubricFile:
			p.readRubric()
		case "evidence.yaml":
			p.readEvidence(m)
		case "synonyms.yaml":
			p.readSynonyms()
		case "openings.yaml":
			p.readOpenings()
		case OrdersFile:
			p.readOrders()
		default:
			return nil // facts.yaml, vehicles.yaml and quantities.yaml, read before, and sample.yaml, read last
		}
	}
	p.withFeet()
	return p
}

// merge puts the parts together and checks what they say of each other.
func merge(l *content.Library, parts []*part, m *measurables) {
	expand(parts)
	known, rigs := newKnown(parts, m), newRigNames(parts)
	for _, p := range parts {
		if p.fault != nil {
			l.Faults[p.fault.ID] = p.fault
		}
	}
	for _, p := range parts {
		p.into(l)
		known.check(p)
		p.checkPlaces(l.Faults)
		rigs.check(p)
		if p.rig != nil && !p.diags.HasErrors() {
			l.Rigs[p.rig.ID] = p.rig
		}
		if p.scenario == nil {
			l.Diagnostics = append(l.Diagnostics, p.limited()...)
		}
	}
	settle(l)
	for _, p := range parts {
		for _, n := range p.names {
			l.Forest.AddName(p.tree, n)
		}
	}
	withRemaining(l, parts)
	checkRigFacts(l, parts)
	for _, p := range parts {
		if p.scenario == nil {
			continue
		}
		p.setUp(l)
		if !p.diags.HasErrors() && !p.basisBroken {
			l.Scenarios[p.scenario.ID] = p.scenario
		}
		l.Diagnostics = append(l.Diagnostics, p.limited()...)
	}
	known.duplicates(parts, &l.Diagnostics)
	checkWhole(l, parts, m)
}

// into puts what a part has read into the library, but for faults, rigs and
// scenarios, which are checked before or after.
func (p *part) into(l *content.Library) {
	switch {
	case p.card != nil:
		l.Cards[p.card.ID] = p.card
	case p.rubric != nil && !p.diags.HasErrors():
		l.Rubric = p.rubric
	case p.caution != nil:
		l.Cautions[p.caution.ID] = p.caution
	case p.source != nil:
		l.Sources[p.source.ID] = p.source
	case p.tree != nil && p.fragment == nil:
		p.tree.Index()
		l.Forest.Trees[p.tree.ID] = p.tree
		for step, blocks := range p.prose {
			l.Prose[faulttree.Ref{Tree: p.tree.ID, Step: step}] = blocks
		}
	}
	l.Synonyms = append(l.Synonyms, p.synonyms...)
	l.Openings = append(l.Openings, p.openings...)
	if p.orders != nil {
		l.Orders = p.orders
	}
	if p.evidence != nil {
		l.Forest.Observations, l.Forest.Interventions = p.evidence.observations, p.evidence.interventions
	}
}

// checkWhole reports what the folder as a whole lacks.
func checkWhole(l *content.Library, parts []*part, m *measurables) {
	if _, ok := l.Files["quantities.yaml"]; !ok && len(parts) > 0 {
		l.Diagnostics.Add(source.Pos{File: "quantities.yaml"}, RuleFolder, "the list of quantities is missing or could not be read")
	}
	if f := l.Files["quantities.yaml"]; f != nil && len(l.Rigs) > 0 && (len(m.states) == 0 || !m.touch.Known()) && !l.Diagnostics.HasErrors() {
		l.Diagnostics.AddHint(f.Pos(0), document.RuleMissingKey, "copy states and touch from the list of the shipped handbook", "the list of quantities does not say how rigs stand while something is read, or what a hand may touch")
	}
	if len(l.Forest.Trees) == 0 && len(l.Diagnostics) == 0 {
		l.Diagnostics.Add(source.Pos{File: "trees"}, RuleFolder, "the content folder holds no tree")
	}
}

// settle makes the trees one: every exit names its step by the id that it has
// now, and has a signal; every step that measures says how.
func settle(l *content.Library) {
	for _, tree := range l.Forest.Trees {
		tree.Start = l.Forest.Canonical(faulttree.Ref{Tree: tree.ID, Step: tree.Start}).Step
		for _, s := range tree.Steps {
			s.EachExit(func(e *faulttree.Exit) { e.To = l.Forest.Canonical(e.To) })
		}
	}
	withAdvice(l)
	withMethods(l)
	for _, tree := range l.Forest.Trees {
		for _, s := range tree.Steps {
			if s.Chart != nil {
				s.Chart.Cost = l.Forest.Weights
			}
			s.EachExit(func(e *faulttree.Exit) {
				if !e.SignalPos.IsValid() {
					e.Signal = l.Forest.Implied(s, e)
				}
			})
		}
	}
}

// limited is the diagnostics of a file, cut off where they are very many.
func (p *part) limited() source.List {
	p.diags.Sort()
	return p.diags.PerFile(MostErrors, RuleTooManyErrors)
}

// Shipped loads the handbook inside the program.
func Shipped() *content.Library { return FS(context.Background(), content.ShippedFiles()) }
