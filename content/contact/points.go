package contact

import (
	"slices"
	"strings"

	"faultwright/faulttree/lists"
)

// Point is one of the points that a text says a probe touched. Either part
// may be "", unsaid.
type Point struct {
	Contact Atom
	Place   string
	sited   bool // "at the pedestal": where it was done, unless a contact follows
	awaited bool // "to the pedestal": a point, though no contact is said
	from    bool // "pedestal to …": the same, where another point follows
}

// Said is what a text says about where and how a reading was taken.
type Said struct {
	Points        []Point
	Site          string // where it was done, for points that name no place
	Conditions    []string
	LoadsOff      bool // the loads are off; most readings are taken so
	SeveralPlaces bool // more than one place was said, and it is not clear which is meant
	Unknown       bool // the other point was said, in words that name none: "hot to the sink"
}

// WithRunning is what was said, with "running" taken for loads, or for a source of
// the vehicle's own where that is the place: the one said, or else site.
func (s Said) WithRunning(site string) Said {
	running, _ := Running.Condition()
	at := slices.Index(s.Conditions, running)
	if at < 0 {
		return s
	}
	state := "loaded"
	if s.Site != "" {
		site = s.Site
	}
	if site == "generator" || site == "inverter" || site == "tow" {
		state, _ = Live.Condition()
	}
	s.Conditions = lists.With(slices.Delete(slices.Clone(s.Conditions), at, at+1), state)
	return s
}

// Contacts is how many of the points name a contact.
func (s Said) Contacts() int {
	return lists.Count(s.Points, func(p Point) bool { return p.Contact != "" })
}

// Has reports whether a point is such a contact.
func (s Said) Has(a Atom) bool {
	return slices.ContainsFunc(s.Points, func(p Point) bool { return p.Contact == a })
}

// OnlyPlace is the place that points name, where they name one only.
func OnlyPlace(points []Point) string {
	place := ""
	for _, p := range points {
		switch {
		case p.Place == "" || p.Place == place:
		case place != "":
			return ""
		default:
			place = p.Place
		}
	}
	return place
}

// pointReader is where the reading of a query's points stands.
type pointReader struct {
	Said
	last        Atom // what ended at the word before; "" for another word
	parted      bool // a word parted what comes from the point before
	sited       bool // "at": what comes may be only where it was done
	across      bool // "between" was said
	ends        bool // "end to end" was said
	open, other bool // the other point is awaited, and a word that names none stood there
	strange     bool // "fence to": what stood before the link is no point that we know
}

// Read reads what words say, in the form that atoms have them. A contact and a
// place are one point where no word parts them: "hot to the neutral of the plug"
// are two.
func Read(atoms Phrases[Atom], words []string) Said {
	r := pointReader{parted: true}
	for i := 0; i < len(words); {
		found, n := atoms.At(words[i:])
		if n == 0 {
			if !Stop(words[i]) && !Weak(words[i]) {
				r.other, r.strange = true, false
			}
			if r.last != atOf || !Stop(words[i]) { // "of the generator"
				r.last = ""
			}
			i++
			continue
		}
		for _, a := range found {
			r.read(a)
		}
		r.last = found[0]
		i += n
	}
	r.read(atStop)
	r.resolve()
	if r.ends && len(r.Points) == 1 {
		c := r.Points[0].Contact
		r.Points, r.Site = []Point{{Contact: c, Place: "plug"}, {Contact: c, Place: "cord"}}, ""
	}
	return r.Said
}

// read takes the next atom.
func (r *pointReader) read(a Atom) {
	if a == LoadsOff {
		r.LoadsOff = r.LoadsOff || r.last != atNot
		return
	}
	if c, ok := a.Condition(); ok {
		if r.last != atNot {
			r.Conditions = lists.With(r.Conditions, c)
		}
		return
	}
	switch a {
	case atSeparator, atAcross, atTo, atStop:
		r.Unknown = r.Unknown || r.open && r.other && a == atStop
		link := a == atTo || a == atSeparator && r.across
		if n := len(r.Points); link && n > 0 && strings.HasPrefix(string(r.last), "@") && !r.Points[n-1].sited {
			r.Points[n-1].from = true // "battery to converter positive": not where it was done
		}
		r.strange = link && r.last == "" && r.other
		r.open = a == atTo && (strings.HasPrefix(string(r.last), ".") || strings.HasPrefix(string(r.last), "@")) || a == atSeparator && r.across
		r.parted, r.sited, r.other = true, false, false
		r.across = r.across || a == atAcross
	case atEnds:
		r.ends = true
	case atSite:
		r.sited = true
	case atOf, atNot, atAside: // see last
	case atPlural, atBoth:
		if a == atPlural && !r.across { // which of them is not said
			r.add(a)
		} else {
			r.Points = append(r.Points, Point{Contact: L1}, Point{Contact: L2})
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
func (r *pointReader) add(a Atom) {
	cur := &Point{Contact: atStop}
	if len(r.Points) > 0 && !r.parted {
		cur = &r.Points[len(r.Points)-1]
	}
	whole := func(c Atom) bool { return c == Body || c == Soil }
	r.Unknown, r.strange = r.Unknown || r.strange, false
	place, isPlace := a.Place()
	_, afterPlace := r.last.Place()
	switch {
	case isPlace && cur.Contact != atStop && (!whole(cur.Contact) || r.last == atOf):
		r.notePlaces(cur.Place, place)
		if cur.Place == "" || cur.Place == "cord" || cur.Place == "outlet" {
			cur.Place = place
		}
	case isPlace:
		r.Points = append(r.Points, Point{Place: place, sited: r.sited, awaited: r.open})
	case cur.Contact == "" && (!whole(a) || afterPlace):
		cur.Contact, cur.sited, cur.awaited = a, false, false
	case cur.Contact == Hot && (a == L1 || a == L2), cur.Contact == GroundWord && a == G:
		cur.Contact = a
	case cur.Contact == a, (cur.Contact == L1 || cur.Contact == L2) && a == Hot, cur.Contact == G && a == GroundWord:
	default:
		r.Points = append(r.Points, Point{Contact: a, awaited: r.open})
	}
}

// resolve drops what was said twice, and takes a place by itself for the site
// where points are said beside it.
func (s *Said) resolve() {
	var points []Point
	if len(s.Points) == 2 && s.Points[0].Contact == Body && s.Points[1].Contact == Body && s.Points[1].awaited {
		s.Unknown = true // "door frame to step": neither is the soil
	}
	same := len(s.Points) > 1 && s.Points[0].Contact == s.Points[1].Contact && s.Points[0].Place == s.Points[1].Place
	for i, p := range s.Points {
		named := p.Contact != "" || !p.sited && len(s.Points) == 2 && s.Has(Body) // "plug to frame"
		s.Unknown = s.Unknown || !named && (p.awaited || p.from && i < len(s.Points)-1)
		p.awaited, p.from = false, false
		switch {
		case named:
			points = lists.With(points, p)
		case s.Site == "" || s.Site == "outlet" || s.Site == "cord":
			s.notePlaces(s.Site, p.Place)
			s.Site = p.Place
		default:
			s.notePlaces(s.Site, p.Place)
		}
	}
	if len(points) == 1 && same && points[0].Contact != Body {
		s.Unknown = true // "L1 to L1": one of the two was meant to be another
	}
	if site := OnlyPlace(points); s.Site == "" {
		s.Site = site
	}
	s.Points = points
	s.resolveWords()
	if p := s.Points; len(p) == 2 && p[0].Contact == p[1].Contact && (p[0].Place == "" || p[1].Place == "") {
		s.Unknown = true // "the L1 of the panel to L1"
	}
}

// notePlaces notes that two places were said for one, unless one is a part of the
// other: the receptacle of a pedestal, the pins of an inlet.
func (s *Said) notePlaces(a, b string) {
	if a != "" && a != b && !IsPart(a, b) && !IsPart(b, a) {
		s.SeveralPlaces = true
	}
}

// parts are the places that can be a part of another: its receptacle, its pins.
// An adapter stands in a pedestal.
var parts = map[string][]string{
	"outlet": {"pedestal", "adapter"}, "plug": {"inlet", "adapter", "cord"},
	"dc": {"panel", "converter"}, "adapter": {"pedestal"},
}

// IsPart reports whether the words for place can mean a part of whole.
func IsPart(place, whole string) bool { return slices.Contains(parts[place], whole) }

// resolveWords decides what "ground", "earth" and "legs" mean beside the other
// point.
func (s *Said) resolveWords() {
	for i := range s.Points {
		p := &s.Points[i]
		if p.Contact == atPlural && len(s.Points) > 1 {
			p.Contact = Hot // "the legs to neutral"
		}
		beside := func(contacts ...Atom) bool {
			return slices.ContainsFunc(s.Points, func(o Point) bool { return o != *p && slices.Contains(contacts, o.Contact) })
		}
		switch {
		case p.Contact == GroundWord && (p.Place != "" || !beside(Body, Cover)), p.Contact == EarthWord && (p.Place != "" || !beside(Body, Cover, G, GroundWord)):
			p.Contact = G
		case p.Contact == EarthWord:
			p.Contact = Soil
		}
	}
}

// PointOf is a test point of the handbook, taken apart.
func PointOf(id string) Point {
	if id == "body" || id == "earth" {
		return Point{Contact: Atom("." + id)}
	}
	place, contact, _ := strings.Cut(id, ".")
	contact = strings.TrimPrefix(contact, "out-")
	switch contact {
	case "h":
		return Point{Contact: Hot, Place: place}
	case "aux":
		return Point{Contact: Pos, Place: place}
	case "gnd":
		return Point{Contact: Neg, Place: place}
	case "known-source":
		return Point{Contact: "", Place: place}
	}
	return Point{Contact: Atom("." + contact), Place: place}
}
