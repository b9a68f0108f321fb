package contact

import (
	"regexp"
	"slices"
	"strings"
)

// Phrases finds the longest of a set of phrases at a place in a run of words.
// The zero value holds none.
type Phrases[T any] struct {
	byWords map[string][]T  // the words joined by spaces
	begins  map[string]bool // every beginning of a phrase, so that a search stops early
}

// Add makes words mean one more thing.
func (p *Phrases[T]) Add(words []string, what T) {
	if len(words) == 0 {
		return
	}
	if p.byWords == nil {
		p.byWords, p.begins = map[string][]T{}, map[string]bool{}
	}
	for i := range words {
		p.begins[strings.Join(words[:i+1], " ")] = true
	}
	key := strings.Join(words, " ")
	p.byWords[key] = append(p.byWords[key], what)
}

// At is what the longest phrase that begins at words[0] means, and how many
// words it has; 0 if none begins there.
func (p *Phrases[T]) At(words []string) (what []T, length int) {
	key := ""
	for i, w := range words {
		if i > 0 {
			key += " "
		}
		key += w
		if !p.begins[key] {
			break
		}
		if found, ok := p.byWords[key]; ok {
			what, length = found, i+1
		}
	}
	return what, length
}

// Begins reports whether some phrase begins with word.
func (p *Phrases[T]) Begins(word string) bool { return p.begins[word] }

// TooBare refuses a lone digit, which says nothing, and stop words alone.
func TooBare(words []string) bool {
	return !slices.ContainsFunc(words, func(w string) bool { return !Stop(w) && (len(words) > 1 || len(w) > 1 || w < "0" || w > "9") })
}

// Words lists, in order, the single words that phrases begin with.
func (p *Phrases[T]) Words() []string {
	var out []string
	for begin := range p.begins {
		if !strings.Contains(begin, " ") {
			out = append(out, begin)
		}
	}
	slices.Sort(out)
	return out
}

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

var contactNames = map[Atom]string{
	Hot: "a hot contact", L1: "the L1 contact", L2: "the L2 contact", N: "the neutral contact", G: "the grounding contact",
	Pos: "positive", Neg: "negative", Body: "the body", Soil: "the spike in the soil", Cover: "bare metal",
}

// String is the point in words: "the neutral contact of the panel".
func (p Point) String() string {
	name := contactNames[p.Contact]
	if p.Place == "" {
		return name
	}
	if place, ok := map[string]string{"dc": "12 V panel", "tow": "tow connector", "feed": "incoming feeder"}[p.Place]; ok {
		return name + " of the " + place
	}
	return name + " of the " + p.Place
}
