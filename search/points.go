package search

import (
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"
)

// atom is what a word of a query says about where a reading was taken. Its
// first letter tells the sort: a place ("@pedestal"), a contact (".n"), a
// condition ("+loaded"), a word that parts two points ("|").
type atom string

const (
	atHot    atom = ".hot" // a hot contact, it is not said which
	atL1     atom = ".l1"
	atL2     atom = ".l2"
	atN      atom = ".n"
	atG      atom = ".g" // a grounding contact or conductor
	atPos    atom = ".pos"
	atNeg    atom = ".neg"
	atLeads  atom = ".leads"
	atTips   atom = ".tips"
	atBody   atom = ".body"
	atSoil   atom = ".earth"       // the spike in the soil
	atGround atom = ".ground-word" // "ground": a contact, but beside the body perhaps the soil
	atEarth  atom = ".earth-word"  // "earth": a contact, but beside the body or a contact of ground the soil
	atBoth   atom = ".l1+.l2"      // "hot to hot"
	atPlural atom = ".legs"        // "the hots": both where they are measured between, else each by itself
	atEnds   atom = "|ends"        // from one end of the cord to the other
	atAcross atom = "|between"     // as atPart
	atTo     atom = "|to"          // the other point follows
	atOf     atom = "|of"          // what follows owns what was said before
	atNot    atom = "|not"         // denies the condition that follows
	atStop   atom = "|;"           // no point runs across it
	atPart   atom = "|"            // the next word belongs to another point
	atSite   atom = "|at"          // what follows is where it was done
)

func (a atom) place() (string, bool)     { return strings.CutPrefix(string(a), "@") }
func (a atom) condition() (string, bool) { return strings.CutPrefix(string(a), "+") }

// seeds are words for atoms. Every word that shares a group of synonyms with
// the word "grouped" means the same atom; the others stand for themselves,
// and outrank the groups.
var seeds = []struct {
	atom    atom
	grouped string // "" for none
	own     []string
}{
	{atPart, "", []string{"and", "from"}},
	{atTo, "", []string{"to", "against", "versus", "vs", "onto"}},
	{atAcross, "", []string{"between", "across"}},
	{atOf, "", []string{"of"}},
	{atNot, "", []string{"no", "not", "without"}},
	{atEnds, "", []string{"end to end", "from one end to the other", "from end to end"}},
	{atSite, "", []string{"at", "on", "in", "inside"}},
	{atBody, "body", []string{"bare metal", "tongue", "wheel", "rim", "hub", "awning arm"}},
	{atSoil, "earth spike", []string{"spike", "the soil", "lawn", "grass"}},
	{atSoil, "ground rod", nil},
	{atGround, "", []string{"ground"}},
	{atEarth, "", []string{"earth", "e"}},
	{atG, "ground", []string{"grounding", "grounding pin", "ground contact", "grounding contact", "ground hole", "ground bar", "ground bus", "ground prong", "ground slot", "earth pin", "earth contact", "earth bar", "earth terminal", "earth hole", "earth slot", "earth lead", "PE", "G"}},
	{atHot, "hot wire", []string{"hot", "live", "hot slot", "hot pin", "hot contact", "live pin", "H", "L"}},
	{atL1, "", []string{"L1", "l 1", "leg 1", "line 1", "hot 1", "leg one", "first leg", "first hot", "leg A", "phase 1"}},
	{atL2, "", []string{"L2", "l 2", "leg 2", "line 2", "hot 2", "leg two", "second leg", "second hot", "other leg", "other hot", "leg B", "phase 2"}},
	{atBoth, "", []string{"hot to hot", "leg to leg", "hot and hot", "line to line", "hot hot"}},
	{atN, "neutral", []string{"the neutral pin", "neutral contact", "neutral slot", "neutral bar", "N"}},
	{atPos, "", []string{"positive", "plus", "positive post", "positive terminal", "pos"}},
	{atNeg, "", []string{"negative", "minus", "negative post", "negative terminal", "neg"}},
	{atLeads, "", []string{"leads together", "tips together", "leads touching", "leads shorted", "tips touching", "probes together", "probes touching"}},
	{atTips, "", []string{"leads apart", "tips apart", "probes apart"}},
	{"@pedestal", "pedestal", []string{"pedestal receptacle", "pedestal outlet", "post"}},
	{"@outlet", "outlet", []string{"slot", "wall"}},
	{"@plug", "plug", []string{"pulled plug", "cord plug", "plug of the cord"}},
	{"@cord", "cord", nil},
	{"@inlet", "inlet", nil},
	{"@adapter", "adapter", nil},
	{"@feed", "", []string{"feeder", "incoming feed", "incoming feeder"}},
	{"@panel", "panel", nil},
	{"@generator", "generator", nil},
	{"@inverter", "inverter", nil},
	{"@battery", "battery", []string{"battery post", "battery posts", "battery terminal", "battery terminals"}},
	{"@converter", "converter", nil},
	{"@tow", "tow plug", []string{"tow connector"}},
	{"@dc", "12 volt", []string{"12 volt panel", "12 v panel", "DC panel"}},
	{"@meter", "", []string{"known source", "known live source"}},
	{"+loaded", "", []string{"loaded", "under load", "load on", "loads on", "load running", "with load", "running", "with everything on", "everything on", "switched on", "everything running"}},
	{"+unplugged", "", []string{"unplugged", "plug out", "plug pulled", "pulled"}},
	{"+main-off", "", []string{"main off", "main breaker off", "everything off", "all off"}},
	{"+lowz", "low impedance", []string{"low impedance meter"}},
	{"+rest", "", []string{"at rest", "rested", "resting", "overnight"}},
}

// plurals are words whose stem is that of one leg. They go by pluralTerm.
var plurals = setOf("hots legs lines phases lives")

// Terms that no text has.
const (
	pluralTerm = "legs+"
	stopTerm   = ";"
)

// newAtoms gathers the words for every atom.
func newAtoms(synonyms [][]string, cut analysis.Analyzer) phrases[atom] {
	var found phrases[atom]
	found.add([]string{pluralTerm}, atPlural)
	found.add([]string{stopTerm}, atStop)
	taken := map[string]bool{}
	put := func(text string, a atom) {
		w := stems(cut, text)
		if key := strings.Join(w, " "); !taken[key] {
			taken[key] = true
			found.add(w, a)
		}
	}
	for _, s := range seeds {
		for _, text := range s.own {
			put(text, s.atom)
		}
	}
	for _, s := range seeds {
		if s.grouped == "" {
			continue
		}
		put(s.grouped, s.atom)
		for _, group := range synonyms {
			if !containsFold(group, s.grouped) {
				continue
			}
			for _, member := range group {
				if !tooBare(stems(cut, member)) {
					put(member, s.atom)
				}
			}
		}
	}
	return found
}

func containsFold(list []string, word string) bool {
	return slices.ContainsFunc(list, func(w string) bool { return strings.EqualFold(w, word) })
}

// point is one of the points that a query says a probe touched. Either part
// may be unsaid.
type point struct {
	contact atom
	place   string
	sited   bool // "at the pedestal": where it was done, unless a contact follows
	awaited bool // "to the pedestal": a point, though no contact is said
}

// said is what a query says about where and how a reading was taken.
type said struct {
	points     []point
	site       string // where it was done, for points that name no place
	conditions []string
	unknown    bool // the other point was said, in words that name none: "hot to the sink"
}

// contacts is how many of the points name a contact.
func (s said) contacts() int {
	n := 0
	for _, p := range s.points {
		if p.contact != "" {
			n++
		}
	}
	return n
}

func (s said) has(a atom) bool {
	return slices.ContainsFunc(s.points, func(p point) bool { return p.contact == a })
}

// onlyPlace is the place that points name, where they name one only.
func onlyPlace(points []point) string {
	place := ""
	for _, p := range points {
		switch {
		case p.place == "" || p.place == place:
		case place != "":
			return ""
		default:
			place = p.place
		}
	}
	return place
}

// pointReader is where the reading of a query's points stands.
type pointReader struct {
	said
	last        atom // what ended at the word before; "" for another word
	parted      bool // a word parted what comes from the point before
	sited       bool // "at": what comes may be only where it was done
	across      bool // "between" was said
	ends        bool // "end to end" was said
	open, other bool // the other point is awaited, and a word that names none stood there
	strange     bool // "fence to": what stood before the link is no point that we know
}

// readPoints reads the points of a query. A contact and a place are one point
// where no word parts them: "hot to the neutral of the plug" are two.
func readPoints(atoms phrases[atom], words []string) said {
	r := pointReader{parted: true}
	for i := 0; i < len(words); {
		found, n := atoms.at(words[i:])
		if n == 0 {
			if !stopSet[words[i]] && !weakWords[words[i]] {
				r.other, r.strange = true, false
			}
			if r.last != atOf || !stopSet[words[i]] { // "of the generator"
				r.last = ""
			}
			i++
			continue
		}
		r.read(found[0])
		r.last = found[0]
		i += n
	}
	r.read(atStop)
	r.resolve()
	if r.ends && len(r.points) == 1 {
		c := r.points[0].contact
		r.points, r.site = []point{{contact: c, place: "plug"}, {contact: c, place: "cord"}}, ""
	}
	return r.said
}

// read takes the next atom.
func (r *pointReader) read(a atom) {
	if c, ok := a.condition(); ok {
		if r.last != atNot {
			r.conditions = appendNew(r.conditions, c)
		}
		return
	}
	switch a {
	case atPart, atAcross, atTo, atStop:
		r.unknown = r.unknown || r.open && r.other && a == atStop
		link := a == atTo || a == atPart && r.across
		r.strange = link && r.last == "" && r.other
		r.open = a == atTo && (strings.HasPrefix(string(r.last), ".") || strings.HasPrefix(string(r.last), "@")) || a == atPart && r.across
		r.parted, r.sited, r.other = true, false, false
		r.across = r.across || a == atAcross
	case atEnds:
		r.ends = true
	case atSite:
		r.sited = true
	case atOf, atNot: // see last
	case atPlural, atBoth:
		if a == atPlural && !r.across { // which of them is not said
			r.add(a)
		} else {
			r.points = append(r.points, point{contact: atL1}, point{contact: atL2})
		}
		r.parted, r.sited, r.open = false, false, false
	default:
		r.add(a)
		r.parted, r.sited, r.open = false, false, false
	}
}

// add puts a contact or a place to the point being said, or begins another.
// The body and the soil have no place, unless it owns them: "the frame of the
// generator" is another body.
func (r *pointReader) add(a atom) {
	cur := &point{contact: atStop}
	if len(r.points) > 0 && !r.parted {
		cur = &r.points[len(r.points)-1]
	}
	whole := func(c atom) bool { return c == atBody || c == atSoil }
	r.unknown, r.strange = r.unknown || r.strange, false
	place, isPlace := a.place()
	_, afterPlace := r.last.place()
	switch {
	case isPlace && cur.contact != atStop && (!whole(cur.contact) || r.last == atOf):
		if cur.place == "" || cur.place == "cord" || cur.place == "outlet" {
			cur.place = place
		}
	case isPlace:
		r.points = append(r.points, point{place: place, sited: r.sited, awaited: r.open})
	case cur.contact == "" && (!whole(a) || afterPlace):
		cur.contact, cur.sited, cur.awaited = a, false, false
	case cur.contact == atHot && (a == atL1 || a == atL2), cur.contact == atGround && a == atG:
		cur.contact = a
	case cur.contact == a, (cur.contact == atL1 || cur.contact == atL2) && a == atHot, cur.contact == atG && a == atGround:
	default:
		r.points = append(r.points, point{contact: a})
	}
}

// resolve drops what was said twice, takes a place by itself for the site where
// points are said beside it, and decides what "ground" and "earth" mean.
func (s *said) resolve() {
	var points []point
	for _, p := range s.points {
		named := p.contact != "" || !p.sited && len(s.points) == 2 && s.has(atBody) // "plug to frame"
		s.unknown = s.unknown || p.awaited && !named
		p.awaited = false
		switch {
		case named:
			points = appendNew(points, p)
		case s.site == "" || s.site == "outlet" || s.site == "cord":
			s.site = p.place
		}
	}
	if len(points) == 1 && len(s.points) > 1 && s.points[0] == s.points[1] && points[0].contact != atBody {
		s.unknown = true // "L1 to L1": one of the two was meant to be another
	}
	if site := onlyPlace(points); s.site == "" {
		s.site = site
	}
	if len(points) == 2 && points[0].contact == points[1].contact && (points[0].place == "" || points[1].place == "") {
		s.unknown = true // "the L1 of the panel to L1"
	}
	s.points = points
	for i := range s.points {
		p := &s.points[i]
		if p.contact == atPlural && len(s.points) > 1 {
			p.contact = atHot // "the legs to neutral"
		}
		beside := func(contacts ...atom) bool {
			return slices.ContainsFunc(s.points, func(o point) bool { return o != *p && slices.Contains(contacts, o.contact) })
		}
		switch {
		case p.contact == atGround && (p.place != "" || !beside(atBody)), p.contact == atEarth && (p.place != "" || !beside(atBody, atG, atGround)):
			p.contact = atG
		case p.contact == atEarth:
			p.contact = atSoil
		}
	}
}

func appendNew[T comparable](list []T, x T) []T {
	if slices.Contains(list, x) {
		return list
	}
	return append(list, x)
}

// pointOf is a test point of the handbook, taken apart.
func pointOf(id string) point {
	if id == "body" || id == "earth" {
		return point{contact: atom("." + id)}
	}
	place, contact, _ := strings.Cut(id, ".")
	contact = strings.TrimPrefix(contact, "out-")
	switch contact {
	case "h":
		return point{contact: atHot, place: place}
	case "aux":
		return point{contact: atPos, place: place}
	case "gnd":
		return point{contact: atNeg, place: place}
	case "known-source":
		return point{contact: "", place: place}
	}
	return point{contact: atom("." + contact), place: place}
}
