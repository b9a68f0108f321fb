package load

import (
	"maps"

	"faultwright/content/document"
	"faultwright/faulttree/rig"
)

// The rules this package checks. Each is the stable name a diagnostic
// carries; Rules says what it means.
const (
	RuleFolder           = "folder"
	RuleUnknownFile      = "unknown-file"
	RuleUnreadable       = "unreadable"
	RuleTooLarge         = "too-large"
	RuleTooMany          = "too-many-files"
	RuleWork             = document.RuleWork
	RuleEncoding         = "encoding"
	RuleHidden           = "hidden-character"
	RuleCanceled         = "canceled"
	RuleTooManyErrors    = "too-many-errors"
	RuleBadID            = "bad-id"
	RuleIDFileName       = "id-file-name"
	RuleDuplicateID      = "duplicate-id"
	RuleReservedID       = "reserved-id"
	RuleBadValue         = "bad-value"
	RuleBadUnit          = "bad-unit"
	RuleUnitMismatch     = "unit-mismatch"
	RuleBadQuantity      = "bad-quantity"
	RuleBadBound         = "bad-bound"
	RuleBadDerive        = "bad-derive"
	RuleBadStep          = "bad-step"
	RuleBadChart         = "bad-chart"
	RuleUnknownQuantity  = "unknown-quantity"
	RuleUnknownFact      = "unknown-fact"
	RuleUnknownLimit     = "unknown-limit"
	RuleUnknownVariable  = "unknown-variable"
	RuleUnknownStep      = "unknown-step"
	RuleUnknownCard      = "unknown-card"
	RuleUnknownCaution   = "unknown-caution"
	RuleUnknownFault     = "unknown-fault"
	RuleUnknownSource    = "unknown-source"
	RuleUnknownTree      = "unknown-tree"
	RuleUnknownRelated   = "unknown-related"
	RuleBrokenLink       = "broken-link"
	RuleUnknownFigure    = "unknown-figure"
	RuleUnsourcedBound   = "unsourced-bound"
	RuleUnsourcedNumber  = "unsourced-number"
	RuleTextOutsideSteps = "text-outside-steps"
	RuleStepBlock        = "step-block"
	RuleEmptyBody        = "empty-body"
	RuleBadNumber        = "bad-number"
	RuleBadRange         = "bad-range"
	RuleBadPart          = "bad-part"
	RuleRigSize          = "rig-size"
	RuleRigFact          = "rig-fact"
	RuleTreeSize         = "tree-size"
	RuleListSize         = "list-size"
	RuleBadEdit          = "bad-edit"
	RuleSeverity         = "severity"
	RuleUnknownPart      = "unknown-part"
	RuleUnknownNode      = "unknown-node"
	RuleUnknownSwitch    = "unknown-switch"
	RuleUnknownRig       = "unknown-rig"
	RuleUnknownNumber    = "unknown-number"
	RuleScenario         = "scenario"
	RuleEditMisfit       = "edit-misfit"
	RuleUnknownFragment  = "unknown-fragment"
	RuleFragmentExits    = "fragment-exits"
	RuleFragmentLoop     = "fragment-loop"
	RuleFragmentLimits   = "fragment-limits"
	RuleUnusedFragment   = "unused-fragment"
	RuleFindingPlace     = "finding-place"
	RuleFaultTest        = "fault-test"
	RuleRemaining        = "remaining"
	RuleBadExposure      = "bad-exposure"
	RuleMethodLong       = "method-long"
)

// Rules says what each rule demands, those of package document included.
func Rules() map[string]string {
	rules := document.Rules()
	maps.Copy(rules, map[string]string{
		RuleFolder:           "A content folder can be opened and holds at least one tree.",
		RuleUnknownFile:      "A content folder holds only the files and folders that the format names.",
		RuleUnreadable:       "Every file is a plain file inside the content folder.",
		RuleTooLarge:         "A file, and all files together, stay within the bounds on size.",
		RuleTooMany:          "A content folder stays within the bound on the number of files.",
		RuleEncoding:         "Every file is UTF-8.",
		RuleHidden:           "A file has no control characters, and no marks that turn the direction of text.",
		RuleCanceled:         "Loading runs to its end.",
		RuleTooManyErrors:    "A file with very many errors shows only the first of them.",
		RuleBadID:            "An id is made of lower-case letters, digits and hyphens.",
		RuleIDFileName:       "A document's id is the name of its file.",
		RuleDuplicateID:      "An id names one thing: cards, cautions, faults and trees share their ids, steps within a tree, openings by their titles, sources, points and quantities have their own.",
		RuleReservedID:       "The step id hand-over belongs to the program.",
		RuleBadValue:         "A value is one of those its key allows.",
		RuleBadUnit:          "A number is a decimal with its unit, such as 30 V, 0.3 Ω or 1 MΩ.",
		RuleUnitMismatch:     "A value has the unit of the quantity it is compared with.",
		RuleBadQuantity:      "A quantity's id names its test points and conditions, and agrees with its unit.",
		RuleBadBound:         "A bound is from and below, above, or to, and holds at least one value.",
		RuleBadDerive:        "A derived value is a sum of whole multiples of a step's names, all of one unit.",
		RuleBadStep:          "A step is exactly one of measure, observe, act and finding, with the keys of its kind.",
		RuleUnknownFact:      "A fact stands in the list of facts.",
		RuleBadChart:         "A chart has a table whose cells are bands, comparisons, OL or ?, and whose last column says where each row leads.",
		RuleUnknownQuantity:  "A quantity stands in the list of quantities.",
		RuleUnknownLimit:     "A limit is declared in the front matter of its tree.",
		RuleUnknownVariable:  "A branch speaks of the names that its step measures or derives.",
		RuleUnknownStep:      "A go leads to a step that is there.",
		RuleUnknownCard:      "A card that is named is there.",
		RuleUnknownCaution:   "A caution that is named is there.",
		RuleUnknownFault:     "A fault that is named is there.",
		RuleUnknownSource:    "A source that is named is there.",
		RuleUnknownTree:      "A tree that is named is there.",
		RuleUnknownRelated:   "What a document relates to is a card, a fault, a caution or a tree that is there.",
		RuleBrokenLink:       "A link leads to something in the handbook, or to a citation by http or https.",
		RuleUnknownFigure:    "A figure that is named is one the program can draw.",
		RuleUnsourcedBound:   "A bound is a named limit or 0, or its step names the sources of its numbers; the severity of a fault has a source.",
		RuleUnsourcedNumber:  "A number with an electrical unit in a step's text is a named limit, or its step names the sources of its numbers.",
		RuleTextOutsideSteps: "All text of a tree belongs to a step: a heading of the second level with an id.",
		RuleStepBlock:        "A step has exactly one fenced block with the info string yaml step.",
		RuleEmptyBody:        "A card, a caution and a fault have text.",
		rig.RuleRig:          "A rig makes sense: numbers are within reason, switches are declared, and its circuit can be solved.",
		RuleBadNumber:        "A number of a rig or of a fault is a decimal with its unit, such as 0.05 Ω, 100 pF/m or 1/0 AWG.",
		RuleBadRange:         "A range runs from a lower to a higher number around the ordinary one; one drawn by its logarithm begins above 0.",
		RuleBadPart:          "A part of a rig is of one kind, has the keys of that kind and lies between two nodes.",
		RuleListSize:         "The lists of synonyms, openings, test points and quantities stay within the bounds on their entries.",
		RuleTreeSize:         "A tree stays within the bounds on steps, limits, branches, choices and headings.",
		RuleRigFact:          "A rig states every fact that a tree it lists may ask, unless the tree fixes it.",
		RuleRigSize:          "A rig stays within the bounds on parts and switches.",
		RuleBadEdit:          "An edit of a fault is of one kind, has the keys of that kind and happens in a place of its fault.",
		RuleSeverity:         "A fault that declares a severity gives its range and uses it in an edit, and one that uses it declares it.",
		RuleUnknownPart:      "A part that an edit or a choice names is in a rig.",
		RuleUnknownNode:      "A node that an edit names is in a rig.",
		RuleUnknownSwitch:    "A switch that an edit names is in a rig.",
		RuleUnknownRig:       "A rig that is named is there.",
		RuleUnknownNumber:    "A number that a scenario sets is one of its rig.",
		RuleScenario:         "A scenario can be set up: its faults and loads fit in its rig, and so does the tree beside it.",
		RuleUnknownFragment:  "A fragment that is used is there.",
		RuleFragmentExits:    "A step of a fragment leads to each of its exits, and each use says where they lead.",
		RuleFragmentLoop:     "No fragment uses itself, not even through others.",
		RuleFragmentLimits:   "A limit that a fragment brings is the same in the tree that uses it.",
		RuleUnusedFragment:   "A fragment is used by a tree.",
		RuleFindingPlace:     "A finding with a place names a fault whose document says what to do there.",
		RuleFaultTest:        "The document of a dangerous fault that remains possible at a finding says which test would exclude it.",
		RuleRemaining:        "The list of what remains in a tree speaks of findings that the tree has.",
		RuleBadExposure:      "A quantity has an exposure, what is read on something live is not called dead, and a greater exposure does not count less than a lesser one.",
		RuleMethodLong:       "A method has at most 60 words.",
		RuleEditMisfit:       "A variant can be made in a rig: one has all it names, and the parts have the numbers it changes.",
	})
	return rules
}
