package search

import (
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"

	"faultwright/faulttree"
)

// atom is what a word of a query says about where a reading was taken. Its
// first letter tells the sort: a place ("@pedestal"), a contact (".n"), a
// condition ("+loaded"). The body and the earth are contacts of their own.
type atom string

const (
	atHot   atom = ".hot" // a hot contact, it is not said which
	atL1    atom = ".l1"
	atL2    atom = ".l2"
	atN     atom = ".n"
	atG     atom = ".g"
	atPos   atom = ".pos"
	atNeg   atom = ".neg"
	atBody  atom = ".body"
	atEarth atom = ".earth"
	atBoth  atom = ".l1+.l2" // "between the hots"
)

func (a atom) place() (string, bool)     { return strings.CutPrefix(string(a), "@") }
func (a atom) condition() (string, bool) { return strings.CutPrefix(string(a), "+") }

// seeds are words for atoms. Every word that shares a group of synonyms with
// the first word of a line means the same atom; the others stand for
// themselves, and outrank the groups.
var seeds = []struct {
	atom    atom
	grouped string   // whose groups of synonyms count; "" for none
	own     []string // further words
}{
	{atBody, "body", []string{"bare metal", "tongue", "wheel", "rim", "hub", "awning arm", "metal"}},
	{atEarth, "earth", []string{"spike", "the soil", "lawn", "grass"}},
	{atHot, "hot wire", []string{"hot", "live", "hot slot", "hot pin", "hot contact"}},
	{atL1, "", []string{"L1", "l 1", "leg 1", "line 1", "hot 1", "leg one", "first leg", "first hot", "leg A", "phase 1"}},
	{atL2, "", []string{"L2", "l 2", "leg 2", "line 2", "hot 2", "leg two", "second leg", "second hot", "other leg", "other hot", "leg B", "phase 2"}},
	{atBoth, "", []string{"hots", "legs", "lines", "phases", "two legs", "two hots", "both hots", "both legs", "hot to hot", "leg to leg", "hot and hot", "line to line", "hot hot"}},
	{atN, "neutral", []string{"the neutral pin", "neutral contact"}},
	{atG, "ground", []string{"grounding", "grounding pin", "ground contact", "grounding contact", "ground hole"}},
	{atPos, "", []string{"positive", "plus", "positive post", "pos"}},
	{atNeg, "", []string{"negative", "minus", "negative post", "neg"}},
	{"@pedestal", "pedestal", []string{"pedestal receptacle", "pedestal outlet", "post"}},
	{"@outlet", "outlet", []string{"slot", "wall"}},
	{"@plug", "plug", []string{"pulled plug"}},
	{"@cord", "cord", nil},
	{"@inlet", "inlet", nil},
	{"@adapter", "adapter", nil},
	{"@panel", "panel", nil},
	{"@generator", "generator", nil},
	{"@inverter", "inverter", nil},
	{"@battery", "battery", nil},
	{"@converter", "converter", nil},
	{"@tow", "tow plug", []string{"tow connector"}},
	{"@dc", "12 volt", nil},
	{"@meter", "", []string{"known source", "known live source"}},
	{"+loaded", "", []string{"loaded", "under load", "load on", "loads on", "load running", "with load", "running", "with everything on"}},
	{"+unplugged", "", []string{"unplugged", "plug out", "plug pulled", "pulled"}},
	{"+main-off", "", []string{"main off", "main breaker off", "everything off", "all off"}},
	{"+lowz", "low impedance", []string{"low impedance meter"}},
	{"+rest", "", []string{"at rest", "rested", "resting"}},
}

// newAtoms gathers the words for every atom.
func newAtoms(synonyms [][]string, cut analysis.Analyzer) phrases[atom] {
	var found phrases[atom]
	mine := map[string]bool{}
	put := func(text string, a atom, own bool) {
		w := stems(cut, text)
		key := strings.Join(w, " ")
		if own {
			mine[key] = true
		} else if mine[key] || tooBare(w) {
			return
		}
		found.add(w, a)
	}
	for _, s := range seeds {
		for _, text := range s.own {
			put(text, s.atom, true)
		}
	}
	for _, s := range seeds {
		if s.grouped == "" {
			continue
		}
		put(s.grouped, s.atom, true)
		for _, group := range synonyms {
			if !containsFold(group, s.grouped) {
				continue
			}
			for _, member := range group {
				put(member, s.atom, false)
			}
		}
	}
	return found
}

func containsFold(list []string, word string) bool {
	for _, w := range list {
		if strings.EqualFold(w, word) {
			return true
		}
	}
	return false
}

// place is what was said about where and how a reading was taken.
type said struct {
	contacts   []atom
	places     []string
	conditions []string
}

func (s said) nothing() bool { return len(s.contacts) == 0 && len(s.places) == 0 }

func (s said) has(a atom) bool {
	for _, c := range s.contacts {
		if c == a {
			return true
		}
	}
	return false
}

// sayings reads the atoms of a query.
func sayings(atoms phrases[atom], words []string) said {
	var s said
	for i := 0; i < len(words); {
		found, n := atoms.at(words[i:])
		if n == 0 {
			i++
			continue
		}
		i += n
		a := found[0]
		if p, ok := a.place(); ok {
			s.places = appendNew(s.places, p)
		} else if c, ok := a.condition(); ok {
			s.conditions = appendNew(s.conditions, c)
		} else if a == atBoth {
			s.contacts = appendNew(appendNew(s.contacts, atL1), atL2)
		} else if a == atHot && s.has(atHot) {
			s.contacts = []atom{atL1, atL2}
		} else {
			s.contacts = appendNew(s.contacts, a)
		}
	}
	if s.has(atL1) || s.has(atL2) { // "the hot leg 2" names one contact
		s.contacts = without(s.contacts, atHot)
	}
	// A pedestal's receptacle and a plug's prongs are one place each.
	if contains(s.places, "pedestal") || contains(s.places, "plug") {
		s.places = without(s.places, "outlet")
	}
	return s
}

func appendNew[T comparable](list []T, x T) []T {
	if contains(list, x) {
		return list
	}
	return append(list, x)
}

func contains[T comparable](list []T, x T) bool {
	for _, y := range list {
		if y == x {
			return true
		}
	}
	return false
}

func without[T comparable](list []T, x T) []T {
	var out []T
	for _, y := range list {
		if y != x {
			out = append(out, y)
		}
	}
	return out
}

// contactOf is the atom of a test point, and the place it lies in.
func contactOf(point string) (a atom, place string) {
	place, contact, ok := strings.Cut(point, ".")
	switch {
	case point == "body" || point == "earth":
		return atom("." + point), ""
	case !ok:
		return "", place
	}
	contact = strings.TrimPrefix(contact, "out-")
	switch contact {
	case "h":
		return atHot, place
	case "aux":
		return atPos, place
	case "gnd":
		return atNeg, place
	}
	return atom("." + contact), place
}

// matches is how well a word for a contact names the contact of a quantity.
func (a atom) matches(c atom, s said) float64 {
	switch {
	case a == c:
		return 1
	case a == atHot && c == atL1, a == atL1 && c == atHot:
		return 0.95
	case a == atHot && c == atL2:
		return 0.85
	case a == atG && c == atEarth && s.has(atBody): // "from the bumper to ground" means the soil
		return 0.9
	case a == atG && c == atEarth, a == atEarth && c == atG:
		return 0.4
	}
	return 0
}

// Costs of what a quantity needs and the query does not say.
var unsaid = map[atom]float64{atEarth: 1.2, atBody: 1.5, atG: 0.6, atN: 0.6, atL1: 0.5, atHot: 0.5, atL2: 0.8}

var unsaidPlace = map[string]float64{"pedestal": 0.2, "outlet": 0.3, "plug": 0.4}

var unsaidCondition = map[faulttree.Condition]float64{
	faulttree.Loaded: 0.5, faulttree.LowZ: 1, faulttree.MainOff: 1, faulttree.Rest: 0.2, faulttree.Unplugged: 0.3,
}
