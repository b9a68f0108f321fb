package load

import (
	"context"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// steps reads a tree that has nothing wrong in it, beside the base handbook.
func steps(t *testing.T, body string) *faulttree.Tree {
	t.Helper()
	files := archive(t, "testdata/base.txtar")
	files["trees/other.md"] = "---\ntree: other\ntitle: Another\nsummary: Another tree.\nstart: a\nscope: [dc]\n" +
		"limits: {full: {value: 12.6 V, source: a-table}, touch: {value: 30 V, source: a-table}}\n---\n" + body
	l := FS(context.Background(), folder(files))
	for _, d := range l.Diagnostics {
		t.Error(d)
	}
	return l.Forest.Trees["other"]
}

var ignorePlaces = cmp.Options{cmpopts.IgnoreTypes(source.Pos{}), cmpopts.EquateEmpty()}

// A measure step becomes exactly the value the engine judges by: bounds are
// whole billionths, half open below and from, closed by one more for to.
func TestMeasureStepIsDecodedExactly(t *testing.T) {
	tree := steps(t, "## Measure {#a}\n\n```yaml step\n"+`measure: {v: battery.pos-neg@rest, w: body-earth}
for: qualified
sources: [a-table]
cautions: [one-hand]
cards: [why-live]
derive: {}
branches:
  - {v: {from: -0.5 V, below: full}, go: found, signal: none, label: low}
  - {v: {above: 1500 mV, to: 0.015 kV}, w: {from: touch}, go: tingle#felt, signal: warning}
  - {v: not-possible, go: found, signal: notice}
over-range: {go: found, signal: danger}
recheck: 2
then: {go: found, signal: caution, label: enough}
`+"```\n\n## Found {#found}\n\n```yaml step\nfinding: {signal: none}\n```\n")
	const one = faulttree.One
	s := tree.Step("a")
	want := []faulttree.Branch{
		{
			Bounds: []faulttree.Bound{{Var: 0, Span: faulttree.Span{From: -one / 2, Below: 126 * one / 10}}},
			Exit:   faulttree.Exit{Text: "found", To: faulttree.Ref{Tree: "other", Step: "found"}, Label: "low"},
		}, {
			Bounds: []faulttree.Bound{
				{Var: 0, Span: faulttree.Span{From: 3*one/2 + 1, Below: 15*one + 1}},
				{Var: 1, Span: faulttree.Span{From: 30 * one, Below: faulttree.Highest}},
			},
			Exit: faulttree.Exit{Text: "tingle#felt", To: faulttree.Ref{Tree: "tingle", Step: "felt"}, Signal: faulttree.Warning},
		},
	}
	if diff := cmp.Diff(want, s.Branches, ignorePlaces); diff != "" {
		t.Errorf("branches: want (-) and got (+) differ:\n%s", diff)
	}
	if s.NotPossible.Signal != faulttree.Notice || s.OverRange.Signal != faulttree.Danger {
		t.Errorf("over-range and not-possible: %+v, %+v", s.OverRange, s.NotPossible)
	}
	if s.For != faulttree.Qualified || s.Recheck != 2 || s.Then.Label != "enough" || s.Then.Signal != faulttree.Caution {
		t.Errorf("for %v, recheck %d, then %+v", s.For, s.Recheck, s.Then)
	}
	if got := tree.Limits["full"].Unit; got != faulttree.VoltsDC {
		t.Errorf("the limit full is in %v; its first use is direct", got)
	}
	if got := tree.Limits["touch"].Unit; got != faulttree.VoltsAC {
		t.Errorf("the limit touch is in %v; its first use is alternating", got)
	}
}

// Derived values keep the sign and the factor of each name.
func TestDerivedValuesAreDecoded(t *testing.T) {
	tree := steps(t, "## Measure {#a}\n\n```yaml step\n"+`measure: {l-n: pedestal.l1-n, n-g: pedestal.n-g}
derive: {sum: l-n + n-g, diff: -l-n + 2 n-g, twice: 3*l-n - n-g}
branches: [{sum: {from: 0}, go: a, signal: none}]
over-range: {go: a, signal: none}
not-possible: {go: a, signal: none}
`+"```\n")
	want := []faulttree.Derived{
		{Name: "sum", Unit: faulttree.VoltsAC, Terms: []faulttree.Term{{Factor: 1, Var: 0}, {Factor: 1, Var: 1}}},
		{Name: "diff", Unit: faulttree.VoltsAC, Terms: []faulttree.Term{{Factor: -1, Var: 0}, {Factor: 2, Var: 1}}},
		{Name: "twice", Unit: faulttree.VoltsAC, Terms: []faulttree.Term{{Factor: 3, Var: 0}, {Factor: -1, Var: 1}}},
	}
	if diff := cmp.Diff(want, tree.Step("a").Derive, ignorePlaces); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
	if got := tree.Step("a").Branches[0].Bounds[0].Var; got != 2 {
		t.Errorf("the branch speaks of variable %d; the first derived value is 2", got)
	}
}

// Observe, act and finding steps carry everything their blocks say.
func TestOtherStepsAreDecoded(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	tree := l.Forest.Trees["tingle"]
	felt := tree.Step("felt")
	if felt.Kind != faulttree.KindObserve || len(felt.Choices) != 2 || felt.Choices[0].ID != "yes" ||
		len(felt.Choices[0].When) != 1 || felt.Choices[0].When[0].Span.From != 30*faulttree.One {
		t.Errorf("the observe step is %+v", felt)
	}
	live := tree.Step("live").Finding
	want := faulttree.Finding{
		Faults: []string{"lost-ground"}, Signal: faulttree.Danger, Sure: "Very.", FirstAction: "Stand off.",
		DoNot: "Do not touch it.", RepairBy: "a qualified electrician",
		CannotExclude: []faulttree.NotExcluded{{Fault: "lost-ground", Test: "Continuity of the cord, unplugged."}},
	}
	if diff := cmp.Diff(want, live, ignorePlaces); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
	if limit, ok := tree.DangerLimit("body-earth"); !ok || limit != 30*faulttree.One {
		t.Errorf("the danger limit is %v, %v", limit, ok)
	}
	if got := document.Plain(l.Prose[faulttree.Ref{Tree: "tingle", Step: "body"}]); got != "Anything from 30 V up can hurt." {
		t.Errorf("the step tells %q", got)
	}
	act := steps(t, "## Act {#a}\n\n```yaml step\nact: {set: [main-off, unplugged], signal: danger}\ngo: a\nlabel: done\n```\n").Step("a")
	if !act.Stop() || len(act.Act.Set) != 2 || act.Act.To.Step != "a" || act.Act.Label != "done" {
		t.Errorf("the act step is %+v", act)
	}
}

// A complaint is decoded as the conditions of choices are, a limit of the tree by
// its name.
func TestAComplaintIsDecoded(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	files["trees/other.md"] = "---\ntree: other\ntitle: Another\nsummary: Another tree.\nstart: found\nscope: [vehicle]\n" +
		"limits: {touch: {value: 30 V, source: a-table}}\n" +
		"complaint: {sources: [a-table], any: [{when: {body-earth: {from: touch}, battery.pos-neg@rest: {below: 12 V}}}, {opened: [pedestal-breaker], hot: [feeder]}]}\n---\n" +
		"## Found {#found}\n\n```yaml step\nfinding: {signal: none}\n```\n"
	l := FS(context.Background(), folder(files))
	for _, d := range l.Diagnostics {
		t.Error(d)
	}
	want := []faulttree.Choice{
		{When: []faulttree.When{
			{Quantity: l.Forest.Quantities["body-earth"], Span: faulttree.Span{From: 30 * faulttree.One, Below: faulttree.Highest}},
			{Quantity: l.Forest.Quantities["battery.pos-neg@rest"], Span: faulttree.Span{From: faulttree.Lowest, Below: 12 * faulttree.One}},
		}},
		{Sees: true, Opened: []string{"pedestal-breaker"}, Feels: true, Hot: []string{"feeder"}},
	}
	if diff := cmp.Diff(want, l.Forest.Trees["other"].Complaint, ignorePlaces); diff != "" {
		t.Error(diff)
	}
}

// A choice made by looking at devices names parts or whole runs; that it names
// none differs from saying nothing.
func TestOpenedDevicesAreDecoded(t *testing.T) {
	tree := steps(t, "## Look {#a}\n\n```yaml step\n"+`observe:
  - {choice: one, text: One, opened: [pedestal-breaker, feeder], go: a, signal: none, when: {body-earth: {from: touch}}}
  - {choice: none, text: None, opened: [], go: a, signal: none}
  - {choice: no-idea, text: No idea, go: a, signal: none}
`+"```\n")
	c := tree.Step("a").Choices
	if !c[0].Sees || !slices.Equal(c[0].Opened, []string{"pedestal-breaker", "feeder"}) || len(c[0].When) != 1 {
		t.Errorf("the first choice is %+v", c[0])
	}
	if !c[1].Sees || len(c[1].Opened) > 0 || c[2].Sees {
		t.Errorf("the others are %+v and %+v", c[1], c[2])
	}
}

// Amounts are read exactly or not at all.
func TestAmountsAreExact(t *testing.T) {
	const one = faulttree.One
	for text, want := range map[string]measured{
		"30 V":       {30 * one, "V", ""},
		"0.3 Ω":      {3 * one / 10, "Ω", ""},
		"0.3\u2126":  {3 * one / 10, "Ω", ""},
		"1 MΩ":       {1_000_000 * one, "Ω", ""},
		"5.2kΩ":      {5200 * one, "Ω", ""},
		"5 mA":       {5 * one / 1000, "A", ""},
		"-0.5 V DC":  {-one / 2, "V", "DC"},
		"120 V AC":   {120 * one, "V", "AC"},
		"0.000001 V": {one / 1_000_000, "V", ""},
		"0":          {},
		// As a reading is typed: no keyboard has an Ω.
		"4 ohm": {4 * one, "Ω", ""}, "4 ohms": {4 * one, "Ω", ""}, "2 kohm": {2000 * one, "Ω", ""}, "1.5 megohms": {1_500_000 * one, "Ω", ""},
		"30 v": {30 * one, "V", ""}, "30 volts": {30 * one, "V", ""}, "12 VDC": {12 * one, "V", "DC"}, "3,5 V": {7 * one / 2, "V", ""},
		"+5 V": {5 * one, "V", ""}, ".5 V": {one / 2, "V", ""}, "5\u200aV": {5 * one, "V", ""}, " 5  amps": {5 * one, "A", ""},
	} {
		got, err := parseMeasured(text)
		if err != nil || got != want {
			t.Errorf("%q is read as %+v, %v; expected %+v", text, got, err, want)
		}
	}
	for _, text := range []string{
		"30", "", "V", "30 W", "30", "5 k", "3,512 V", "1e3 V", "5 V V", "5. V", "4000000001 V",
		"4000000000 MΩ", "0.0000001 mV", "0.0000000001 V", "5 Ω AC", "nan V",
	} {
		if got, err := parseMeasured(text); err == nil {
			t.Errorf("%q is read as %+v; expected an error", text, got)
		}
	}
}
