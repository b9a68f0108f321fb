package content

import (
	"slices"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/rubric"
	"faultwright/faulttree/source"
)

// Library is a loaded handbook. It is complete once Load returns and is not
// changed afterwards.
type Library struct {
	Forest    *faulttree.Forest
	Points    map[string]faulttree.Point
	Cards     map[string]*Card
	Cautions  map[string]*Caution
	Faults    map[string]*Fault
	Sources   map[string]*Source
	Rigs      map[string]*rig.Rig    // those without errors
	Scenarios map[string]*Scenario   // those without errors
	Methods   map[string]*Method     // by the id of each quantity that is taken so
	Rubric    *Rubric                // nil where the handbook has none, or one with errors
	Orders    map[string]Order       // by id of scenario; see [Library.Order]
	Synonyms  [][]string             // words and phrases of each list mean the same
	Openings  []Opening              // what the opening view offers, in order
	Sample    *Sample                // nil where the handbook has none, or one with errors
	Remaining map[faulttree.Ref]bool // findings of which a file says what remains possible there

	Prose       map[faulttree.Ref][]document.Block // what a step tells the reader
	Files       map[string]*source.File            // every file read, by its path
	Diagnostics source.List                        // everything wrong, sorted
}

// Document is what a document has, of whatever kind.
type Document struct {
	ID, Title string
	Symptoms  []string // how the reader may put it
	Aliases   []string // other words for it
	Sources   []string // ids of sources
	Related   []string // ids of cards, faults, cautions and trees
	Body      []document.Block
	Pos       source.Pos // of its id
}

// Sample is a visit with made-up readings, of no real vehicle, to be looked at before there is
// another.
type Sample struct {
	Tree  string
	Given faulttree.Supplied
}

// Rubric says how a practice attempt is marked. Its text is for instructors.
type Rubric struct {
	Document
	rubric.Rubric
}

// Card explains something.
type Card struct{ Document }

// Caution warns. Title is the danger line, one imperative sentence.
type Caution struct {
	Document
	Signal faulttree.Signal
}

// Fault is an entry of the fault catalogue and its card.
type Fault struct {
	Document
	Hazard   faulttree.Signal // Danger, Warning or Notice
	Places   []faulttree.Place
	Findings map[faulttree.Place]*Advice // what its document says to findings in a place; "" for all others
	Tests    map[faulttree.Place]*Test   // what would exclude it in a place; "" for all others
	NoLoads  bool                        // while it is not unlikely no load is switched on, and nothing live is read inside
	// OneBranch is a fault of one branch: with its loads off it puts a wrong voltage on
	// nothing, so that live readings are taken inside.
	OneBranch bool
	Edits     *rig.Fault // what it does to a rig; nil if it does nothing there
}

// Advice is what a finding says of a fault, each in sentences.
type Advice struct {
	FirstAction string // what to do now
	DoNot       string // what not to do
	RepairBy    string // who may repair it
	Sure        string // how sure it is
}

// At is the advice for a place: its own, else that for all others, else nil.
func (f *Fault) At(place faulttree.Place) *Advice {
	if a := f.Findings[place]; a != nil {
		return a
	}
	return f.Findings[""]
}

// Test is what would exclude a fault.
type Test struct {
	What string // a phrase: "A loop test of the supply"
	By   string // who does it: "an electrician"; "" for the reader
}

// Sentence is the test and who does it.
func (t *Test) Sentence() string {
	if t.By == "" {
		return t.What + "."
	}
	return t.What + ", by " + t.By + "."
}

// TestAt is the test for a place: its own, else that for all others, else nil.
func (f *Fault) TestAt(place faulttree.Place) *Test {
	if t := f.Tests[place]; t != nil {
		return t
	}
	return f.Tests[""]
}

// WorstHazard is that of the faults; one that is not there counts as danger.
func (l *Library) WorstHazard(faults []string) faulttree.Signal {
	worst := faulttree.NoSignal
	for _, id := range faults {
		if f := l.Faults[id]; f != nil {
			worst = max(worst, f.Hazard)
		} else {
			worst = faulttree.Danger
		}
	}
	return worst
}

// Source is where numbers come from. Status is published, quoted, derived,
// memory or common; Locator says where in the work.
type Source struct {
	Document
	Status, Locator string
}

// Opening is one choice of the opening view; it leads to a tree or a card.
type Opening struct {
	Title, Text, Tree, Card string
}

// Concerns reports whether a walk from a tree could come through what stands in
// a file: the tree itself, the trees its exits lead to, what remains possible at
// their findings, the fragments and methods, the lists of facts and quantities, and the folder as a whole.
func (l *Library) Concerns(tree, file string) bool {
	id, isTree := strings.CutPrefix(file, "trees/")
	remaining, isRemaining := strings.CutPrefix(file, "remaining/")
	switch {
	case file == "", file == "trees", file == "facts.yaml", file == "vehicles.yaml", file == "quantities.yaml", strings.HasPrefix(file, "fragments/"), strings.HasPrefix(file, "methods/"):
		return true
	case isTree:
		return slices.Contains(l.Forest.Reached(tree), strings.TrimSuffix(id, ".md"))
	case isRemaining:
		return slices.Contains(l.Forest.Reached(tree), strings.TrimSuffix(remaining, ".yaml"))
	}
	return false
}

// TreeErrors are the content errors of every document that concerns a walk from
// a tree. A walk must not begin while there
// are any, since a branch that could not be read is missing from it. The
// proofs of content/check are not part of it.
func (l *Library) TreeErrors(tree string) source.List {
	var out source.List
	for _, d := range l.Diagnostics {
		if d.Severity == source.Error && l.Concerns(tree, d.Pos.File) {
			out = append(out, d)
		}
	}
	return out
}

// Tried lists the trees, by their ids and names, that some rig says a reader may stand before.
func (l *Library) Tried() []string {
	has := map[string]bool{}
	for _, r := range l.Rigs {
		for _, tree := range r.Trees {
			has[tree] = true
		}
	}
	return lists.Where(l.Forest.Beginnings(), func(id string) bool { return has[id] })
}
