package document

// The rules this package checks. Each is the stable name a diagnostic
// carries; Rules says what it means.
const (
	RuleFrontMatter      = "front-matter"
	RuleYAMLSyntax       = "yaml-syntax"
	RuleYAMLFeature      = "yaml-feature"
	RuleYAMLSize         = "yaml-size"
	RuleUnknownKey       = "unknown-key"
	RuleDuplicateKey     = "duplicate-key"
	RuleMissingKey       = "missing-key"
	RuleWrongType        = "wrong-type"
	RuleRawHTML          = "raw-html"
	RuleUnknownMarkdown  = "unknown-markdown"
	RuleImage            = "image"
	RuleHeadingAttribute = "heading-attribute"
	RuleNesting          = "nesting"
	RuleWork             = "reading-work"
)

// Rules says what each rule of this package demands.
func Rules() map[string]string {
	return map[string]string{
		RuleFrontMatter:      "A document begins with its front matter between two lines of three hyphens.",
		RuleYAMLSyntax:       "Front matter, step blocks and lists are well-formed YAML.",
		RuleYAMLFeature:      "YAML is used without anchors, aliases, merge keys, tags and further documents.",
		RuleYAMLSize:         "A piece of YAML stays within the bounds on size, depth and number of values.",
		RuleUnknownKey:       "Only the keys that the format names are used.",
		RuleDuplicateKey:     "A key stands once in its mapping.",
		RuleMissingKey:       "Every key that the format demands is there.",
		RuleWrongType:        "A value has the type and the form its key demands.",
		RuleRawHTML:          "Text holds no HTML; tags are shown as they are written.",
		RuleUnknownMarkdown:  "Only the parts of Markdown that every view can show are used.",
		RuleImage:            "An image is a figure of the handbook and stands alone in its paragraph.",
		RuleHeadingAttribute: "A heading has no attribute but its id.",
		RuleNesting:          "Text stays within the bounds on nesting.",
		RuleWork:             "A paragraph, a table and a file stay within the bounds on the work of reading them.",
	}
}
