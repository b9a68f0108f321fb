package visit

import (
	"faultwright/faulttree"
)

// The forest of these tests: a felt tingle in small. An act, a body reading
// with a recheck, a question, a STOP that asks one dead reading, findings.
const (
	body  = "body-earth"
	cord  = "ohm:plug.g-body@unplugged"
	panel = "panel.l1-n"
)

func quantities() faulttree.Quantities {
	return faulttree.Quantities{
		body:  {ID: body, Unit: faulttree.VoltsAC, Red: "body", Black: "earth", Range: 600 * faulttree.One, Most: 1000 * faulttree.One},
		cord:  {ID: cord, Unit: faulttree.Ohms, Red: "plug.g", Black: "body", Conditions: []faulttree.Condition{faulttree.Unplugged}, Range: 600 * faulttree.One, Most: 50_000_000 * faulttree.One},
		panel: {ID: panel, Unit: faulttree.VoltsAC, Red: "panel.l1", Black: "panel.n", Range: 600 * faulttree.One, Most: 1000 * faulttree.One},
	}
}

func exit(to string, s faulttree.Signal) faulttree.Exit {
	return faulttree.Exit{Text: to, To: faulttree.ParseRef(to, "tingle"), Signal: s}
}

func below(a faulttree.Amount) faulttree.Span { return faulttree.Span{From: 0, Below: a} }
func from(a faulttree.Amount) faulttree.Span {
	return faulttree.Span{From: a, Below: faulttree.Highest}
}

func branch(s faulttree.Span, e faulttree.Exit) faulttree.Branch {
	return faulttree.Branch{Bounds: []faulttree.Bound{{Var: 0, Span: s}}, Exit: e}
}

func tingle() *faulttree.Forest {
	qs := quantities()
	one := faulttree.One
	measure := func(id string) []faulttree.Variable {
		return []faulttree.Variable{{Name: "v", Quantity: qs[id]}}
	}
	t := &faulttree.Tree{
		ID: "tingle", Start: "first",
		Limits: map[string]faulttree.Limit{"touch": {Name: "touch", Value: 30 * one, Unit: faulttree.VoltsAC}},
		Danger: map[string]string{body: "touch"},
		Steps: []*faulttree.Step{
			{ID: "first", Kind: faulttree.KindAct, Act: faulttree.Act{Exit: exit("felt", faulttree.Notice)}},
			{ID: "felt", Kind: faulttree.KindObserve, Choices: []faulttree.Choice{
				{ID: "yes", Text: "Yes", Exit: exit("body", faulttree.Warning)},
				{ID: "no", Text: "No", Exit: exit("leg", faulttree.NoSignal)},
			}},
			{ID: "leg", Kind: faulttree.KindMeasure, Measure: measure(panel), Branches: []faulttree.Branch{
				branch(below(100*one), exit("body", faulttree.Warning)),
				branch(from(100*one), exit("body", faulttree.NoSignal)),
			}, OverRange: exit("body", faulttree.Warning), NotPossible: exit("body", faulttree.Warning)},
			{ID: "body", Kind: faulttree.KindMeasure, Measure: measure(body), Recheck: 3, Then: exit("unsteady", faulttree.Warning),
				Branches: []faulttree.Branch{
					branch(below(5*one), exit("low", faulttree.NoSignal)),
					branch(faulttree.Span{From: 5 * one, Below: 30 * one}, exit("body", faulttree.Warning)),
					branch(from(30*one), exit("stop", faulttree.Danger)),
				}, OverRange: exit("stop", faulttree.Danger), NotPossible: exit("unsteady", faulttree.Warning)},
			{ID: "stop", Kind: faulttree.KindAct, Act: faulttree.Act{Exit: exit("ground", faulttree.Danger)}},
			{ID: "ground", Kind: faulttree.KindMeasure, Measure: measure(cord), Branches: []faulttree.Branch{
				branch(faulttree.Span{From: 0, Below: one/2 + 1}, exit("elsewhere", faulttree.Danger)),
				branch(faulttree.Span{From: one/2 + 1, Below: faulttree.Highest}, exit("open", faulttree.Danger)),
			}, OverRange: exit("open", faulttree.Danger), NotPossible: exit("elsewhere", faulttree.Danger)},
			{ID: "low", Kind: faulttree.KindFinding},
			{ID: "unsteady", Kind: faulttree.KindFinding, Finding: faulttree.Finding{Signal: faulttree.Warning}},
			{ID: "elsewhere", Kind: faulttree.KindFinding, Finding: faulttree.Finding{Signal: faulttree.Danger}},
			{ID: "open", Kind: faulttree.KindFinding, Finding: faulttree.Finding{Signal: faulttree.Danger, Faults: []string{"open-ground"}}},
		},
	}
	return forest(t, qs)
}

// forest names the tree on its steps and indexes it.
func forest(t *faulttree.Tree, qs faulttree.Quantities) *faulttree.Forest {
	for _, s := range t.Steps {
		s.Tree = t.ID
	}
	t.Index()
	return &faulttree.Forest{Quantities: qs, Trees: map[string]*faulttree.Tree{t.ID: t}}
}

// lines is a Log in memory.
type lines struct{ text []byte }

func (l *lines) Append(line []byte) error { l.text = append(l.text, line...); return nil }
