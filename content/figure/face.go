package figure

import (
	"math"

	"faultwright/faulttree/lists"
)

// Face is the configuration of a receptacle, by its NEMA WD 6 name.
type Face uint8

const (
	Face14_50 Face = iota // 50 A 125/250 V: ground, two hots, neutral
	FaceTT30              // 30 A 125 V: ground, neutral, hot
	Face5_15              // 15 A 125 V, the household outlet
)

// String is the configuration name.
func (f Face) String() string {
	switch f {
	case FaceTT30:
		return "TT-30"
	case Face5_15:
		return "5-15"
	}
	return "14-50"
}

// Rating is the current of the supply with this face, in words: "30 A".
func (f Face) Rating() string {
	switch f {
	case FaceTT30:
		return "30 A"
	case Face5_15:
		return "15 A"
	}
	return "50 A"
}

// faces are those that can be drawn.
var faces = []Face{Face5_15, FaceTT30, Face14_50}

// FaceNames lists what [ParseFace] reads.
func FaceNames() []string {
	return lists.Each(faces, Face.String)
}

// ParseFace reads a name as written by [Face.String].
func ParseFace(name string) (Face, bool) {
	return lists.Find(faces, func(f Face) bool { return f.String() == name })
}

// slot is the shape of a contact.
type slot uint8

const (
	slotU     slot = iota // ground: a U, flat on one side
	slotBlade             // a straight blade
	slotArc               // the curved blade of a locking connector
)

// contact is one contact of a face of radius 1, seen from the front.
type contact struct {
	id     string // l1, l2, n or g
	letter string // what the drawing writes beside it
	at     Point
	shape  slot
	angle  float64 // of a blade: degrees from upright, clockwise; of an arc: the middle of it
	length float64
}

// side says what the contacts of a connector look like.
type side uint8

const (
	receptacle side = iota // slots, seen from the front
	pins                   // a plug or an inlet: mirrored, pins towards the reader
)

// contacts lists a face's contacts. Going clockwise from the ground they
// stand ground, neutral, hot (5-15, TT-30) or ground, hot, neutral, hot
// (14-50); pins towards the reader are mirrored. From memory.
func contacts(f Face, s side, locking bool) []contact {
	var out []contact
	switch {
	case f == Face14_50 && locking:
		out = []contact{
			{"g", "G", Point{0, -0.62}, slotArc, -90, 0.62},
			{"l1", "L1", Point{-0.62, 0}, slotArc, 180, 0.42},
			{"n", "N", Point{0, 0.62}, slotArc, 90, 0.42},
			{"l2", "L2", Point{0.62, 0}, slotArc, 0, 0.42},
		}
	case f == Face14_50:
		out = []contact{
			{"g", "G", Point{0, -0.56}, slotU, 0, 0.34},
			{"l1", "L1", Point{-0.58, 0}, slotBlade, 0, 0.46},
			{"n", "N", Point{0, 0.56}, slotBlade, 0, 0.40},
			{"l2", "L2", Point{0.58, 0}, slotBlade, 0, 0.46},
		}
	case locking:
		out = []contact{
			{"g", "G", Point{0, 0.62}, slotArc, 90, 0.62},
			{"n", "N", polar(Point{}, 0.62, 210), slotArc, 210, 0.46},
			{"l1", hotWord("l1", f), polar(Point{}, 0.62, 330), slotArc, 330, 0.46},
		}
	case f == FaceTT30:
		out = []contact{
			{"g", "G", Point{0, 0.56}, slotU, 0, 0.34},
			{"n", "N", Point{-0.48, -0.20}, slotBlade, 45, 0.56},
			{"l1", hotWord("l1", f), Point{0.48, -0.20}, slotBlade, -45, 0.56},
		}
	default:
		out = []contact{
			{"g", "G", Point{0, 0.54}, slotU, 0, 0.34},
			{"n", "N", Point{-0.40, -0.18}, slotBlade, 0, 0.56},
			{"l1", hotWord("l1", f), Point{0.40, -0.18}, slotBlade, 0, 0.42},
		}
	}
	if s == pins {
		for i := range out {
			out[i].at.X = -out[i].at.X
			if out[i].shape == slotArc {
				out[i].angle = 180 - out[i].angle
			} else {
				out[i].angle = -out[i].angle
			}
		}
	}
	return out
}

// face draws a connector and returns where each contact is.
func (p pen) face(center Point, radius float64, f Face, s side, locking bool) map[string]Point {
	p.disc(center, radius, Panel, Ink, 2)
	if s == pins || locking {
		p.disc(center, radius*0.9, None, Line, 1.5)
	}
	spots := map[string]Point{}
	for _, c := range contacts(f, s, locking) {
		at := center.Add(c.at.X*radius, c.at.Y*radius)
		spots[c.id] = at
		p.contact(center, at, radius, c, s)
		p.letter(center, at, radius, c)
	}
	if at, ok := spots["l1"]; ok {
		spots["h"] = at
	}
	return spots
}

func (p pen) contact(center, at Point, radius float64, c contact, s side) {
	fill, stroke := Hole, None
	if s == pins {
		fill, stroke = Line, Ink
	}
	switch c.shape {
	case slotU:
		w, h := 0.12*radius, c.length*radius/2
		shape := append([]Point{{at.X + w, at.Y + h}, {at.X - w, at.Y + h}}, arc(Point{at.X, at.Y - h + w}, w, 180, 360)...)
		p.shape(fill, stroke, 1.5, shape...)
	case slotBlade:
		w, h := 0.06*radius, c.length*radius/2
		sin, cos := math.Sincos(c.angle * math.Pi / 180)
		corner := func(x, y float64) Point { return at.Add(x*cos-y*sin, x*sin+y*cos) }
		p.shape(fill, stroke, 1.5, corner(-w, -h), corner(w, -h), corner(w, h), corner(-w, h))
	case slotArc:
		r := math.Hypot(at.X-center.X, at.Y-center.Y)
		half := c.length / 0.62 / 2 * 180 / math.Pi
		w := 0.06 * radius
		shape := arc(center, r+w, c.angle-half, c.angle+half)
		shape = append(shape, arc(center, r-w, c.angle+half, c.angle-half)...)
		p.shape(fill, stroke, 1.5, shape...)
	}
}

// letter writes a contact's letter or word between it and the middle of the
// face.
func (p pen) letter(center, at Point, radius float64, c contact) {
	const size = 13
	gap := 9.0
	if c.shape != slotU || math.Abs(c.at.X) > 0.1 {
		gap = 0.06*radius + 8
	} else {
		gap = c.length*radius/2 + 8
	}
	if math.Abs(c.at.X) > 0.1 {
		gap += 2*float64(len(c.letter)) + math.Abs(c.angle)/15*step(c)
	} else if c.shape == slotBlade {
		gap = c.length*radius/2 + 7
	}
	to := at.toward(center, gap)
	if len(c.letter) > 2 && c.shape == slotBlade { // no room beside its blade: under it
		sin, cos := math.Sincos(c.angle * math.Pi / 180)
		to = at.Add(math.Copysign(0.16*radius*math.Abs(sin), c.at.X), c.length*radius/2*cos+8)
	}
	p.bold(to.Add(0, 0.36*size), Middle, size, Ink, c.letter)
}

// step is 1 for slanted blades, whose letters need more room.
func step(c contact) float64 {
	if c.shape == slotBlade && c.angle != 0 {
		return 1
	}
	return 0
}
