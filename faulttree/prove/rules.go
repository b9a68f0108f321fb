package prove

// What is demanded of a tree: the stable name that a diagnostic carries, and
// the demand. All are errors but the length of a label, which is a warning.
const (
	ruleGap             = "coverage-gap"          // The numeric branches of a measure step take every reading the meter can show, and so do the rows of a chart.
	ruleOverlap         = "coverage-overlap"      // No reading is taken by two numeric branches of a step.
	ruleTooComplex      = "too-complex"           // The branches of a step can be proved within bounded work; with derived values at most 3 quantities and 64 branches.
	ruleEmptyBranch     = "branch-empty"          // Every branch, and every row of a chart, takes some reading.
	ruleExitMissing     = "exit-missing"          // Every branch, choice and act leads on, and a measure step says where over-range and a reading that is not possible lead.
	ruleUnreachable     = "step-unreachable"      // Every step is reached from a tree's start, or from where a danger limit sends a supplied reading.
	ruleEndless         = "walk-endless"          // Every walk ends: a loop passes a step whose recheck is bounded and whose then leaves the loop.
	ruleRecheckThen     = "recheck-then"          // A step with a recheck says where the walk goes when it runs out.
	ruleDangerCrossed   = "danger-crossed"        // No branch takes readings on both sides of a danger limit.
	ruleDangerExit      = "danger-exit"           // What lies at or above a danger limit, over-range too, leads to a STOP or a DANGER finding.
	ruleDangerMet       = "danger-measured"       // Every quantity with a danger limit is measured by a step of its tree that is open to anyone.
	ruleDangerSibling   = "danger-same-points"    // Where two points have a danger limit, they have one under every condition the tree reads them in.
	ruleExitSignal      = "exit-signal"           // An outcome that leads to a STOP or a DANGER finding has the signal danger.
	ruleSofterRow       = "row-softer"            // No row of a chart takes what a row below it, of a worse signal, would take.
	ruleNotApplicable   = "not-applicable"        // A step of which some facts leave nothing to measure says where it leads then.
	ruleFixedFacts      = "fixed-facts"           // A tree that says which facts hold is begun, and never entered from another.
	ruleStopAnyone      = "stop-for-anyone"       // A STOP is for anyone to read and do.
	ruleStopMeasure     = "stop-then-live"        // After a STOP only the supply, or an unplugged vehicle, is measured.
	ruleStopFinding     = "stop-then-finding"     // After a STOP only DANGER findings are reached.
	ruleBodyEarth       = "body-earth-unproved"   // Body to earth is read only after the pedestal's L1 to the same spike has been.
	ruleMeterProof      = "meter-proof-after"     // The last thing measured before an all-clear is the meter, on a source known to be live.
	ruleDangerCaution   = "danger-caution"        // A DANGER finding has a caution of signal danger or warning.
	ruleDangerFirst     = "danger-first-action"   // A DANGER or WARNING finding says what to do first.
	ruleDangerFault     = "danger-fault"          // A DANGER finding names a fault, or one it cannot exclude.
	ruleFindingParts    = "finding-parts"         // A finding says how sure it is and who repairs; from signal warning up also what not to do.
	ruleFindingHazard   = "finding-hazard"        // A finding is graded no lower than the faults it names.
	ruleClearsExclude   = "clears-cannot-exclude" // An all-clear lists the faults its readings cannot exclude.
	ruleClearsSignal    = "clears-signal"         // An all-clear is not a DANGER finding.
	ruleClearsWords     = "clears-words"          // Neither an all-clear nor a label on the ruler promises safety.
	ruleLimitSource     = "limit-source"          // Every named limit has a source.
	ruleBoundSource     = "bound-source"          // Every bound is a named limit, or zero, or its step has sources.
	ruleSmallLimit      = "small-limit"           // The meter's error at a limit of 20 V or less is at most a quarter of the limit.
	ruleLabelLength     = "label-length"          // A label on the ruler has at most 24 characters.
	ruleProofIncomplete = "proof-incomplete"      // The proof ran to its end.
)
