package faulttree

import (
	"iter"
	"maps"
	"slices"
	"strings"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// HandOver is the id of the finding that an owner's walk ends in where the
// work needs a qualified person. No step may use it.
const HandOver = "hand-over"

// Signal grades how bad an outcome is, by the signal words of ANSI Z535.
type Signal uint8

const (
	NoSignal Signal = iota
	Notice
	Caution
	Warning
	Danger
)

var signalNames = [...]string{"none", "notice", "caution", "warning", "danger"}

// String is the name documents use: none, notice, caution, warning, danger.
func (s Signal) String() string { return signalNames[s] }

// Word is the signal word in capitals, or "" for NoSignal.
func (s Signal) Word() string {
	if s == NoSignal {
		return ""
	}
	return strings.ToUpper(s.String())
}

// ParseSignal reads a name as written by [Signal.String].
func ParseSignal(name string) (Signal, bool) {
	i := slices.Index(signalNames[:], name)
	return Signal(max(i, 0)), i >= 0
}

// SignalNames lists what ParseSignal accepts.
func SignalNames() []string { return signalNames[:] }

// Role is who reads, and for a step who may do it.
type Role uint8

const (
	Owner     Role = iota // anyone
	Qualified             // licensed or otherwise qualified to work inside enclosures
)

// String is "owner" or "qualified".
func (r Role) String() string {
	if r == Qualified {
		return "qualified"
	}
	return "owner"
}

// ParseRole reads "owner" or "qualified".
func ParseRole(name string) (Role, bool) {
	switch name {
	case "owner":
		return Owner, true
	case "qualified":
		return Qualified, true
	}
	return 0, false
}

// Ref names a step of a tree. Its text form is "tree#step".
type Ref struct{ Tree, Step string }

func (r Ref) String() string { return r.Tree + "#" + r.Step }

// MarshalText writes "tree#step".
func (r Ref) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads "tree#step".
func (r *Ref) UnmarshalText(text []byte) error {
	r.Tree, r.Step, _ = strings.Cut(string(text), "#")
	return nil
}

// ParseRef resolves the text of a `go`: a step of the tree it stands in, or
// tree#step.
func ParseRef(text, inTree string) Ref {
	if tree, step, ok := strings.Cut(text, "#"); ok {
		return Ref{tree, step}
	}
	return Ref{inTree, text}
}

// Exit is where an outcome leads.
type Exit struct {
	Text   string // the go target as written
	To     Ref
	Signal Signal
	Label  string // two or three words for the ruler; may be ""
	Pos    source.Pos

	SignalPos source.Pos // where the signal is written; invalid where it is that of what the exit leads to
}

// Set reports whether the exit was written at all.
func (e Exit) Set() bool { return e.Text != "" }

// Limit is a named value with the source it comes from.
type Limit struct {
	Name   string
	Value  Amount
	Unit   Unit
	Source string
	Pos    source.Pos
}

// Variable is a quantity under the short name a step's branches use.
type Variable struct {
	Name     string
	Quantity Quantity
	Pos      source.Pos
}

// Measures is the place of a quantity among those that s measures, -1 for one
// that it does not.
func (s *Step) Measures(quantity string) int {
	return slices.IndexFunc(s.Measure, func(v Variable) bool { return v.Quantity.ID == quantity })
}

// Readings yields the readings of an answer to s, each beside its quantity.
func (s *Step) Readings(a Answer) iter.Seq2[Quantity, Reading] {
	return func(yield func(Quantity, Reading) bool) {
		for i := range min(len(s.Measure), len(a.Readings)) {
			if !yield(s.Measure[i].Quantity, a.Readings[i]) {
				return
			}
		}
	}
}

// Term is a whole multiple of a variable.
type Term struct {
	Factor int64
	Var    int // index into Step.Measure
}

// Derived is a named sum of whole multiples of the step's variables.
type Derived struct {
	Name  string
	Terms []Term
	Unit  Unit
	Pos   source.Pos
}

// Bound restricts one variable or derived value in a branch.
type Bound struct {
	Var  int // index into Step.Measure, or len(Measure)+i for Derived i
	Span Span
	Pos  source.Pos
}

// Branch is taken when every bound holds; a variable without a bound may have
// any value.
type Branch struct {
	Bounds []Bound
	Exit
}

// Choice is one answer to an observe step. When says for which readings a
// simulated observer would choose it, and Opened which protective devices he
// would then see standing open.
type Choice struct {
	ID     string
	Text   string
	When   []When
	Sees   bool     // the choice is made by looking at devices
	Opened []string // one of these stands open; if empty, none that a choice of the step names
	Feels  bool     // the choice is made by what is hot
	Hot    []string // as Opened: one of these is hot
	Plug   string   // of a fact: the configuration of the plug that it means, by its NEMA WD 6 name
	Aboard string   // of a fact: what a vehicle of which it holds has aboard, by its id in the logbook
	Exit
}

// ChoiceIDs are the ids of choices.
func ChoiceIDs(choices []Choice) []string {
	return lists.Each(choices, func(c Choice) string { return c.ID })
}

// When is a condition on a quantity the walk itself does not ask for.
type When struct {
	Quantity Quantity
	Span     Span
}

// Act asks the reader to do something before going on.
type Act struct {
	Set []Condition // rig states it brings about
	Exit
}

// Finding is where a walk ends.
type Finding struct {
	Faults        []string // fault ids; empty for "no fault shown"
	AtOnce        bool     // the faults hold together; else they are those that fit
	Place         Place    // for which the faults' documents say what to do; "" if the finding says all itself
	Clears        []Place  // places in which these readings show no fault
	Signal        Signal
	SignalPos     source.Pos // where it is written; invalid where it is the worst hazard of the faults
	Sure          string     // how sure, in one sentence
	FirstAction   string     // what to do now
	DoNot         string     // what not to do
	RepairBy      string     // who may repair it
	CannotExclude []NotExcluded
}

// Kind is what a step asks for.
type Kind uint8

const (
	KindMeasure Kind = iota + 1
	KindObserve
	KindAct
	KindFinding
	KindFact  // asks a fact; no document has such a step
	KindChart // asks readings one at a time, until a row of its table is known
)

func (k Kind) String() string {
	return [...]string{"", "measure", "observe", "act", "finding", "fact", "chart"}[k]
}

// Step is one `## Heading {#id}` of a tree document. The prose belongs to the
// content package; the engine knows only what decides.
type Step struct {
	Tree     string
	ID       string
	Title    string
	Kind     Kind
	For      Role // Qualified: an owner's walk is handed over here
	Cautions []string
	Cards    []string
	Sources  []string // sources of the numbers in this step that are not named limits

	Measure       []Variable // what a measure or chart step asks for
	Derive        []Derived
	Branches      []Branch
	OverRange     Exit
	NotPossible   Exit
	NotApplicable Exit // where the facts leave nothing to measure; may be unset

	Chart   *Chart
	Choices []Choice
	Act     Act
	Finding Finding

	Recheck int  // how often the step may be entered; 0 means once, without a bound on loops through it
	Then    Exit // where entry number Recheck+1 goes instead

	Uses []source.Pos // where its fragment is used, the outermost use first; nil for a step of the tree itself
	Pos  source.Pos

	Unread bool // a quantity or a limit it rests on could not be read, so that proofs of it would mislead

	judge func([]Reading, Meter, DangerLimit) (Outcome, error) // of a step that takes columns of a chart
}

// Ref is the step's full name.
func (s *Step) Ref() Ref { return Ref{s.Tree, s.ID} }

// Reads reports whether s takes readings: all at once, or those of a chart one
// at a time.
func (s *Step) Reads() bool { return s.Kind == KindMeasure || s.Kind == KindChart }

// Stop reports whether s is a STOP: an act of signal word DANGER.
func (s *Step) Stop() bool { return s.Kind == KindAct && s.Act.Signal == Danger }

// answered lists the exits of s by readings or choices.
func (s *Step) answered() []Exit {
	out := lists.Each(s.Branches, func(b Branch) Exit { return b.Exit })
	if s.Chart != nil {
		for _, r := range s.Chart.Rows {
			out = append(out, r.Exit)
		}
	}
	for _, c := range s.Choices {
		out = append(out, c.Exit)
	}
	return out
}

// Exits lists every exit of s in document order: branches, rows, over-range, not
// possible, not applicable, choices, the act's own, then.
func (s *Step) Exits() []Exit {
	out := s.answered()
	for _, e := range []Exit{s.OverRange, s.NotPossible, s.NotApplicable, s.Act.Exit, s.Then} {
		if e.Set() {
			out = append(out, e)
		}
	}
	return out
}

// Tree is one document: steps that lead from a symptom to findings.
type Tree struct {
	ID       string
	Title    string
	Summary  string
	Start    string // id of the first step
	Symptoms []string
	Scope    []Place
	Limits   map[string]Limit
	Danger   map[string]string // quantity id -> limit name
	Gravest  []string          // the ids of Danger as declared, what counts first where several hurt first
	AtOnce   map[string]string // of the ids of Danger that no step measures, the id of the step that says what to do at once
	NoPlug   map[string]string // quantity id, of a supply -> limit name: from there on nothing is plugged in, whatever else is read
	Unfit    map[string][]Span // quantity id, of a supply -> figures so low, or without an upper end so high, that nothing is plugged in while it reads so
	Sheet    []string          // quantity ids gathered first; nil without a sheet
	Facts    map[string]string // fact id -> the choice that holds for whoever begins here
	// Complaint is what brings a reader here, as choices of which the conditions
	// alone count: see [Tree.Concerns]. Nil: every vehicle.
	Complaint []Choice
	Steps     []*Step           // in document order
	Was       map[string]string // earlier id of a step -> its id, for links and visits that name it
	Pos       source.Pos

	index  map[string]*Step
	nameOf string // the id of the tree, where ID is a name of it
}

// Index prepares the lookup by id; call it once the steps are complete.
func (t *Tree) Index() {
	t.index = make(map[string]*Step, len(t.Steps)+len(t.Was))
	for _, s := range t.Steps {
		t.index[s.ID] = s
	}
	earlier := make(map[string]*Step, len(t.Was))
	for was := range t.Was {
		id := was
		for range t.Was { // an earlier id may lead to one that is earlier as well
			id = t.Was[id]
			if s := t.Step(id); s != nil {
				earlier[was] = s
				break
			}
		}
	}
	for was, s := range earlier {
		if t.index[was] == nil {
			t.index[was] = s
		}
	}
}

// Step is the step with this id, or that had it earlier; nil if there is none.
// The step that asks one column of a chart is named after both: chart/column.
func (t *Tree) Step(id string) *Step {
	if s := t.index[id]; s != nil {
		return s
	}
	if chart, column, ok := (Ref{t.ID, id}).Chart(); ok {
		return t.index[chart.Step].columnNamed(column, nil)
	}
	return nil
}

// Forest is every tree of a handbook with the quantities they use.
type Forest struct {
	Quantities Quantities
	Facts      []Fact // in the order of the list
	Trees      map[string]*Tree
	Names      map[string]*Tree // by each further name, the tree as [Forest.Tree] gives it
	Weights    Weights          // what a reading costs by its exposure
	Touch      Touch            // what a hand may touch, and from where on it can hurt

	Observations  []Observation // in the order of the list, as Interventions
	Interventions []Intervention
}

// IDs lists the tree ids in order.
func (f *Forest) IDs() []string { return slices.Sorted(maps.Keys(f.Trees)) }

// Step is the step r names, or nil.
func (f *Forest) Step(r Ref) *Step {
	if id, ok := r.Fact(); ok {
		if fact := f.Fact(id); fact != nil {
			return fact.step()
		}
		return nil
	}
	if t := f.Tree(r.Tree); t != nil {
		return t.Step(r.Step)
	}
	return nil
}

// Canonical is r by the ids that its tree and step have now; r itself where there is no
// such step.
func (f *Forest) Canonical(r Ref) Ref {
	if s := f.Step(r); s != nil {
		return s.Ref()
	}
	return r
}

// Reached lists the ids of the trees that a walk from a tree could come
// through, that tree first. An exit may name a tree that is not there; it is
// listed too.
func (f *Forest) Reached(tree string) []string {
	out := []string{tree}
	if t := f.Tree(tree); t != nil {
		out[0] = t.Own()
	}
	for i := 0; i < len(out); i++ {
		t := f.Trees[out[i]]
		if t == nil {
			continue
		}
		for _, s := range t.Steps {
			for _, e := range s.Exits() {
				out = lists.With(out, e.To.Tree)
			}
		}
	}
	return out
}
