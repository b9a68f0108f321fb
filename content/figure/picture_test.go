package figure

import (
	"slices"
	"testing"

	"faultwright/faulttree/rig"
)

// The picture has the same test points as the diagram, each where it can be
// touched, wide and narrow; and no words of it lie over others or outside.
func TestPictureHasTheSamePoints(t *testing.T) {
	for name, r := range map[string]*rig.Rig{"coach": coach(), "trailer": trailer(), "house": house()} {
		for _, width := range []float64{424, 700, 1015} {
			o := OnelinePlan{Rig: r, Points: touchable, Width: width, Near: true}
			diagram, picture := NewOneline(o), NewPicture(o)
			in := func(spots []Spot) (out []string) {
				for _, spot := range spots {
					if touchable(spot.Node) && !slices.Contains(out, spot.Node) {
						out = append(out, spot.Node)
					}
				}
				slices.Sort(out)
				return out
			}
			if d, p := in(diagram.Spots()), in(picture.Spots()); !slices.Equal(d, p) || len(d) < 4 {
				t.Errorf("%s at %v: the diagram has %v, the picture %v", name, width, d, p)
			}
			for _, spot := range picture.Spots() {
				if got, ok := picture.Nearest(spot.At, 10); !ok || got != spot.Node {
					t.Errorf("%s at %v: nearest to %s is %q", name, width, spot.Node, got)
				}
			}
			legible(t, name, picture.Draw(OnelineState{Loose: true}))
		}
	}
}

// A plug that is out joins nothing, and what is drawn says so to who cannot see
// it.
func TestPictureShowsPlugs(t *testing.T) {
	r := coach()
	r.Switches = []rig.Switch{{Name: "plug", Title: "the plug in the pedestal", Covers: []string{"pedestal", "plug"}}}
	p := NewPicture(OnelinePlan{Rig: r, Points: touchable, Width: 1015})
	in := p.Draw(OnelineState{})
	out := p.Draw(OnelineState{Off: map[string]bool{"plug": true}})
	if inked(in, Soft) <= inked(out, Soft)-2 || in.Description == out.Description {
		t.Errorf("plugged in: %s\nout: %s", in.Description, out.Description)
	}
}

// The arrow keys reach every test point of a drawing from any other.
func TestTowardReachesEveryPoint(t *testing.T) {
	o := OnelinePlan{Rig: coach(), Points: touchable, Width: 1015, Near: true}
	for name, s := range map[string][]Spot{"diagram": NewOneline(o).Spots(), "picture": NewPicture(o).Spots()} {
		all := map[string]bool{}
		for _, spot := range s {
			all[spot.Node] = true
		}
		seen, open := map[string]bool{}, []string{s[0].Node}
		for len(open) > 0 {
			node := open[0]
			open = open[1:]
			if seen[node] {
				continue
			}
			seen[node] = true
			for _, way := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				if next, ok := Toward(s, node, way[0], way[1]); ok {
					open = append(open, next)
				}
			}
		}
		for node := range all {
			if touchable(node) && !seen[node] {
				t.Errorf("%s: the arrows never reach %s", name, node)
			}
		}
	}
}
