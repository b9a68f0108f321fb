package prove

import "faultwright/faulttree/source"

// Rule is one demand on a tree. Name is stable; diagnostics carry it.
type Rule struct {
	Name     string
	Severity source.Severity
	Demands  string // in one sentence
}

const (
	ruleGap             = "coverage-gap"
	ruleOverlap         = "coverage-overlap"
	ruleTooComplex      = "too-complex"
	ruleEmptyBranch     = "branch-empty"
	ruleExitMissing     = "exit-missing"
	ruleUnreachable     = "step-unreachable"
	ruleEndless         = "walk-endless"
	ruleRecheckThen     = "recheck-then"
	ruleDangerCrossed   = "danger-crossed"
	ruleDangerExit      = "danger-exit"
	ruleDangerMet       = "danger-measured"
	ruleDangerSibling   = "danger-same-points"
	ruleExitSignal      = "exit-signal"
	ruleSofterRow       = "row-softer"
	ruleNotApplicable   = "not-applicable"
	ruleFixedFacts      = "fixed-facts"
	ruleStopAnyone      = "stop-for-anyone"
	ruleStopMeasure     = "stop-then-live"
	ruleStopFinding     = "stop-then-finding"
	ruleBodyEarth       = "body-earth-unproved"
	ruleMeterProof      = "meter-proof-after"
	ruleDangerCaution   = "danger-caution"
	ruleDangerFirst     = "danger-first-action"
	ruleDangerFault     = "danger-fault"
	ruleFindingParts    = "finding-parts"
	ruleFindingHazard   = "finding-hazard"
	ruleClearsExclude   = "clears-cannot-exclude"
	ruleClearsSignal    = "clears-signal"
	ruleClearsWords     = "clears-words"
	ruleLimitSource     = "limit-source"
	ruleBoundSource     = "bound-source"
	ruleSmallLimit      = "small-limit"
	ruleLabelLength     = "label-length"
	ruleProofIncomplete = "proof-incomplete"
)

// rules is the one table of what is demanded.
var rules = []Rule{
	{ruleGap, source.Error, "The numeric branches of a measure step take every reading the meter can show, and so do the rows of a chart."},
	{ruleOverlap, source.Error, "No reading is taken by two numeric branches of a step."},
	{ruleTooComplex, source.Error, "The branches of a step can be proved within bounded work; with derived values at most 3 quantities and 64 branches."},
	{ruleEmptyBranch, source.Error, "Every branch, and every row of a chart, takes some reading."},
	{ruleExitMissing, source.Error, "Every branch, choice and act leads on, and a measure step says where over-range and a reading that is not possible lead."},
	{ruleUnreachable, source.Error, "Every step is reached from a tree's start, or from where a danger limit sends a supplied reading."},
	{ruleEndless, source.Error, "Every walk ends: a loop passes a step whose recheck is bounded and whose then leaves the loop."},
	{ruleRecheckThen, source.Error, "A step with a recheck says where the walk goes when it runs out."},
	{ruleDangerCrossed, source.Error, "No branch takes readings on both sides of a danger limit."},
	{ruleDangerExit, source.Error, "What lies at or above a danger limit, over-range too, leads to a STOP or a DANGER finding."},
	{ruleDangerMet, source.Error, "Every quantity with a danger limit is measured by a step of its tree that is open to anyone."},
	{ruleDangerSibling, source.Error, "Where two points have a danger limit, they have one under every condition the tree reads them in."},
	{ruleExitSignal, source.Error, "An outcome that leads to a STOP or a DANGER finding has the signal danger."},
	{ruleSofterRow, source.Error, "No row of a chart takes what a row below it, of a worse signal, would take."},
	{ruleNotApplicable, source.Error, "A step of which some facts leave nothing to measure says where it leads then."},
	{ruleFixedFacts, source.Error, "A tree that says which facts hold is begun, and never entered from another."},
	{ruleStopAnyone, source.Error, "A STOP is for anyone to read and do."},
	{ruleStopMeasure, source.Error, "After a STOP only the supply, or an unplugged vehicle, is measured."},
	{ruleStopFinding, source.Error, "After a STOP only DANGER findings are reached."},
	{ruleBodyEarth, source.Error, "Body to earth is read only after the pedestal's L1 to the same spike has been."},
	{ruleMeterProof, source.Error, "The last thing measured before an all-clear is the meter, on a source known to be live."},
	{ruleDangerCaution, source.Error, "A DANGER finding has a caution of signal danger or warning."},
	{ruleDangerFirst, source.Error, "A DANGER or WARNING finding says what to do first."},
	{ruleDangerFault, source.Error, "A DANGER finding names a fault, or one it cannot exclude."},
	{ruleFindingParts, source.Error, "A finding says how sure it is and who repairs; from signal warning up also what not to do."},
	{ruleFindingHazard, source.Error, "A finding is graded no lower than the faults it names."},
	{ruleClearsExclude, source.Error, "An all-clear lists the faults its readings cannot exclude."},
	{ruleClearsSignal, source.Error, "An all-clear is not a DANGER finding."},
	{ruleClearsWords, source.Error, "Neither an all-clear nor a label on the ruler promises safety."},
	{ruleLimitSource, source.Error, "Every named limit has a source."},
	{ruleBoundSource, source.Error, "Every bound is a named limit, or zero, or its step has sources."},
	{ruleSmallLimit, source.Error, "The meter's error at a limit of 20 V or less is at most a quarter of the limit."},
	{ruleLabelLength, source.Warning, "A label on the ruler has at most 24 characters."},
	{ruleProofIncomplete, source.Error, "The proof ran to its end."},
}

// Rules lists every rule in the order in which they are described.
func Rules() []Rule { return append([]Rule(nil), rules...) }

var severities = func() map[string]source.Severity {
	m := make(map[string]source.Severity, len(rules))
	for _, r := range rules {
		m[r.Name] = r.Severity
	}
	return m
}()
