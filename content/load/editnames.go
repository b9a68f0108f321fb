package load

import (
	"regexp"
	"slices"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// useKind is what an edit names in a rig.
type useKind uint8

const (
	usePart useKind = iota
	useNode
	useSwitch
	useRun // a part or a whole run, in a set
	useAny // a part, a whole run, a node, or the nodes of a group
)

// use is a name in an edit or a choice that some rig must have.
type use struct {
	kind useKind
	name string
	pos  source.Pos
}

// list reads the names of an edit.
func (r *editReader) list(v document.Value, kind useKind) []string {
	what := map[useKind]string{usePart: "a part", useNode: "a node", useRun: "a part"}[kind]
	items := v.Items("the names of an edit")
	if v.IsList() && (len(items) == 0 || len(items) > mostNames) {
		v.Report(RuleBadEdit, "", "the edit names %d things; expected 1 to %d", len(items), mostNames)
		return nil
	}
	return r.inRigs(items, kind, what, "the edit")
}

// inRigs reads names that some rig must have, and notes them for the checks to
// come. In says where they stand, what each of them is. They are mostNames at most.
func (p *part) inRigs(items []document.Value, kind useKind, what, in string) []string {
	var out []string
	if len(items) > mostNames {
		items[mostNames].Report(RuleListSize, "", "%s has %d entries; from this one on none is read, as there may be %d", in, len(items), mostNames)
		items = items[:mostNames]
	}
	for _, item := range items {
		name := item.Text(what)
		switch {
		case name == "":
		case slices.Contains(out, name):
			item.Report(RuleDuplicateID, "", "%s stands twice in %s", name, in)
		default:
			out = append(out, name)
			p.uses = append(p.uses, use{kind, name, item.Pos()})
		}
	}
	return out
}

// hertzName is the number of a whole rig that a set names without a part.
const hertzName = "hertz"

// set reads attributes and the value they take, one edit for each attribute.
func (r *editReader) set(e rig.Edit, v, value document.Value) []rig.Edit {
	items := v.Items("the names of an edit")
	if v.IsList() && (len(items) == 0 || len(items) > mostNames) {
		v.Report(RuleBadEdit, "", "the edit names %d things; expected 1 to %d", len(items), mostNames)
		return nil
	}
	var out []rig.Edit
	var unit rig.ParamUnit
	for _, item := range items {
		name := item.Text("an attribute")
		if name == "" {
			continue
		}
		attr, part, u, ok := r.attribute(item, name)
		if !ok {
			continue
		}
		if unit == 0 {
			unit = u
		} else if u != unit {
			item.Report(RuleUnitMismatch, "", "%s is in %s, but the name before it in %s", name, unitWord(u), unitWord(unit))
			continue
		}
		if n := len(out); n > 0 && out[n-1].Attr == attr && part != "" {
			out[n-1].Parts = append(out[n-1].Parts, part)
			continue
		}
		next := e
		next.Attr = attr
		if part != "" {
			next.Parts = []string{part}
		}
		out = append(out, next)
	}
	if unit == 0 {
		return out
	}
	amount := r.amount(value, "value", unit)
	for i := range out {
		out[i].Value = amount
	}
	return out
}

// attribute takes "cord.length" apart. A number of the whole rig has no part.
func (r *editReader) attribute(item document.Value, name string) (rig.Attribute, string, rig.ParamUnit, bool) {
	if name == hertzName {
		return 0, "", rig.Hertz, true
	}
	dot := strings.LastIndexByte(name, '.')
	word := name[dot+1:]
	var words []string
	for a := rig.AttrVolts; a <= rig.AttrLimit; a++ {
		words = append(words, a.String())
		if dot > 0 && a.String() == word {
			r.uses = append(r.uses, use{useRun, name[:dot], item.Pos()})
			return a, name[:dot], attributeUnits[a], true
		}
	}
	if dot < 0 {
		item.Report(RuleBadEdit, source.DidYouMean(name, []string{hertzName}), "%s names no attribute; expected a form such as cord.length, or hertz", name)
		return 0, "", 0, false
	}
	item.Report(RuleBadEdit, source.DidYouMean(word, words), "%s is no attribute of a part; expected one of %s", word, strings.Join(words, ", "))
	return 0, "", 0, false
}

var severityForm = regexp.MustCompile(`^severity(?: x (-?[0-9]{1,9}(?:\.[0-9]{1,9})?))?$`)

// amount reads a number of an edit, which may be the fault's severity.
func (r *editReader) amount(v document.Value, what string, u rig.ParamUnit) rig.EditValue {
	text := v.Text(what)
	if !strings.HasPrefix(text, "severity") {
		x, _ := readValue(v, what, u)
		return rig.EditValue{Fixed: x}
	}
	m := severityForm.FindStringSubmatch(text)
	if m == nil {
		v.Report(RuleBadEdit, "", "%q is not a severity; expected severity, or a form such as severity x 0.5", text)
		return rig.EditValue{}
	}
	out := rig.EditValue{Severity: true, Factor: 1}
	if m[1] != "" {
		out.Factor, _, _ = parseAny(m[1])
	}
	r.used = true
	switch {
	case r.severity == nil:
		v.Report(RuleSeverity, "", "the edit uses the severity, but the fault declares none")
	case out.Factor == 0:
		v.Report(RuleBadEdit, "", "the severity times 0 is nothing")
	case out.Factor < 0 && !mayBeNegative(u):
		v.Report(RuleBadEdit, "", "the severity times %s is below zero", m[1])
	case r.severity.Unit != 0 && r.severity.Unit != u:
		v.Report(RuleUnitMismatch, "", "%s is in %s, but the severity in %s", what, unitWord(u), unitWord(r.severity.Unit))
	}
	return out
}
