package search

import (
	"slices"
	"strings"
)

// point is one of the points that a query says a probe touched. Either part
// may be unsaid.
type point struct {
	contact atom
	place   string
	sited   bool // "at the pedestal": where it was done, unless a contact follows
	awaited bool // "to the pedestal": a point, though no contact is said
	from    bool // "pedestal to …": the same, where another point follows
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
	if a == "" { // a state of loads that is like any other
		return
	}
	if c, ok := a.condition(); ok {
		if r.last != atNot {
			r.conditions = appendNew(r.conditions, c)
		}
		return
	}
	switch a {
	case atSeparator, atAcross, atTo, atStop:
		r.unknown = r.unknown || r.open && r.other && a == atStop
		link := a == atTo || a == atSeparator && r.across
		if n := len(r.points); link && n > 0 && strings.HasPrefix(string(r.last), "@") && !r.points[n-1].sited {
			r.points[n-1].from = true // "battery to converter positive": not where it was done
		}
		r.strange = link && r.last == "" && r.other
		r.open = a == atTo && (strings.HasPrefix(string(r.last), ".") || strings.HasPrefix(string(r.last), "@")) || a == atSeparator && r.across
		r.parted, r.sited, r.other = true, false, false
		r.across = r.across || a == atAcross
	case atEnds:
		r.ends = true
	case atSite:
		r.sited = true
	case atOf, atNot, atSupply: // see last
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
		r.points = append(r.points, point{contact: a, awaited: r.open})
	}
}

// resolve drops what was said twice, and takes a place by itself for the site
// where points are said beside it.
func (s *said) resolve() {
	var points []point
	if len(s.points) == 2 && s.points[0].contact == atBody && s.points[1].contact == atBody && s.points[1].awaited {
		s.unknown = true // "door frame to step": neither is the soil
	}
	same := len(s.points) > 1 && s.points[0].contact == s.points[1].contact && s.points[0].place == s.points[1].place
	for i, p := range s.points {
		named := p.contact != "" || !p.sited && len(s.points) == 2 && s.has(atBody) // "plug to frame"
		s.unknown = s.unknown || !named && (p.awaited || p.from && i < len(s.points)-1)
		p.awaited, p.from = false, false
		switch {
		case named:
			points = appendNew(points, p)
		case s.site == "" || s.site == "outlet" || s.site == "cord":
			s.site = p.place
		}
	}
	if len(points) == 1 && same && points[0].contact != atBody {
		s.unknown = true // "L1 to L1": one of the two was meant to be another
	}
	if site := onlyPlace(points); s.site == "" {
		s.site = site
	}
	s.points = points
	s.resolveWords()
	if p := s.points; len(p) == 2 && p[0].contact == p[1].contact && (p[0].place == "" || p[1].place == "") {
		s.unknown = true // "the L1 of the panel to L1"
	}
}

// resolveWords decides what "ground", "earth" and "legs" mean beside the other
// point.
func (s *said) resolveWords() {
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
