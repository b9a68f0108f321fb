package load

import (
	"bytes"
	"regexp"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// numberForm finds numbers with an electrical unit in running text.
var numberForm = regexp.MustCompile(`([0-9]+(?:\.[0-9]+)?)[ \x{00a0}\x{202f}]?(k|M|m|kilo|mega?|milli)?(V|Ω|A|[Vv]olts?|[Oo]hms?|[Aa]mps?|[Aa]mperes?)(?:[^\pL\pN]|$)`)

// numbers reports the numbers of a step's text that have no source: the step
// names none, no limit of the tree has the value, and it does not name a kind
// of receptacle.
func (r *treeReader) numbers(s *faulttree.Step, prose []document.Block) {
	if len(s.Sources) > 0 {
		return
	}
	from := r.offset(s.Pos)
	document.Inlines(prose, func(text []document.Inline) {
		for _, number := range r.unsourced(document.PlainInline(text)) {
			if r.full() {
				return
			}
			pos := s.Pos
			if at := bytes.Index(r.file.Text[from:], []byte(number)); at >= 0 {
				pos, from = r.file.Pos(from+at), from+at+len(number)
			}
			r.unsourcedAt(pos, number)
		}
	})
}

// phrase checks the numbers of a text in the step block.
func (r *stepReader) phrase(v document.Value) {
	if len(r.step.Sources) > 0 || !v.IsText() {
		return
	}
	for _, number := range r.unsourced(v.Text("")) {
		r.unsourcedAt(v.Pos(), number)
	}
}

func (r *treeReader) unsourcedAt(pos source.Pos, number string) {
	r.diags.Add(pos, RuleUnsourcedNumber, "%s has no source; give the step its sources, or name the value as a limit of the tree", number)
}

// unsourced lists the numbers of a text that are no named limit.
func (r *treeReader) unsourced(text string) []string {
	var out []string
	text = strings.ReplaceAll(text, "\u2126", "Ω")
	for _, at := range numberForm.FindAllStringSubmatchIndex(text, -1) {
		number := text[at[0]:at[7]]
		plain := text[at[2]:at[3]] + " " + text[max(at[4], 0):max(at[5], 0)] + text[at[6]:at[7]]
		m, err := parseMeasured(plain)
		if err == nil && (m.amount == 0 || r.isLimit(m) || isRating(m, text[at[7]:])) {
			continue
		}
		out = append(out, number)
	}
	return out
}

// ratingForm is what follows a current that names a supply, as in "a 50 A
// receptacle": the name of a configuration, not a value to judge by.
var ratingForm = regexp.MustCompile(`^[- ](plug|pin|pins|receptacle|receptacles|pedestal|supply|vehicle|cord|inlet|outlet|circuit|breaker|adapter|service|configuration|face)\b`)

func isRating(m measured, after string) bool {
	switch m.amount {
	case 15 * faulttree.One, 20 * faulttree.One, 30 * faulttree.One, 50 * faulttree.One:
		return m.symbol == "A" && ratingForm.MatchString(after)
	}
	return false
}

func (r *treeReader) isLimit(m measured) bool {
	for _, l := range r.tree.Limits {
		if l.Value == m.amount && l.Unit.Symbol() == m.symbol {
			return true
		}
	}
	return false
}

// offset is the byte offset of a position in the file.
func (r *treeReader) offset(p source.Pos) int {
	at := 0
	for n := 1; n < p.Line; n++ {
		i := bytes.IndexByte(r.file.Text[at:], '\n')
		if i < 0 {
			return at
		}
		at += i + 1
	}
	return at
}
