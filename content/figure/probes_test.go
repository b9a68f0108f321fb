package figure

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

var (
	pointLine    = regexp.MustCompile(`\{id: ([a-z0-9.-]+), title:`)
	quantityLine = regexp.MustCompile(`\{id: "([^"]+)", title: "([^"]+)", unit: ([^,]+), range: ([0-9]+)(?:.*proves: ([a-z-]+))?`)
)

// shipped reads the quantity list of the handbook, one flow mapping a line;
// content reads it properly, but content stands above this package.
func shipped(t *testing.T) []faulttree.Quantity {
	t.Helper()
	text := must.Have(os.ReadFile("../handbook/quantities.yaml"))(t)
	known := map[string]bool{}
	for _, m := range pointLine.FindAllStringSubmatch(string(text), -1) {
		known[m[1]] = true
	}
	var out []faulttree.Quantity
	for _, m := range quantityLine.FindAllStringSubmatch(string(text), -1) {
		name := must.Have(faulttree.ParseQuantityName(m[1], func(p string) bool { return known[p] }))(t)
		unit, ok := faulttree.ParseUnit(strings.Trim(m[3], `"`))
		if !ok {
			t.Fatalf("unit %q of %s", m[3], m[1])
		}
		size := must.Have(faulttree.ParseAmount(m[4]))(t)
		out = append(out, faulttree.Quantity{ID: m[1], Title: m[2], Unit: unit, Red: name.Red, Black: name.Black, Conditions: name.Conditions, Proves: faulttree.ParseProof(m[5]), Range: size})
	}
	if want := strings.Count(string(text), "unit:") - 1; len(out) < want {
		t.Fatalf("read %d quantities of %d", len(out), want)
	}
	return out
}

// every calls check for each shipped quantity on both faces.
func every(t *testing.T, check func(name string, q faulttree.Quantity, d Drawing)) {
	for _, q := range shipped(t) {
		for _, f := range []Face{Face14_50, FaceTT30} {
			check(fmt.Sprintf("%s on %v", q.ID, f), q, Probes(q, f))
		}
	}
}

func TestEveryQuantityMarksItsContacts(t *testing.T) {
	every(t, func(name string, q faulttree.Quantity, d Drawing) {
		letters := ""
		for _, m := range d.Marks {
			letters += m.Letter
			for _, at := range []Point{m.Tip, m.Badge} {
				if at.X < 10 || at.Y < 10 || at.X > d.Width-10 || at.Y > d.Height-10 {
					t.Errorf("%s: %s stands outside at %v", name, m.Letter, at)
				}
			}
			if !badgeDrawn(d, m) {
				t.Errorf("%s: the badge %s is not drawn", name, m.Letter)
			}
		}
		if clamped(q) {
			if letters != "C" {
				t.Errorf("%s: marks %q, want C", name, letters)
			}
			return
		}
		if letters != "RB" && letters != "BR" {
			t.Fatalf("%s: marks %q, want a red and a black one", name, letters)
		}
		a, b := d.Marks[0], d.Marks[1]
		held := q.Red == "meter.leads" // tip on tip, which is what is shown
		if apart(a.Tip, b.Tip) < 8 && !held || apart(a.Badge, b.Badge) < 20 {
			t.Errorf("%s: the two marks run into each other: %v %v", name, a, b)
		}
	})
}

// badgeDrawn reports whether a circle and the letter stand at the badge.
func badgeDrawn(d Drawing, m Mark) bool {
	circle, letter := false, false
	for _, item := range d.Items {
		switch it := item.(type) {
		case Circle:
			circle = circle || it.Center == m.Badge
		case Text:
			letter = letter || it.Value == m.Letter && apart(it.At, m.Badge) < 8
		}
	}
	return circle && letter
}

func apart(a, b Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// The tip of each lead lies on the contact that the quantity names.
func TestTipsLieOnTheNamedContacts(t *testing.T) {
	center := Point{probesWidth / 2, objectMiddle}
	for _, f := range []Face{Face14_50, FaceTT30} {
		spots := map[string]Point{}
		for _, c := range contacts(f, receptacle, false) {
			spots[c.id] = center.Add(c.at.X*56, c.at.Y*56)
		}
		for _, q := range shipped(t) {
			if !strings.HasPrefix(q.Red, "pedestal.") || !strings.HasPrefix(q.Black, "pedestal.") || second(q) && f != Face14_50 {
				continue
			}
			for _, m := range Probes(q, f).Marks {
				point := q.Red
				if m.Letter == "B" {
					point = q.Black
				}
				_, local := split(point)
				if apart(m.Tip, spots[local]) > 1e-9 {
					t.Errorf("%s on %v: lead %s ends at %v, contact %s is at %v", q.ID, f, m.Letter, m.Tip, local, spots[local])
				}
			}
		}
	}
}

// What a picture shows is also said in words: both leads, the function, the
// range and every condition.
func TestDescriptionSaysWhatIsShown(t *testing.T) {
	every(t, func(name string, q faulttree.Quantity, d Drawing) {
		_, function := dial(q.Unit)
		wants := []string{function, q.Range.With(q.Unit)}
		if !clamped(q) {
			wants = append(wants, "Red lead on ", "black lead on ")
		}
		for _, p := range q.Prepare() {
			wants = append(wants, p.String())
		}
		for _, want := range wants {
			if !strings.Contains(strings.ToLower(d.Description), strings.ToLower(want)) {
				t.Errorf("%s: the description lacks %q: %s", name, want, d.Description)
			}
		}
		if strings.Contains(d.Description, "on  (") || strings.Contains(d.Description, "on ,") {
			t.Errorf("%s: a point has no words: %s", name, d.Description)
		}
	})
}

// A lead is sent to a hot contact only where the point is one: a point without
// words of its own, such as the metal of a pedestal, is none.
func TestOnlyAHotContactIsCalledHot(t *testing.T) {
	hot := regexp.MustCompile(`^(hot|L[12]) `)
	hots := regexp.MustCompile(`[.-](l1|l2|h)$|^meter\.known-source$`)
	for _, q := range shipped(t) {
		for _, f := range []Face{Face14_50, FaceTT30} {
			for _, point := range []string{q.Red, q.Black} {
				if words := pointWords(point, f); hot.MatchString(words) != hots.MatchString(point) {
					t.Errorf("%s of %s is called %q on %v", point, q.ID, words, f)
				}
			}
		}
	}
}

// Ohms are never shown at a source that is live.
func TestOhmsAreNotShownAtALiveSource(t *testing.T) {
	every(t, func(name string, q faulttree.Quantity, d Drawing) {
		if strings.Contains(d.Description, "known to be live") != (q.Proves == faulttree.ProvesVoltsAC) {
			t.Errorf("%s: %s", name, d.Description)
		}
	})
}

func TestUnknownPointsStillGetAPicture(t *testing.T) {
	d := Probes(faulttree.Quantity{ID: "pump.in-out", Title: "Pump", Unit: faulttree.VoltsDC, Red: "pump.in", Black: "pump.out"}, FaceTT30)
	if len(d.Marks) != 2 {
		t.Errorf("marks %v", d.Marks)
	}
}

func TestFacesOfAPlug(t *testing.T) {
	for plug, want := range map[string]string{"": "[TT-30 14-50]", "14-50": "[14-50]", "TT-30": "[TT-30]", "5-15": "[5-15]", "100": "[TT-30 14-50]"} {
		if got := fmt.Sprint(Faces(plug)); got != want {
			t.Errorf("faces of a plug known to be %q: %s, want %s", plug, got, want)
		}
	}
}

// ShowsFace says true exactly where the two faces give different pictures.
func TestShowsFace(t *testing.T) {
	for _, q := range shipped(t) {
		differ := SVG(Probes(q, FaceTT30), Light()) != SVG(Probes(q, Face14_50), Light())
		if got := ShowsFace(q); got != differ {
			t.Errorf("%s: ShowsFace is %v, the pictures differ: %v", q.ID, got, differ)
		}
	}
}

func TestLeadsDoNotCross(t *testing.T) {
	every(t, func(name string, q faulttree.Quantity, d Drawing) {
		var red, black [][]Point
		for _, item := range d.Items {
			if line, ok := item.(Polyline); ok && line.Ink == RedLead {
				red = append(red, line.Points)
			} else if ok && line.Ink == BlackLead {
				black = append(black, line.Points)
			}
		}
		for _, a := range red {
			for _, b := range black {
				if linesCross(a, b) {
					t.Errorf("%s: the leads cross", name)
				}
			}
		}
	})
}

func linesCross(a, b []Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	for i := 0; i+1 < len(a); i++ {
		for j := 0; j+1 < len(b); j++ {
			if side(a[i], a[i+1], b[j])*side(a[i], a[i+1], b[j+1]) < 0 && side(b[j], b[j+1], a[i])*side(b[j], b[j+1], a[i+1]) < 0 {
				return true
			}
		}
	}
	return false
}

// No lead runs over a contact that it is not held on.
func TestLeadsKeepOffOtherContacts(t *testing.T) {
	every(t, func(name string, q faulttree.Quantity, d Drawing) {
		group, _ := split(q.Red)
		black, _ := split(q.Black)
		if group != "pedestal" && group != "plug" || black != group {
			return
		}
		face := FaceTT30
		if strings.HasSuffix(name, Face14_50.String()) || second(q) {
			face = Face14_50
		}
		s := receptacle
		if group == "plug" {
			s = pins
		}
		for _, c := range contacts(face, s, false) {
			at := Point{probesWidth/2 + c.at.X*56, objectMiddle + c.at.Y*56}
			touched := false
			for _, m := range d.Marks {
				touched = touched || apart(m.Tip, at) < 1
			}
			if touched {
				continue
			}
			for _, item := range d.Items {
				line, ok := item.(Polyline)
				if ok && (line.Ink == RedLead || line.Ink == BlackLead) && crosses(line, Box{at.X - 7, at.Y - 7, at.X + 7, at.Y + 7}) {
					t.Errorf("%s: a lead runs over contact %s", name, c.id)
				}
			}
		}
	})
}
