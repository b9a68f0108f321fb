package prove

import (
	"context"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// fixture changes the sound tree. With says what the diagnostic must contain;
// empty means that the change must bring no diagnostic of the rule.
type fixture struct {
	rule, name string
	change     func(t *faulttree.Tree)
	with       string
}

const (
	none    = faulttree.NoSignal
	notice  = faulttree.Notice
	warning = faulttree.Warning
	danger  = faulttree.Danger
)

// atOnce declares the danger limit touch of a quantity, and the step that says what
// to do at once.
func atOnce(t *faulttree.Tree, quantity, step string) {
	t.Danger[quantity] = "touch"
	t.AtOnce = map[string]string{quantity: step}
}

var fixtures = []fixture{
	{ruleGap, "a reading between two branches", func(t *faulttree.Tree) {
		at(t, "body").Branches[1].Bounds[0].Span.From = 6 * volt
	}, "no branch takes 5 V on body-earth"},
	{ruleGap, "a limit that belongs to neither side", func(t *faulttree.Tree) {
		at(t, "body").Branches[2].Bounds[0].Span.From = 30*volt + 1
	}, "no branch takes 30 V on body-earth"},
	{ruleGap, "no branches at all", func(t *faulttree.Tree) { at(t, "spike").Branches = nil }, "no branch takes 0 V on pedestal.l1-earth"},
	{ruleGap, "a negative reading of direct volts", func(t *faulttree.Tree) {
		ask(t, to("pack", none))
		add(t, measure("pack", battery, to("unproved", warning), to("unproved", warning), branch(span(0, 0), to("unproved", warning))))
	}, "no branch takes -1 V on battery.pos-neg"},
	{ruleGap, "both signs of direct volts", func(t *faulttree.Tree) {
		ask(t, to("pack", none))
		add(t, measure("pack", battery, to("unproved", warning), to("unproved", warning),
			branch(faulttree.Span{From: faulttree.Lowest, Below: 0}, to("unproved", warning)), branch(span(0, 0), to("unproved", warning))))
	}, ""},

	{ruleGap, "direct volts of which only the size counts", func(t *faulttree.Tree) {
		ask(t, to("pack", none))
		add(t, measure("pack", drop, to("unproved", warning), to("unproved", warning), branch(span(0, 0), to("unproved", warning))))
	}, ""},
	{ruleEmptyBranch, "a branch below zero where only the size counts", func(t *faulttree.Tree) {
		ask(t, to("pack", none))
		add(t, measure("pack", drop, to("unproved", warning), to("unproved", warning),
			branch(faulttree.Span{From: faulttree.Lowest, Below: 0}, to("unproved", warning)), branch(span(0, 0), to("unproved", warning))))
	}, "branch 1 (to unproved) takes no reading"},

	{ruleOverlap, "two branches take one reading", func(t *faulttree.Tree) {
		at(t, "body").Branches[1].Bounds[0].Span.Below = 30*volt + 1
	}, "branch 2 (to shift) and branch 3 (to stop) both take 30 V on body-earth"},
	{ruleOverlap, "an inclusive end beside an exclusive one", func(t *faulttree.Tree) {
		at(t, "body").Branches[1].Bounds[0].Span.Below = 30*volt + 1
		at(t, "body").Branches[2].Bounds[0].Span.From = 30*volt + 1
	}, ""},
	{ruleOverlap, "two quantities", func(t *faulttree.Tree) { twoLegs(t, 99*volt) }, "branch 1 (to unproved) and branch 2 (to shift) both take a = 99 V, b = 0 V"},
	{ruleOverlap, "two quantities side by side", func(t *faulttree.Tree) { twoLegs(t, 100*volt) }, ""},
	{ruleGap, "two quantities apart", func(t *faulttree.Tree) { twoLegs(t, 101*volt) }, "no branch takes a = 100 V, b = 0 V"},
	{ruleGap, "a derived sum apart", func(t *faulttree.Tree) { sums(t, 241*volt) }, "no branch takes a = 0 V, b = 240 V, sum = 240 V"},
	{ruleGap, "a derived sum", func(t *faulttree.Tree) { sums(t, 240*volt) }, ""},
	{ruleOverlap, "a derived sum taken twice", func(t *faulttree.Tree) { sums(t, 239*volt) }, "both take a = 0 V, b = 239 V, sum = 239 V"},

	{ruleTooComplex, "four quantities with derived values", func(t *faulttree.Tree) {
		sums(t, 240*volt)
		s := at(t, "legs")
		s.Measure = append(s.Measure, s.Measure[0], s.Measure[1])
	}, "step legs has 4 quantities"},
	{ruleTooComplex, "65 branches with derived values", func(t *faulttree.Tree) {
		sums(t, 240*volt)
		at(t, "legs").Branches = make([]faulttree.Branch, 65)
	}, "65 branches"},
	{ruleTooComplex, "two quantities with derived values", func(t *faulttree.Tree) { sums(t, 240*volt) }, ""},

	{ruleEmptyBranch, "a branch of negative volts", func(t *faulttree.Tree) {
		s := at(t, "body")
		s.Branches = append(s.Branches, branch(faulttree.Span{From: -5 * volt, Below: 0}, to("shift", warning)))
	}, "branch 4 (to shift) takes no reading"},
	{ruleEmptyBranch, "a branch of one reading", func(t *faulttree.Tree) {
		s := at(t, "body")
		s.Branches[0].Bounds[0].Span = faulttree.Only(0, 0)
		s.Branches = append(s.Branches, branch(span(1, 5*volt), to("shift", warning)))
	}, ""},
	{ruleEmptyBranch, "a sum that its parts cannot make", func(t *faulttree.Tree) {
		sums(t, 240*volt)
		s := at(t, "legs")
		s.Branches = append(s.Branches, faulttree.Branch{Exit: to("shift", warning), Bounds: []faulttree.Bound{
			{Var: 0, Span: span(200*volt, 0)}, {Var: 2, Span: span(0, 200*volt)}}})
	}, "branch 3 (to shift) takes no reading"},

	{ruleExitMissing, "no over-range", func(t *faulttree.Tree) { at(t, "spike").OverRange = faulttree.Exit{} }, "step spike does not say where over-range leads"},
	{ruleExitMissing, "no not-possible", func(t *faulttree.Tree) { at(t, "spike").NotPossible = faulttree.Exit{} }, "a reading that is not possible"},
	{ruleExitMissing, "an act that leads nowhere", func(t *faulttree.Tree) { at(t, "ready").Act.Exit = faulttree.Exit{} }, "the act"},
	{ruleExitMissing, "nothing to choose", func(t *faulttree.Tree) { at(t, "felt").Choices = nil }, "any choice"},
	{ruleExitMissing, "an exit to a step that does not exist", func(t *faulttree.Tree) { at(t, "ready").Act.Exit = to("nowhere", notice) }, ""},

	{ruleNotApplicable, "a fact leaves nothing to measure", func(t *faulttree.Tree) { secondLeg(t, faulttree.Exit{}) },
		"step leg has nothing to measure and no not-applicable (where service is 30a)"},
	{ruleNotApplicable, "a fact leaves nothing, and the step says where to go", func(t *faulttree.Tree) { secondLeg(t, to("unproved", warning)) }, ""},
	{ruleNotApplicable, "the tree is for those who have it", func(t *faulttree.Tree) {
		secondLeg(t, faulttree.Exit{})
		t.Facts = map[string]string{"service": "50a"}
	}, ""},
	{ruleOverlap, "two branches differ only by what a fact rules out", func(t *faulttree.Tree) {
		twoLegs(t, 100*volt)
		at(t, "legs").Measure[0].Quantity.Needs = faulttree.Needs{"service": {"50a"}}
	}, "(where service is 30a)"},
	{ruleUnreachable, "a step nobody comes to", func(t *faulttree.Tree) { add(t, act("alone", to("spike", none))) }, "step alone is not reached"},
	{ruleUnreachable, "a step that only a danger limit leads to", func(t *faulttree.Tree) {
		t.Danger["body-earth@loaded"] = "touch"
		add(t, measure("loaded", bodyLoaded, to("stop", danger), to("unproved", warning),
			branch(span(0, 30*volt), to("shift", warning)), branch(span(30*volt, 0), to("stop", danger))))
	}, ""},
	{ruleUnreachable, "the consequence of an exit to nowhere", func(t *faulttree.Tree) { at(t, "body").Branches[0].Exit = to("metre", none) }, ""},

	{ruleEndless, "a loop of acts", func(t *faulttree.Tree) { at(t, "ready").Act.Exit = to("felt", notice) }, "the loop felt, ready, felt has no end"},
	{ruleEndless, "a recheck whose then stays in the loop", func(t *faulttree.Tree) { at(t, "meter").Then = to("change-battery", warning) }, "has no end"},
	{ruleEndless, "a step that leads to itself", func(t *faulttree.Tree) { at(t, "ready").Act.Exit = to("ready", notice) }, "the loop ready, ready has no end"},
	{ruleEndless, "a loop through a bounded recheck", func(t *faulttree.Tree) {}, ""},
	{ruleRecheckThen, "no then", func(t *faulttree.Tree) { at(t, "meter").Then = faulttree.Exit{} }, "step meter has a recheck of 2 and no then"},
	{ruleRecheckThen, "a recheck with a then", func(t *faulttree.Tree) { at(t, "spike").Recheck, at(t, "spike").Then = 1, to("unproved", warning) }, ""},

	{ruleDangerCrossed, "a branch across the limit", func(t *faulttree.Tree) {
		s := at(t, "body")
		s.Branches[1].Bounds[0].Span.Below, s.Branches[2].Bounds[0].Span.From = 30*volt+1, 30*volt+1
	}, "branch 2 (to shift) takes readings of body-earth on both sides of its danger limit, 30 V"},
	{ruleDangerCrossed, "a branch that does not bound the quantity", func(t *faulttree.Tree) {
		s := at(t, "body")
		s.Measure = append(s.Measure, faulttree.Variable{Name: "w", Quantity: pedestalL1N})
		s.Branches = []faulttree.Branch{{Exit: to("shift", warning)}}
	}, "on both sides"},
	{ruleDangerCrossed, "a branch on two readings that leads to no less whatever they are", func(t *faulttree.Tree) {
		s := at(t, "body")
		s.Measure = append(s.Measure, faulttree.Variable{Name: "w", Quantity: pedestalL1N})
		s.Branches = []faulttree.Branch{{Exit: to("stop", danger)}}
	}, ""},
	{ruleDangerCrossed, "direct volts of the other sign", func(t *faulttree.Tree) {
		directVolts(t, faulttree.Span{From: faulttree.Lowest, Below: 60 * volt})
	}, "danger limit, 60 V"},
	{ruleDangerCrossed, "direct volts of the other sign, just at the limit", func(t *faulttree.Tree) {
		directVolts(t, faulttree.Span{From: -60 * volt, Below: 60 * volt})
	}, "danger limit, 60 V"},
	{ruleDangerCrossed, "direct volts within both limits", func(t *faulttree.Tree) {
		directVolts(t, faulttree.Span{From: 1 - 60*volt, Below: 60 * volt})
	}, ""},
	{ruleDangerExit, "what can hurt leads on", func(t *faulttree.Tree) { at(t, "body").Branches[2].Exit = to("meter", danger) }, "leads to meter, which is neither a STOP nor a DANGER finding"},
	{ruleDangerExit, "what can hurt is shown as a warning", func(t *faulttree.Tree) { at(t, "body").Branches[2].Signal = warning }, "has the signal warning; expected danger"},
	{ruleDangerExit, "over-range leads on", func(t *faulttree.Tree) { at(t, "body").OverRange = to("unproved", warning) }, "over-range on body-earth leads to unproved"},
	{ruleDangerExit, "a STOP that can be passed over", func(t *faulttree.Tree) {
		at(t, "stop").Recheck, at(t, "stop").Then = 1, to("shift", warning)
	}, "passes the walk on"},
	{ruleDangerExit, "a STOP that gives way to DANGER", func(t *faulttree.Tree) {
		at(t, "stop").Recheck, at(t, "stop").Then = 1, to("live-body", danger)
	}, ""},
	{ruleDangerMet, "never measured", func(t *faulttree.Tree) { t.Danger["pedestal.l1-n"] = "touch" }, "pedestal.l1-n has a danger limit"},
	{ruleDangerMet, "measured only by qualified people", func(t *faulttree.Tree) { at(t, "body").For = faulttree.Qualified }, "open to anyone"},
	{ruleDangerMet, "measured together with another", func(t *faulttree.Tree) {
		s := at(t, "body")
		s.Measure = append(s.Measure, faulttree.Variable{Name: "w", Quantity: pedestalL1N})
	}, ""},
	{ruleDangerMet, "measured", func(t *faulttree.Tree) {}, ""},
	{ruleDangerMet, "never measured, with what to do at once", func(t *faulttree.Tree) { atOnce(t, "pedestal.l1-n", "stop") }, ""},
	{ruleDangerMet, "measured, with what to do at once", func(t *faulttree.Tree) { atOnce(t, "body-earth", "stop") }, "expected its limit under danger"},
	{ruleDangerMet, "at once to a question", func(t *faulttree.Tree) { atOnce(t, "pedestal.l1-n", "felt") }, "felt asks for something"},
	{ruleDangerSibling, "another condition without a limit", func(t *faulttree.Tree) {
		at(t, "body").Branches[1].Exit = to("loaded", warning)
		add(t, measure("loaded", bodyLoaded, to("stop", danger), to("unproved", warning), branch(span(0, 0), to("shift", warning))))
	}, "body-earth@loaded has no danger limit"},
	{ruleDangerSibling, "another condition with a limit", func(t *faulttree.Tree) {
		t.Danger["body-earth@loaded"] = "touch"
		at(t, "body").Branches[1].Exit = to("loaded", warning)
		add(t, measure("loaded", bodyLoaded, to("stop", danger), to("unproved", warning),
			branch(span(0, 30*volt), to("shift", warning)), branch(span(30*volt, 0), to("stop", danger))))
	}, ""},
	{ruleExitSignal, "a mild way to DANGER", func(t *faulttree.Tree) { at(t, "felt").Choices[0].Exit = to("live-body", warning) }, "choice answer-1 of step felt leads to live-body and has the signal warning"},
	{ruleExitSignal, "an act before DANGER", func(t *faulttree.Tree) { at(t, "ready").Act.Exit = to("stop", notice) }, ""},

	{ruleStopAnyone, "a STOP that an owner never sees", func(t *faulttree.Tree) { at(t, "stop").For = faulttree.Qualified }, "the STOP stop is for qualified people"},
	{ruleStopAnyone, "other work for qualified people after it", func(t *faulttree.Tree) { at(t, "dead").For = faulttree.Qualified }, ""},

	{ruleStopMeasure, "a live body contact", func(t *faulttree.Tree) { at(t, "stop").Act.Exit = to("spike", danger) }, "step body asks for body-earth after the STOP stop: by stop, spike, body"},
	{ruleStopMeasure, "volts off the vehicle", func(t *faulttree.Tree) {
		afterStop(t, pedestalL1N)
		at(t, "more").Measure[0].Quantity.OffVehicle = true
	}, ""},
	{ruleStopMeasure, "volts of which the list does not say that they are off the vehicle", func(t *faulttree.Tree) { afterStop(t, pedestalL1N) }, "asks for pedestal.l1-n after the STOP"},
	{ruleStopMeasure, "dead and unplugged", func(t *faulttree.Tree) {}, ""},
	{ruleStopFinding, "a mild end", func(t *faulttree.Tree) { at(t, "dead").Branches[0].Exit = to("shift", warning) }, "finding shift has the signal warning and is reached after the STOP stop"},
	{ruleStopFinding, "DANGER at the end", func(t *faulttree.Tree) {}, ""},

	{ruleBodyEarth, "a way around the spike", func(t *faulttree.Tree) { at(t, "ready").Act.Exit = to("body", notice) }, "by felt, ready, body"},
	{ruleBodyEarth, "the spike could not be read", func(t *faulttree.Tree) { at(t, "spike").NotPossible = to("body", warning) }, "by felt, spike, body"},
	{ruleBodyEarth, "the spike could never be read", func(t *faulttree.Tree) {
		at(t, "spike").NotPossible = to("ready", warning)
		at(t, "spike").Recheck, at(t, "spike").Then = 2, to("body", warning)
	}, "may not have been read"},
	{ruleBodyEarth, "the spike was read and is passed over the second time", func(t *faulttree.Tree) {
		at(t, "spike").Branches[0].Exit = to("ready", warning)
		at(t, "spike").Recheck, at(t, "spike").Then = 2, to("body", warning)
	}, ""},
	{ruleBodyEarth, "the body before the spike in one step", func(t *faulttree.Tree) { together(t, bodyEarth, pedestalEarth) }, "step both reads body-earth"},
	{ruleBodyEarth, "the spike before the body in one step", func(t *faulttree.Tree) { together(t, pedestalEarth, bodyEarth) }, ""},
	{ruleMeterProof, "a reading after the proof in one step", func(t *faulttree.Tree) { together(t, knownSource, pedestalL1N) }, "by both, clear"},
	{ruleMeterProof, "a reading before the proof in one step", func(t *faulttree.Tree) { together(t, pedestalL1N, knownSource) }, ""},
	{ruleMeterProof, "no proof after", func(t *faulttree.Tree) { at(t, "body").Branches[0].Exit = to("clear", none) }, "by body, clear"},
	{ruleMeterProof, "a proof that was not possible", func(t *faulttree.Tree) { at(t, "meter").NotPossible = to("clear", none) }, "by meter, clear"},
	{ruleMeterProof, "another reading after the proof", func(t *faulttree.Tree) {
		at(t, "meter").Branches[1].Exit = to("more", none)
		add(t, measure("more", pedestalL1N, to("unproved", warning), to("unproved", warning), branch(span(0, 0), to("clear", none))))
	}, "by more, clear"},
	{ruleMeterProof, "the proof is passed over when its recheck runs out", func(t *faulttree.Tree) { at(t, "meter").Then = to("clear", none) }, "by meter, clear"},
	{ruleMeterProof, "a source of which the list does not say that it proves the meter", func(t *faulttree.Tree) { at(t, "meter").Measure[0].Quantity.Proves = 0 }, "other than a quantity that proves ac-volts: by"},
	{ruleMeterProof, "the meter proved on direct volts", func(t *faulttree.Tree) {
		at(t, "meter").Measure[0].Quantity.Proves = faulttree.ProvesVoltsDC
	}, "by meter, clear"},
	{ruleMeterProof, "an act after the proof", func(t *faulttree.Tree) {
		at(t, "meter").Branches[1].Exit = to("order", none)
		add(t, act("order", to("clear", notice)))
	}, ""},

	{ruleDangerCaution, "no caution", func(t *faulttree.Tree) { at(t, "live-body").Cautions = nil }, "live-body has no caution"},
	{ruleDangerCaution, "a mild caution", func(t *faulttree.Tree) { at(t, "live-body").Cautions = []string{"prove-the-meter"} }, "live-body has no caution"},
	{ruleDangerCaution, "a caution that does not exist", func(t *faulttree.Tree) { at(t, "live-body").Cautions = []string{"live-wrok"} }, ""},
	{ruleDangerFirst, "no first action", func(t *faulttree.Tree) { at(t, "live-body").Finding.FirstAction = " " }, "no first_action"},
	{ruleDangerFirst, "no first action at a warning", func(t *faulttree.Tree) { at(t, "shift").Finding.FirstAction = "" }, "the WARNING finding shift has no first_action"},
	{ruleDangerFirst, "no first action where nothing hurts", func(t *faulttree.Tree) { at(t, "clear").Finding.FirstAction = "" }, ""},
	{ruleDangerFault, "no fault named", func(t *faulttree.Tree) { at(t, "live-body").Finding.Faults = nil }, "names no fault"},
	{ruleDangerFault, "a fault that cannot be excluded", func(t *faulttree.Tree) {
		f := &at(t, "live-body").Finding
		f.Faults, f.CannotExclude = nil, []faulttree.NotExcluded{{Fault: "open-ground", Test: "x"}}
	}, ""},
	{ruleFindingParts, "not how sure", func(t *faulttree.Tree) { at(t, "clear").Finding.Sure = "" }, "clear has no sure"},
	{ruleFindingParts, "not who repairs", func(t *faulttree.Tree) { at(t, "clear").Finding.RepairBy = "" }, "clear has no repair_by"},
	{ruleFindingParts, "a warning without what not to do", func(t *faulttree.Tree) { at(t, "shift").Finding.DoNot = "" }, "shift has no do_not"},
	{ruleFindingParts, "a notice without what not to do", func(t *faulttree.Tree) { at(t, "clear").Finding.DoNot = "" }, ""},
	{ruleFindingHazard, "a deadly fault as a warning", func(t *faulttree.Tree) { at(t, "shift").Finding.Faults = []string{"open-ground"} }, "expected danger"},
	{ruleFindingHazard, "a deadly fault among others as a notice", func(t *faulttree.Tree) {
		f := &at(t, "shift").Finding
		f.Signal, f.Faults = notice, []string{"open-ground", "undersized-cord"}
	}, "expected warning or danger"},
	{ruleFindingHazard, "a deadly fault among others as a warning", func(t *faulttree.Tree) {
		at(t, "shift").Finding.Faults = []string{"open-ground", "undersized-cord"}
	}, ""},
	{ruleClearsExclude, "nothing left open", func(t *faulttree.Tree) { at(t, "clear").Finding.CannotExclude = nil }, "lists nothing under cannot_exclude"},
	{ruleClearsExclude, "nothing left open where nothing is cleared", func(t *faulttree.Tree) { at(t, "shift").Finding.CannotExclude = nil }, ""},
	{ruleClearsSignal, "DANGER", func(t *faulttree.Tree) { at(t, "clear").Finding.Signal = danger }, "has the signal danger"},
	{ruleClearsSignal, "warning", func(t *faulttree.Tree) { at(t, "clear").Finding.Signal = warning }, ""},
	{ruleClearsWords, "in the title", func(t *faulttree.Tree) { at(t, "clear").Title = "The body is Safe" }, `says "Safe"`},
	{ruleClearsWords, "in the first action", func(t *faulttree.Tree) { at(t, "clear").Finding.FirstAction = "It is good to plug in." }, `says "good to plug in"`},
	{ruleClearsWords, "in how sure", func(t *faulttree.Tree) { at(t, "clear").Finding.Sure = "The body is quiet." }, `says "quiet"`},
	{ruleClearsWords, "on the ruler", func(t *faulttree.Tree) { at(t, "body").Branches[0].Label = "quiet" }, "the label"},
	{ruleClearsWords, "within other words", func(t *faulttree.Tree) { at(t, "clear").Title = "Unsafe is the word, and not quietly" }, ""},
	{ruleLimitSource, "no source", func(t *faulttree.Tree) {
		l := t.Limits["low"]
		l.Source = ""
		t.Limits["low"] = l
	}, "limit low of tree body has no source"},
	{ruleLimitSource, "sources", func(t *faulttree.Tree) {}, ""},
	{ruleBoundSource, "a bare number", func(t *faulttree.Tree) { delete(t.Limits, "low") }, "step body compares with 5"},
	{ruleBoundSource, "a number in a step with sources", func(t *faulttree.Tree) {
		delete(t.Limits, "low")
		at(t, "body").Sources = []string{"common-practice"}
	}, ""},
	{ruleSmallLimit, "a limit that the meter cannot tell from zero", func(t *faulttree.Tree) { smallLimit(t, volt/100000) }, "may be off by"},
	{ruleSmallLimit, "a limit that it can", func(t *faulttree.Tree) { smallLimit(t, volt/2) }, ""},
	{ruleLabelLength, "25 characters", func(t *faulttree.Tree) { at(t, "body").Branches[0].Label = strings.Repeat("å", 25) }, "25 characters"},
	{ruleLabelLength, "24 characters", func(t *faulttree.Tree) { at(t, "body").Branches[0].Label = strings.Repeat("å", 24) }, ""},
}

// twoLegs adds a step over two quantities: a below 100 V, or a from the given
// value.
func twoLegs(t *faulttree.Tree, from faulttree.Amount) {
	ask(t, to("legs", none))
	s := measure("legs", pedestalL1N, to("unproved", warning), to("unproved", warning),
		branch(span(0, 100*volt), to("unproved", warning)), branch(span(from, 0), to("shift", warning)))
	s.Measure = []faulttree.Variable{{Name: "a", Quantity: pedestalL1N}, {Name: "b", Quantity: pedestalL2N}}
	s.Sources = []string{"c84-1"}
	add(t, s)
}

// together adds a step that reads two quantities, and an all-clear after it.
func together(t *faulttree.Tree, first, second faulttree.Quantity) {
	ask(t, to("both", none))
	s := measure("both", first, to("stop", danger), to("unproved", warning), faulttree.Branch{Exit: to("clear", none)})
	s.Measure = []faulttree.Variable{{Name: "a", Quantity: first}, {Name: "b", Quantity: second}}
	add(t, s)
}

// sums adds a step over a sum of two quantities: below 240 V, or from the
// given value.
func sums(t *faulttree.Tree, from faulttree.Amount) {
	twoLegs(t, 100*volt)
	s := at(t, "legs")
	s.Derive = []faulttree.Derived{{Name: "sum", Terms: []faulttree.Term{{Factor: 1, Var: 0}, {Factor: 1, Var: 1}}, Unit: faulttree.VoltsAC}}
	s.Branches[0].Bounds[0] = faulttree.Bound{Var: 2, Span: span(0, 240*volt)}
	s.Branches[1].Bounds[0] = faulttree.Bound{Var: 2, Span: span(from, 0)}
}

// directVolts adds a step on a quantity of either sign with a danger limit of
// 60 V; what is not in mild leads to the STOP.
func directVolts(t *faulttree.Tree, mild faulttree.Span) {
	t.Limits["pack"] = faulttree.Limit{Value: 60 * volt, Source: "common-practice"}
	t.Danger["battery.pos-neg"] = "pack"
	ask(t, to("pack", none))
	s := measure("pack", battery, to("stop", danger), to("unproved", warning),
		branch(mild, to("shift", warning)), branch(faulttree.Span{From: mild.Below, Below: faulttree.Highest}, to("stop", danger)))
	if mild.From != faulttree.Lowest {
		s.Branches = append(s.Branches, branch(faulttree.Span{From: faulttree.Lowest, Below: mild.From}, to("stop", danger)))
	}
	s.Sources = []string{"common-practice"}
	add(t, s)
}

func smallLimit(t *faulttree.Tree, v faulttree.Amount) {
	s := at(t, "spike")
	s.Sources = []string{"common-practice"}
	s.Branches[0].Bounds[0].Span.Below, s.Branches[1].Bounds[0].Span.From = v, v
}

func prove(t *faulttree.Tree) (found map[string][]string) {
	found = map[string][]string{}
	for _, d := range Forest(context.Background(), forest(t), known()) {
		found[d.Rule] = append(found[d.Rule], d.Message)
	}
	return found
}

// What an author is told to do about it can be done.
func TestAdviceCanBeFollowed(t *testing.T) {
	rest := chartFixture(func(r []faulttree.Row) []faulttree.Row {
		r[4] = chartRow(to("stop", danger), 0, 0, 0, 0)
		return r
	})
	underFacts := func(t *faulttree.Tree) {
		s := chartStep(t, chartRow(to("stop", danger), span(30*volt, 0), 0, 0), chartRow(to("shift", warning), 0, 0, span(130*volt, 0)),
			chartRow(to("meter", none), 0, span(0, 110*volt), 0), chartRow(to("shift", warning), 0, 0, 0))
		s.Derive = nil
		s.Measure[2].Quantity.Needs = faulttree.Needs{"service": {"50a"}} // without it row 2 is left out
	}
	milder := chartFixture(func(r []faulttree.Row) []faulttree.Row {
		return slices.Insert(r, 0, chartRow(to("meter", none), 0, 0, 0, 0))
	})
	for _, c := range []struct {
		name, rule string
		change     func(*faulttree.Tree)
		want       []string
	}{
		{"a worse rest", ruleSofterRow, rest, []string{"give row 2 at least", "give row 3 at least", "give row 4 at least"}},
		{"one row before several worse ones", ruleSofterRow, milder, []string{"put the worse row first"}},
		{"a worse rest, whatever the facts", ruleSofterRow, underFacts, []string{"give row 3 at least"}},
		{"who repairs, of faults", ruleFindingParts, func(t *faulttree.Tree) { at(t, "shift").Finding.RepairBy = "" },
			[]string{"say place, or write it under findings of neutral-earth-shift"}},
		{"who repairs, of faults in a place", ruleFindingParts, func(t *faulttree.Tree) { at(t, "shift").Finding.RepairBy, at(t, "shift").Finding.Place = "", "supply" },
			[]string{"write it here, or under findings of neutral-earth-shift"}},
		{"who repairs, of none", ruleFindingParts, func(t *faulttree.Tree) { at(t, "unproved").Finding.RepairBy = "" }, []string{""}},
	} {
		tree := sound()
		c.change(tree)
		var got []string
		for _, d := range Forest(context.Background(), forest(tree), known()) {
			if d.Rule == c.rule {
				got = append(got, d.Hint)
			}
		}
		if !slices.EqualFunc(got, c.want, func(hint, part string) bool { return strings.Contains(hint, part) && (part != "" || hint == "") }) {
			t.Errorf("%s: told %q; want %q", c.name, got, c.want)
		}
	}
}

func TestSoundTreeIsProved(t *testing.T) {
	if got := Forest(context.Background(), forest(sound()), known()); len(got) != 0 {
		t.Fatalf("the sound tree has diagnostics:\n%v", got)
	}
}

func TestFixtures(t *testing.T) {
	for _, f := range slices.Concat(fixtures, chartFixtures) {
		tree := sound()
		f.change(tree)
		got := prove(tree)[f.rule]
		switch {
		case f.with == "" && len(got) > 0:
			t.Errorf("%s, %s: unexpected %q", f.rule, f.name, got)
		case f.with != "" && !strings.Contains(strings.Join(got, "\n"), f.with):
			t.Errorf("%s, %s: got %q, expected %q among it; all: %v", f.rule, f.name, got, f.with, prove(tree))
		}
	}
}

// TestEveryRuleHasFixtures demands, for each rule, a fixture that breaks it
// and one that comes near and does not.
func TestEveryRuleHasFixtures(t *testing.T) {
	breaks, keeps := map[string]bool{}, map[string]bool{}
	for _, f := range slices.Concat(fixtures, chartFixtures) {
		breaks[f.rule] = breaks[f.rule] || f.with != ""
		keeps[f.rule] = keeps[f.rule] || f.with == ""
	}
	// Broken by ending the context, which no tree can do: see TestCancelled.
	breaks[ruleProofIncomplete], keeps[ruleProofIncomplete] = true, true
	// Of two trees: see TestATreeWithFactsIsNotEntered.
	breaks[ruleFixedFacts], keeps[ruleFixedFacts] = true, true
	names := map[string]bool{}
	file := must.Have(parser.ParseFile(token.NewFileSet(), "rules.go", nil, parser.ParseComments))(t)
	for _, spec := range file.Decls[0].(*ast.GenDecl).Specs {
		rule := spec.(*ast.ValueSpec)
		name, _ := strconv.Unquote(rule.Values[0].(*ast.BasicLit).Value)
		names[name] = true
		if !breaks[name] || !keeps[name] || rule.Comment.Text() == "" {
			t.Errorf("rule %s: broken by a fixture %v, kept by one %v, described %q", name, breaks[name], keeps[name], rule.Comment.Text())
		}
	}
	for _, f := range slices.Concat(fixtures, chartFixtures) {
		if !names[f.rule] {
			t.Errorf("fixture %q is of the unknown rule %q", f.name, f.rule)
		}
	}
}
