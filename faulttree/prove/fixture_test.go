package prove

import (
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

const (
	volt = faulttree.One
	ohm  = faulttree.One
)

// quantity builds a quantity as the quantity list would.
func quantity(id string, unit faulttree.Unit, red, black string, conditions ...faulttree.Condition) faulttree.Quantity {
	return faulttree.Quantity{ID: id, Title: id, Unit: unit, Red: red, Black: black, Conditions: conditions, Range: 600 * volt, Most: 1000 * volt}
}

func proving(t faulttree.Proof, q faulttree.Quantity) faulttree.Quantity { q.Proves = t; return q }

func sizeOnly(q faulttree.Quantity) faulttree.Quantity { q.SizeOnly = true; return q }

var (
	bodyEarth     = quantity("body-earth", faulttree.VoltsAC, "body", "earth")
	bodyLoaded    = quantity("body-earth@loaded", faulttree.VoltsAC, "body", "earth", faulttree.Loaded)
	pedestalEarth = proving(faulttree.ProvesSpike, quantity("pedestal.l1-earth", faulttree.VoltsAC, "pedestal.l1", "earth"))
	pedestalL1N   = quantity("pedestal.l1-n", faulttree.VoltsAC, "pedestal.l1", "pedestal.n")
	pedestalL2N   = quantity("pedestal.l2-n", faulttree.VoltsAC, "pedestal.l2", "pedestal.n")
	knownSource   = proving(faulttree.ProvesVoltsAC, quantity("meter.known-source", faulttree.VoltsAC, "meter.known-source", ""))
	battery       = quantity("battery.pos-neg", faulttree.VoltsDC, "battery.pos", "battery.neg")
	drop          = sizeOnly(quantity("battery.pos-dc.pos@loaded", faulttree.VoltsDC, "battery.pos", "dc.pos", faulttree.Loaded))
	plugGround    = quantity("ohm:plug.g-body@unplugged", faulttree.Ohms, "plug.g", "body", faulttree.Unplugged)
)

// to is an exit within the tree "body".
func to(step string, signal faulttree.Signal) faulttree.Exit {
	return faulttree.Exit{Text: step, To: faulttree.ParseRef(step, "body"), Signal: signal}
}

// span is [from, below); below 0 means no upper bound.
func span(from, below faulttree.Amount) faulttree.Span {
	if below == 0 {
		below = faulttree.Highest
	}
	return faulttree.Span{From: from, Below: below}
}

// branch bounds the step's only variable.
func branch(s faulttree.Span, e faulttree.Exit) faulttree.Branch {
	return faulttree.Branch{Bounds: []faulttree.Bound{{Var: 0, Span: s}}, Exit: e}
}

// measure reads one quantity under the name v.
func measure(id string, q faulttree.Quantity, over, impossible faulttree.Exit, branches ...faulttree.Branch) *faulttree.Step {
	return &faulttree.Step{
		Tree: "body", ID: id, Title: id, Kind: faulttree.KindMeasure,
		Measure: []faulttree.Variable{{Name: "v", Quantity: q}}, Branches: branches, OverRange: over, NotPossible: impossible,
	}
}

func act(id string, e faulttree.Exit) *faulttree.Step {
	return &faulttree.Step{Tree: "body", ID: id, Title: id, Kind: faulttree.KindAct, Act: faulttree.Act{Exit: e}}
}

func observe(id string, exits ...faulttree.Exit) *faulttree.Step {
	s := &faulttree.Step{Tree: "body", ID: id, Title: id, Kind: faulttree.KindObserve}
	for i, e := range exits {
		s.Choices = append(s.Choices, faulttree.Choice{ID: fmt.Sprint("answer-", i+1), Exit: e})
	}
	return s
}

func finding(id string, f faulttree.Finding, cautions ...string) *faulttree.Step {
	f.Sure, f.RepairBy, f.DoNot, f.FirstAction = "Likely.", "A licensed electrician.", "Do not plug in.", "Leave the plug out."
	return &faulttree.Step{Tree: "body", ID: id, Title: id, Kind: faulttree.KindFinding, Finding: f, Cautions: cautions}
}

// sound is a small tree that breaks no rule. Each fixture spoils one thing of
// it, or comes as near to it as is allowed.
func sound() *faulttree.Tree {
	const none, notice, warning, danger = faulttree.NoSignal, faulttree.Notice, faulttree.Warning, faulttree.Danger
	limit := func(v faulttree.Amount) faulttree.Limit {
		return faulttree.Limit{Value: v, Unit: faulttree.VoltsAC, Source: "iec-60479-1"}
	}
	meter := measure("meter", knownSource, to("unproved", warning), to("unproved", warning),
		branch(span(0, 110*volt), to("change-battery", warning)), branch(span(110*volt, 0), to("clear", none)))
	meter.Recheck, meter.Then = 2, to("unproved", warning)
	return &faulttree.Tree{
		ID: "body", Title: "A tingle", Start: "felt",
		Limits: map[string]faulttree.Limit{"low": limit(5 * volt), "touch": limit(30 * volt), "live": limit(110 * volt), "joined": limit(3 * ohm / 10)},
		Danger: map[string]string{"body-earth": "touch"},
		Steps: []*faulttree.Step{
			observe("felt", to("ready", none), to("spike", none)),
			act("ready", to("spike", notice)),
			measure("spike", pedestalEarth, to("unproved", warning), to("unproved", warning),
				branch(span(0, 110*volt), to("unproved", warning)), branch(span(110*volt, 0), to("body", none))),
			measure("body", bodyEarth, to("stop", danger), to("unproved", warning),
				branch(span(0, 5*volt), to("meter", none)), branch(span(5*volt, 30*volt), to("shift", warning)), branch(span(30*volt, 0), to("stop", danger))),
			act("stop", to("dead", danger)),
			measure("dead", plugGround, to("live-body", danger), to("live-body", danger),
				branch(span(0, 3*ohm/10+1), to("live-body", danger)), branch(span(3*ohm/10+1, 0), to("live-body", danger))),
			meter,
			act("change-battery", to("meter", notice)),
			finding("live-body", faulttree.Finding{Signal: danger, Faults: []string{"leakage-to-body"}}, "live-work"),
			finding("shift", faulttree.Finding{Signal: warning, Faults: []string{"neutral-earth-shift"}}),
			finding("unproved", faulttree.Finding{Signal: warning}),
			finding("clear", faulttree.Finding{Signal: notice, Clears: []faulttree.Place{faulttree.Vehicle},
				CannotExclude: []faulttree.NotExcluded{{Fault: "open-ground", Test: "Continuity, dead and unplugged."}}}),
		},
	}
}

// at is the step of t with this id.
func at(t *faulttree.Tree, id string) *faulttree.Step {
	for _, s := range t.Steps {
		if s != nil && s.ID == id {
			return s
		}
	}
	panic("fixture has no step " + id)
}

// add appends steps to t.
func add(t *faulttree.Tree, steps ...*faulttree.Step) { t.Steps = append(t.Steps, steps...) }

// afterStop reads q after the STOP of t.
func afterStop(t *faulttree.Tree, q faulttree.Quantity) {
	end := to("live-body", faulttree.Danger)
	at(t, "stop").Act.Exit = to("more", faulttree.Danger)
	add(t, measure("more", q, end, end, branch(span(0, 0), to("dead", faulttree.Danger))))
}

// ask gives the first step of t one more choice.
func ask(t *faulttree.Tree, e faulttree.Exit) {
	first := at(t, "felt")
	first.Choices = append(first.Choices, faulttree.Choice{ID: "more", Exit: e})
}

// numbered gives every step and exit of t a place of its own, line = hundred
// times the step's number.
func numbered(t *faulttree.Tree) *faulttree.Tree {
	for i, s := range t.Steps {
		line := 100 * (i + 1)
		s.Pos = source.Pos{File: "trees/body.md", Line: line, Column: 1}
		for k := range s.Branches {
			s.Branches[k].Pos = source.Pos{File: "trees/body.md", Line: line + k + 1, Column: 5}
		}
	}
	return t
}

func forest(trees ...*faulttree.Tree) *faulttree.Forest {
	f := &faulttree.Forest{Trees: map[string]*faulttree.Tree{}, Touch: faulttree.Touch{Point: "body"},
		Quantities: faulttree.Quantities{pedestalEarth.ID: pedestalEarth}, Facts: []faulttree.Fact{
			{ID: "service", Choices: []faulttree.Choice{{ID: "30a"}, {ID: "50a"}}},
		}}
	for _, t := range trees {
		t.Index()
		f.Trees[t.ID] = t
	}
	return f
}

// known is what the fixtures know of cautions and faults.
func known() Known {
	signals := map[string]faulttree.Signal{"live-work": faulttree.Danger, "prove-the-meter": faulttree.Notice}
	hazards := map[string]faulttree.Signal{"leakage-to-body": faulttree.Danger, "open-ground": faulttree.Danger, "neutral-earth-shift": faulttree.Notice, "undersized-cord": faulttree.Warning}
	return Known{
		Signal: func(id string) (faulttree.Signal, bool) { s, ok := signals[id]; return s, ok },
		Hazard: func(id string) (faulttree.Signal, bool) { s, ok := hazards[id]; return s, ok },
	}
}
