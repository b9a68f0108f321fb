package load

import "faultwright/content/document"

// The rules this package checks, beside those of package document and
// [rig.RuleRig]: the stable name that a diagnostic carries, and what it demands.
const (
	RuleFolder           = "folder"         // A content folder can be opened and holds at least one tree.
	RuleUnknownFile      = "unknown-file"   // A content folder holds only the files and folders that the format names.
	RuleUnreadable       = "unreadable"     // Every file is a plain file inside the content folder.
	RuleTooLarge         = "too-large"      // A file, and all files together, stay within the bounds on size.
	RuleTooMany          = "too-many-files" // A content folder stays within the bound on the number of files.
	RuleWork             = document.RuleWork
	RuleEncoding         = "encoding"           // Every file is UTF-8.
	RuleHidden           = "hidden-character"   // A file has no control characters, and no marks that turn the direction of text.
	RuleCanceled         = "canceled"           // Loading runs to its end.
	RuleTooManyErrors    = "too-many-errors"    // A file with very many errors shows only the first of them.
	RuleBadID            = "bad-id"             // An id is made of lower-case letters, digits and hyphens.
	RuleIDFileName       = "id-file-name"       // A document's id is the name of its file.
	RuleDuplicateID      = "duplicate-id"       // An id names one thing: cards, cautions, faults and trees share their ids, steps within a tree, openings by their titles, sources, points and quantities have their own.
	RuleReservedID       = "reserved-id"        // The step id hand-over belongs to the program.
	RuleBadValue         = "bad-value"          // A value is one of those its key allows.
	RuleBadUnit          = "bad-unit"           // A number is a decimal with its unit, such as 30 V, 0.3 Ω or 1 MΩ.
	RuleUnitMismatch     = "unit-mismatch"      // A value has the unit of the quantity it is compared with.
	RuleBadQuantity      = "bad-quantity"       // A quantity's id names its test points and conditions, and agrees with its unit.
	RuleBadBound         = "bad-bound"          // A bound is from and below, above, or to, and holds at least one value.
	RuleBadDerive        = "bad-derive"         // A derived value is a sum of whole multiples of a step's names, all of one unit.
	RuleBadStep          = "bad-step"           // A step is exactly one of measure, observe, act and finding, with the keys of its kind.
	RuleBadChart         = "bad-chart"          // A chart has a table whose cells are bands, comparisons, OL or ?, and whose last column says where each row leads.
	RuleUnknownQuantity  = "unknown-quantity"   // A quantity stands in the list of quantities.
	RuleUnknownFact      = "unknown-fact"       // A fact stands in the list of facts.
	RuleUnknownLimit     = "unknown-limit"      // A limit is declared in the front matter of its tree.
	RuleUnknownVariable  = "unknown-variable"   // A branch speaks of the names that its step measures or derives.
	RuleUnknownStep      = "unknown-step"       // A go leads to a step that is there.
	RuleUnknownCard      = "unknown-card"       // A card that is named is there.
	RuleUnknownCaution   = "unknown-caution"    // A caution that is named is there.
	RuleUnknownFault     = "unknown-fault"      // A fault that is named is there.
	RuleUnknownSource    = "unknown-source"     // A source that is named is there.
	RuleUnknownTree      = "unknown-tree"       // A tree that is named is there.
	RuleUnknownRelated   = "unknown-related"    // What a document relates to is a card, a fault, a caution or a tree that is there.
	RuleBrokenLink       = "broken-link"        // A link leads to something in the handbook, or to a citation by http or https.
	RuleUnknownFigure    = "unknown-figure"     // A figure that is named is one the program can draw.
	RuleUnsourcedBound   = "unsourced-bound"    // A bound is a named limit or 0, or its step names the sources of its numbers; the severity of a fault has a source.
	RuleUnsourcedNumber  = "unsourced-number"   // A number with an electrical unit in a step's text is a named limit, or its step names the sources of its numbers.
	RuleTextOutsideSteps = "text-outside-steps" // All text of a tree belongs to a step: a heading of the second level with an id.
	RuleStepBlock        = "step-block"         // A step has exactly one fenced block with the info string yaml step.
	RuleEmptyBody        = "empty-body"         // A card, a caution and a fault have text.
	RuleBadNumber        = "bad-number"         // A number of a rig or of a fault is a decimal with its unit, such as 0.05 Ω, 100 pF/m or 1/0 AWG.
	RuleBadRange         = "bad-range"          // A range runs from a lower to a higher number around the ordinary one; one drawn by its logarithm begins above 0.
	RuleBadPart          = "bad-part"           // A part of a rig is of one kind, has the keys of that kind and lies between two nodes.
	RuleRigSize          = "rig-size"           // A rig stays within the bounds on parts and switches.
	RuleRigFact          = "rig-fact"           // A rig states every fact that a tree it lists may ask, unless the tree fixes it.
	RuleTreeSize         = "tree-size"          // A tree stays within the bounds on steps, limits, branches, choices and headings.
	RuleListSize         = "list-size"          // The lists of synonyms, openings, evidence, test points and quantities, and the lists in them, stay within the bounds on their entries.
	RuleBadEdit          = "bad-edit"           // An edit of a fault is of one kind, has the keys of that kind and happens in a place of its fault.
	RuleSeverity         = "severity"           // A fault that declares a severity gives its range and uses it in an edit, and one that uses it declares it.
	RuleUnknownPart      = "unknown-part"       // A part that an edit or a choice names is in a rig.
	RuleUnknownNode      = "unknown-node"       // A node that an edit names is in a rig, and so is a place that a switch covers or that lies inside.
	RuleUnknownSwitch    = "unknown-switch"     // A switch that an edit names is in a rig.
	RuleUnknownRig       = "unknown-rig"        // A rig that is named is there.
	RuleUnknownNumber    = "unknown-number"     // A number that a scenario sets is one of its rig.
	RuleScenario         = "scenario"           // A scenario can be set up: its faults and loads fit in its rig, and so does the tree beside it; what varies is its own, and its kind is that of what it hides.
	RuleRubric           = "rubric"             // A rubric says of every unsafe act and of every part what it counts, the points of the parts are 100 together, and every total has a word.
	RuleEditMisfit       = "edit-misfit"        // A variant can be made in a rig: one has all it names, and the parts have the numbers it changes.
	RuleUnknownFragment  = "unknown-fragment"   // A fragment that is used is there.
	RuleFragmentExits    = "fragment-exits"     // A step of a fragment leads to each of its exits, and each use says where they lead.
	RuleFragmentLoop     = "fragment-loop"      // No fragment uses itself, not even through others.
	RuleFragmentLimits   = "fragment-limits"    // A limit that a fragment brings is the same in the tree that uses it.
	RuleUnusedFragment   = "unused-fragment"    // A fragment is used by a tree.
	RuleFindingPlace     = "finding-place"      // A finding with a place names a fault whose document says what to do there.
	RuleFaultTest        = "fault-test"         // The document of a dangerous fault that remains possible at a finding says which test would exclude it.
	RuleRemaining        = "remaining"          // The list of what remains in a tree speaks of findings that the tree has.
	RuleBadExposure      = "bad-exposure"       // A quantity has an exposure, what is read on something live is not called dead, a greater exposure does not count less than a lesser one, and no intervention is offered to everybody that is tried near something live.
	RuleMethodLong       = "method-long"        // A method has at most 60 words.
)
