package document

// The rules this package checks: the stable name that a diagnostic carries,
// and what it demands.
const (
	RuleFrontMatter      = "front-matter"      // A document begins with its front matter between two lines of three hyphens.
	RuleYAMLSyntax       = "yaml-syntax"       // Front matter, step blocks and lists are well-formed YAML.
	RuleYAMLFeature      = "yaml-feature"      // YAML is used without anchors, aliases, merge keys, tags and further documents.
	RuleYAMLSize         = "yaml-size"         // A piece of YAML stays within the bounds on size, depth and number of values.
	RuleUnknownKey       = "unknown-key"       // Only the keys that the format names are used.
	RuleDuplicateKey     = "duplicate-key"     // A key stands once in its mapping.
	RuleMissingKey       = "missing-key"       // Every key that the format demands is there.
	RuleWrongType        = "wrong-type"        // A value has the type and the form its key demands.
	RuleRawHTML          = "raw-html"          // Text holds no HTML; tags are shown as they are written.
	RuleUnknownMarkdown  = "unknown-markdown"  // Only the parts of Markdown that every view can show are used.
	RuleImage            = "image"             // An image is a figure of the handbook and stands alone in its paragraph.
	RuleHeadingAttribute = "heading-attribute" // A heading has no attribute but its id.
	RuleNesting          = "nesting"           // Text stays within the bounds on nesting.
	RuleWork             = "reading-work"      // A paragraph, a table and a file stay within the bounds on the work of reading them.
)
