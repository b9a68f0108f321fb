package figure

import (
	"math"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree/rig"
)

func plan(r *rig.Rig, v *rig.Variant, width float64) *Oneline {
	return NewOneline(OnelinePlan{Rig: r, Fault: v, Points: touchable, Width: width})
}

// live is a state with a different number everywhere.
func live(r *rig.Rig) OnelineState {
	s := OnelineState{Live: true, Volts: map[string]complex128{}, Amps: map[string]complex128{}, Loads: map[string]bool{"l1": true, "l2": true, "dc": true}}
	for i, p := range r.Parts {
		s.Volts[p.A], s.Volts[p.B] = complex(100+float64(i)/10, 0), complex(110+float64(i)/10, 0)
		s.Amps[p.Name] = complex(10+float64(i)/3, 0)
	}
	for _, p := range r.Params {
		s.Values = append(s.Values, p.Value)
	}
	return s
}

func words(d Drawing) string {
	var all []string
	for _, item := range d.Items {
		if t, ok := item.(Text); ok {
			all = append(all, t.Value)
		}
	}
	return strings.Join(all, "|")
}

// No words of a one-line drawing lie over others or outside, wide or narrow.
func TestOnelineIsLegible(t *testing.T) {
	for name, r := range map[string]*rig.Rig{"coach": coach(), "trailer": trailer(), "house": house()} {
		for _, width := range []float64{430, 700, 1040} {
			d := plan(r, nil, width).Draw(live(r))
			var texts []Text
			for _, item := range d.Items {
				if text, ok := item.(Text); ok {
					texts = append(texts, text)
				}
			}
			for i, a := range texts {
				box := a.Bounds()
				if box.Left < 0 || box.Top < 0 || box.Right > d.Width+4 || box.Bottom > d.Height {
					t.Errorf("%s at %v: %q runs out of the picture: %+v in %v x %v", name, width, a.Value, box, d.Width, d.Height)
				}
				for _, b := range texts[i+1:] {
					c := b.Bounds()
					if c.Left += 4; overlap(box, c) {
						t.Errorf("%s at %v: %q and %q overlap", name, width, a.Value, b.Value)
					}
				}
			}
		}
	}
}

// Every test point can be touched, where it stands and along its bar.
func TestOnelineSpots(t *testing.T) {
	for _, width := range []float64{430, 1040} {
		o := plan(coach(), nil, width)
		seen := map[string]bool{}
		for _, s := range o.Spots() {
			seen[s.Node] = true
			if got, ok := o.Nearest(s.At, 10); !ok || got != s.Node {
				t.Errorf("at %v the nearest to %s is %q", width, s.Node, got)
			}
		}
		for _, node := range []string{"pedestal.l1", "plug.g", "panel.n", "outlet.h", "body", "earth"} {
			if !seen[node] {
				t.Errorf("at %v %s has no spot", width, node)
			}
		}
		if _, ok := o.Nearest(Point{-500, -500}, 10); ok {
			t.Error("something is near to nothing")
		}
	}
	if o := plan(coach(), nil, 1040); o.width < 700 || o.width > 1400 || o.height > 520 {
		t.Errorf("the coach is drawn %v by %v", o.width, o.height)
	}
}

// Without numbers the drawing gives nothing away: no voltage, current or fault.
func TestOnelineHides(t *testing.T) {
	r := coach()
	s := live(r)
	s.Live = false
	text := words(plan(r, nil, 1040).Draw(s))
	if strings.Contains(text, " V") || strings.Contains(text, " A") || strings.Contains(text, "DANGER") {
		t.Errorf("hidden, it says %s", text)
	}
}

// What floats has a dash, never a number.
func TestOnelineDash(t *testing.T) {
	r := coach()
	s := live(r)
	delete(s.Volts, "outlet.h")
	shown := words(plan(r, nil, 1040).Draw(s))
	if strings.Count(shown, "—") != 1 {
		t.Errorf("one node floats: %s", shown)
	}
}

func TestOnelineMarks(t *testing.T) {
	r := coach()
	open := &rig.Variant{Edits: []rig.Edit{{Kind: rig.Open, Parts: []string{"cord.n"}}}}
	poor := &rig.Variant{Edits: []rig.Edit{{Kind: rig.Resist, Parts: []string{"cord.n"}, Ohms: rig.EditValue{Severity: true, Factor: 1}}}}
	join := &rig.Variant{Edits: []rig.Edit{{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Fixed: 3}}}}
	swap := &rig.Variant{Edits: []rig.Edit{{Kind: rig.Swap, Parts: []string{"cord.l1", "cord.n"}}}}
	for _, c := range []struct {
		name string
		v    *rig.Variant
		want string // words of the drawing
		ink  Role   // drawn for the fault
	}{{"open", open, "", RedLead}, {"poor", poor, "3 Ω", WarningFill}, {"join", join, "3 Ω", WarningFill}, {"swap", swap, "swapped", RedLead}} {
		s := live(r)
		s.Fault, s.Severity = c.v, 3
		d := plan(r, c.v, 1040).Draw(s)
		if !strings.Contains(words(d), c.want) {
			t.Errorf("%s: %s", c.name, words(d))
		}
		sound := plan(r, nil, 1040).Draw(live(r))
		if inked(d, c.ink) <= inked(sound, c.ink) {
			t.Errorf("%s is not marked", c.name)
		}
	}
	s := live(r)
	s.Tripped = []string{"main"}
	if text := words(plan(r, nil, 1040).Draw(s)); strings.Count(text, "tripped") != 2 {
		t.Errorf("both poles of the main have tripped: %s", text)
	}
}

func inked(d Drawing, ink Role) int {
	n := 0
	for _, item := range d.Items {
		switch it := item.(type) {
		case Polyline:
			if it.Ink == ink {
				n++
			}
		case Polygon:
			if it.Fill == ink {
				n++
			}
		case Circle:
			if it.Stroke == ink {
				n++
			}
		}
	}
	return n
}

// A body that can hurt stands on red; nothing but conductors is ever green.
func TestOnelineSignals(t *testing.T) {
	r := coach()
	s := live(r)
	s.Danger = map[string]bool{"body": true}
	d := plan(r, nil, 1040).Draw(s)
	if inked(d, DangerFill) == 0 {
		t.Error("danger is not red")
	}
	for _, item := range d.Items {
		if p, ok := item.(Polygon); ok && (p.Fill == Ground || p.Stroke == Ground) {
			t.Error("a filled shape is green")
		}
	}
}

// The arrow of a current grows with it and turns with its sign.
func TestOnelineArrows(t *testing.T) {
	r := coach()
	draw := func(amps complex128) []Polygon {
		s := OnelineState{Live: true, Amps: map[string]complex128{"cord.l1": amps}}
		var heads []Polygon
		for _, item := range plan(r, nil, 1040).Draw(s).Items {
			if p, ok := item.(Polygon); ok && p.Fill == Accent {
				heads = append(heads, p)
			}
		}
		return heads
	}
	large, small, back := draw(40), draw(0.01), draw(-40)
	if len(large) != 1 || len(small) != 1 || len(back) != 1 || len(draw(1e-6)) != 0 {
		t.Fatalf("%d, %d, %d arrows", len(large), len(small), len(back))
	}
	length := func(p Polygon) float64 { return math.Abs(p.Points[0].X - p.Points[1].X) }
	if length(large[0]) < 1.7*length(small[0]) {
		t.Error("4000 times the current makes no larger arrow")
	}
	if large[0].Points[0].X < large[0].Points[1].X || back[0].Points[0].X > back[0].Points[1].X {
		t.Error("the arrow does not turn")
	}
}

func TestGroupsOrder(t *testing.T) {
	r := testRig("generator feed panel", `
source winding.l1 winding.l1 generator.n
breaker own.l1 winding.l1 generator.l1
joint transfer.l1 generator.l1 feed.l1
joint main.l1 feed.l1 panel.l1
joint branch.h panel.l1 branch.h
`)
	got := groupsOf(r, r.Parts)
	if want := []string{"winding", "generator", "feed", "panel", "branch"}; !slices.Equal(got, want) {
		t.Errorf("groups %v, want %v", got, want)
	}
}

func BenchmarkOnelineDraw(b *testing.B) {
	r := coach()
	o, s := plan(r, nil, 1040), live(r)
	for b.Loop() {
		o.Draw(s)
	}
}
