package shorthand

import (
	"cmp"

	"faultwright/content/contact"
)

// directPlace holds where a voltage is between two posts unless something else
// is said; receptacles what has some of its own, beside the outlets inside.
var (
	directPlace = contact.Set("battery dc converter tow")
	receptacles = contact.Set("pedestal adapter generator inverter")
)

// points gives k the points of a row; false where they are none that a meter
// can stand between, which the row then says.
func (r *Reader) points(row *Row, k *known) bool {
	var points []contact.Point
	for _, p := range k.points {
		if p.Contact == contact.GroundWord {
			if k.unit != "Ω" && (k.site == "" || k.site == "pedestal") {
				row.Why = "The ground beside the body may be the spike in the soil or a grounding contact. Say which."
				row.Nearest = []string{"body-earth"}
				return false
			}
			p.Contact = contact.G
		}
		points = append(points, p)
	}
	switch {
	case k.words.elsewhere:
		row.Why = "This was read at another supply than the one in question."
		return false
	case row.said.Unknown || len(points) > 2:
		row.Why = "One of the points is none that the handbook has, or there are more than two."
		return false
	case len(points) == 2:
		k.a, k.b = points[0], points[1]
		return true
	case len(points) == 0 && k.site == "meter":
		k.a = contact.Point{Place: "meter"}
		return true
	case len(points) == 0:
		points = []contact.Point{{Place: k.site}}
	}
	p := points[0]
	place := cmp.Or(p.Place, k.site)
	switch {
	case k.unit == "A" && p.Contact != "", p.Contact == contact.Leads, p.Contact == contact.Tips:
		k.a = p
		return true
	case directPlace[place] && (p.Contact == "" || p.Contact == contact.Pos):
		k.a, k.b = contact.Point{Contact: contact.Pos, Place: place}, contact.Point{Contact: contact.Neg, Place: place}
		return true
	}
	row.Why = "Only one point is said. Where was the other probe?"
	other := contact.Point{Contact: contact.N}
	switch p.Contact {
	case "":
		p.Contact = contact.Hot
	case contact.Body:
		other.Contact = contact.Soil
	case contact.N:
		other.Contact = contact.G
	}
	near := *k
	near.a, near.b = p, other
	row.Nearest = ids(r.fitting(near.between, near.stands, near.measured))
	return false
}

var shortNames = map[contact.Atom]string{
	contact.Hot: "hot", contact.L1: "L1", contact.L2: "L2", contact.N: "neutral", contact.G: "ground", contact.GroundWord: "ground",
	contact.Pos: "positive", contact.Neg: "negative", contact.Body: "body", contact.Soil: "earth spike",
	contact.Cover: "cover", contact.Leads: "the tips together", contact.Tips: "the tips apart",
}

// named are two points in words; places are told where they are two.
func named(a, b contact.Point) string {
	of := func(p contact.Point) string {
		name := cmp.Or(shortNames[p.Contact], p.Place)
		if a.Place != b.Place && a.Place != "" && b.Place != "" && p.Contact != "" {
			name += " of the " + p.Place
		}
		return name
	}
	if b == (contact.Point{}) {
		return of(a)
	}
	return of(a) + " to " + of(b)
}

// pairOf are the points of a label in words.
func pairOf(w words) string {
	switch len(w.Points) {
	case 0:
		return w.Site
	case 1:
		return named(w.Points[0], contact.Point{})
	}
	return named(w.Points[0], w.Points[1])
}
