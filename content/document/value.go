package document

import (
	"fmt"
	"strconv"

	"go.yaml.in/yaml/v3"

	"faultwright/faulttree/source"
)

// Value is a YAML value with its place. The zero Value stands for one that is
// absent or could not be read; its accessors return nothing and report
// nothing, since whatever made it zero was reported before.
type Value struct {
	node *yaml.Node
	in   *reader
}

// IsZero reports whether there is no value.
func (v Value) IsZero() bool { return v.node == nil }

// Pos is where the value begins.
func (v Value) Pos() source.Pos {
	if v.node == nil {
		return source.Pos{}
	}
	return v.in.pos(v.node.Line, v.node.Column)
}

// IsMap reports whether v is a mapping.
func (v Value) IsMap() bool { return v.node != nil && v.node.Kind == yaml.MappingNode }

// IsList reports whether v is a list.
func (v Value) IsList() bool { return v.node != nil && v.node.Kind == yaml.SequenceNode }

// IsText reports whether v is a scalar other than null.
func (v Value) IsText() bool {
	return v.node != nil && v.node.Kind == yaml.ScalarNode && v.node.Tag != "!!null"
}

// Report adds an error at v.
func (v Value) Report(rule, hint, format string, args ...any) {
	if v.in != nil && len(*v.in.diags) < mostReports {
		v.in.diags.AddHint(v.Pos(), rule, hint, format, args...)
	}
}

// kind words what v is, for messages.
func (v Value) kind() string {
	switch {
	case v.IsMap():
		return "a mapping"
	case v.IsList():
		return "a list"
	case v.IsText():
		return strconv.Quote(source.Shown(v.node.Value))
	}
	return "nothing"
}

// Text is the scalar as it is written, or "" after a report that what is not
// text.
func (v Value) Text(what string) string {
	switch {
	case v.IsZero():
		return ""
	case !v.IsText():
		v.Report(RuleWrongType, "", "%s is %s; expected text", what, v.kind())
		return ""
	case len(v.node.Value) > mostText:
		v.Report(RuleYAMLSize, "", "%s is %d bytes long; at most %d are read", what, len(v.node.Value), mostText)
		return ""
	}
	return source.Shown(v.node.Value) // an escape may stand for any character
}

// Number is a whole number from low to high, or low after a report.
func (v Value) Number(what string, low, high int) int {
	if v.IsZero() {
		return 0
	}
	text := v.Text(what)
	if text == "" {
		return low
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < low || n > high {
		v.Report(RuleWrongType, "", "%s is %s; expected a whole number from %d to %d", what, v.kind(), low, high)
		return low
	}
	return n
}

// Items are the members of a list; a value that is no list is reported.
func (v Value) Items(what string) []Value {
	if v.IsZero() {
		return nil
	}
	if !v.IsList() {
		v.Report(RuleWrongType, "", "%s is %s; expected a list", what, v.kind())
		return nil
	}
	items := make([]Value, len(v.node.Content))
	for i, n := range v.node.Content {
		items[i] = Value{n, v.in}
	}
	return items
}

// Texts are the members of a list of texts.
func (v Value) Texts(what string) []string {
	var out []string
	for _, item := range v.Items(what) {
		if text := item.Text("an entry of " + what); text != "" {
			out = append(out, text)
		}
	}
	return out
}

// Field is one key of a mapping with its value.
type Field struct {
	Key    string
	KeyPos source.Pos
	Value  Value
}

// Fields are the keys of a mapping in document order, each once; keys that
// stand twice are reported, and so is a value that is no mapping.
func (v Value) Fields(what string) []Field {
	if v.IsZero() {
		return nil
	}
	if !v.IsMap() {
		v.Report(RuleWrongType, "", "%s is %s; expected keys and values", what, v.kind())
		return nil
	}
	var out []Field
	seen := map[string]source.Pos{}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		key := Value{v.node.Content[i], v.in}
		if !key.IsText() {
			key.Report(RuleWrongType, "", "a key of %s is %s; expected a word", what, key.kind())
			continue
		}
		name := source.Shown(key.node.Value)
		if first, twice := seen[name]; twice {
			add(v.in.diags, source.Diagnostic{
				Pos: key.Pos(), Rule: RuleDuplicateKey,
				Message: "the key " + name + " stands twice in " + what,
				Related: []source.Related{{Pos: first, Message: "first written here"}},
			})
			continue
		}
		seen[name] = key.Pos()
		out = append(out, Field{Key: name, KeyPos: key.Pos(), Value: Value{v.node.Content[i+1], v.in}})
	}
	return out
}

// mostAlike is how many errors of one kind in one mapping are told one by one;
// the rest are summed up.
const mostAlike = 5

// Map is a mapping whose keys are known.
type Map struct {
	what   string
	whole  Value
	fields map[string]Field
}

// Map reads a mapping that may hold the allowed keys and no others.
func (v Value) Map(what string, allowed ...string) Map {
	m := Map{what: what, whole: v, fields: map[string]Field{}}
	unknown := 0
	var after source.Pos // where the unknown keys begin that are summed up
	for _, f := range v.Fields(what) {
		known := false
		for _, a := range allowed {
			known = known || a == f.Key
		}
		if !known {
			if unknown++; unknown > mostAlike {
				if unknown == mostAlike+1 {
					after = f.KeyPos
				}
				continue
			}
			hint := source.DidYouMean(f.Key, allowed)
			if f.Value.kind() == "nothing" && v.node.Style&yaml.FlowStyle != 0 {
				hint = "the comma before it ends a value; put a text with a comma in quotes"
			}
			add(v.in.diags, source.Diagnostic{Pos: f.KeyPos, Rule: RuleUnknownKey, Hint: hint, Message: what + " has no key " + f.Key})
			continue
		}
		m.fields[f.Key] = f
	}
	if rest := unknown - mostAlike; rest > 0 {
		add(v.in.diags, source.Diagnostic{Pos: after, Rule: RuleUnknownKey, Message: fmt.Sprintf("from here on %d more keys stand here that %s does not have", rest, what)})
	}
	return m
}

// Get is the value of a key, or the zero Value without a report.
func (m Map) Get(key string) Value { return m.fields[key].Value }

// KeyPos is where a key stands; the mapping's own place if it is absent.
func (m Map) KeyPos(key string) source.Pos {
	if f, ok := m.fields[key]; ok {
		return f.KeyPos
	}
	return m.whole.Pos()
}

// Has reports whether the key is there.
func (m Map) Has(key string) bool {
	_, ok := m.fields[key]
	return ok
}

// Need is Get for a key that must be there.
func (m Map) Need(key string) Value {
	if !m.Has(key) && m.whole.IsMap() {
		m.whole.Report(RuleMissingKey, "", "%s lacks the key %s", m.what, key)
	}
	return m.Get(key)
}

// NeedText is the text of a key that must be there and must not be empty.
func (m Map) NeedText(key string) string {
	v := m.Need(key)
	text := v.Text(key)
	if text == "" && v.IsText() {
		v.Report(RuleWrongType, "", "%s is empty; expected text", key)
	}
	return text
}

// Text is the text of a key, or "".
func (m Map) Text(key string) string { return m.Get(key).Text(key) }

// Texts is the list of texts of a key, or nil.
func (m Map) Texts(key string) []string { return m.Get(key).Texts(key) }
