package contact

import "regexp"

var (
	denied     = regexp.MustCompile(`(?i)(?:\b(?:no|not|never|without|instead of|rather than|(?:more|less|higher|lower) than|above|below|at least|at most|should (?:be|read|show|see)|supposed to (?:be|read|show)|expect\w*)|n['’]t|\b(?:is|was|are|were|do|does|did|has|have|had|ca|wo|would|could|should)nt)\s+(?:(?:the|a|read|show|get|see|even|be|quite|about)\s+)?$`)
	elsewhere  = regexp.MustCompile(`(?i)\b(?:neighbou?r\w*|next (?:site|pitch|pedestal|post|boat)|other (?:site|pitch|pedestal|post)|another)\b`)
	otherUnits = Set(`hz hertz khz w watt watts kw kva va wh kwh ah amphours hour hours hr hrs h min mins minute minutes second seconds sec
		ft foot feet m metre metres meter meters cm mm inch inches yard yards mile miles km mph % percent ° degree degrees deg c f gauge awg
		day days week weeks month months year years times psi bar litre litres liter liters gallon gallons kg lb lbs btu cell cells
		pin pins prong prongs pole poles outlets receptacles breakers batteries wires`)
)

// Denied reports whether text ends in words that say of the figure behind it
// that it was not read: "should be".
func Denied(text string) bool { return denied.MatchString(text) }

// Elsewhere reports whether text speaks of a supply that is not the one in
// question.
func Elsewhere(text string) bool { return elsewhere.MatchString(text) }

// OtherUnit reports whether word behind a number counts something that no
// meter of ours measures.
func OtherUnit(word string) bool { return otherUnits[word] }
