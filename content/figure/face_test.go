package figure

import (
	"cmp"
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// The conductors of each configuration are rows of the receptacle table
// (5-15 from memory of NEMA WD 6; TT and 14-50 quoted from NEC 551.81, 1996).
func TestFaceHasTheConductorsOfItsConfiguration(t *testing.T) {
	file := must.Have(os.Open("../../testdata/reference/05_receptacles.csv"))(t)
	defer file.Close()
	rows := must.Have(csv.NewReader(file).ReadAll())(t)
	faces := map[string]Face{"5-15": Face5_15, "TT (30 A)": FaceTT30, "14-50": Face14_50}
	seen := 0
	for _, row := range rows[1:] {
		f, ok := faces[row[0]]
		if !ok {
			continue
		}
		seen++
		want := map[string]bool{}
		for _, c := range strings.Fields(row[6]) {
			want[map[string]string{"H": "l1", "H1": "l1", "H2": "l2", "N": "n", "G": "g"}[c]] = true
		}
		for _, locking := range []bool{false, true} {
			got := map[string]bool{}
			for _, c := range contacts(f, receptacle, locking) {
				got[c.id] = true
			}
			if len(got) != len(want) {
				t.Errorf("%s has contacts %v, the table says %v", row[0], got, want)
			}
			for id := range want {
				if !got[id] {
					t.Errorf("%s lacks contact %s", row[0], id)
				}
			}
		}
	}
	if seen != len(faces) {
		t.Errorf("the table names %d of %d faces", seen, len(faces))
	}
}

// clockwise orders contact ids clockwise, beginning with the ground.
func clockwise(cs []contact) []string {
	turn := func(c contact) float64 { return math.Atan2(c.at.Y, c.at.X) }
	ground := cs[slices.IndexFunc(cs, func(c contact) bool { return c.id == "g" })]
	from := func(c contact) float64 { return math.Mod(turn(c)-turn(ground)+4*math.Pi, 2*math.Pi) }
	var ids []string
	for _, c := range slices.SortedFunc(slices.Values(cs), func(a, b contact) int { return cmp.Compare(from(a), from(b)) }) {
		ids = append(ids, c.id)
	}
	return ids
}

// The order going clockwise is from memory of NEMA WD 6: 5-15 and TT-30
// ground, neutral, hot; 14-50 ground, hot, neutral opposite it, hot.
func TestContactsClockwise(t *testing.T) {
	for _, c := range []struct {
		face Face
		want []string
	}{
		{Face5_15, []string{"g", "n", "l1"}},
		{FaceTT30, []string{"g", "n", "l1"}},
		{Face14_50, []string{"g", "l2", "n", "l1"}},
	} {
		for _, locking := range []bool{false, true} {
			if got := clockwise(contacts(c.face, receptacle, locking)); !slices.Equal(got, c.want) {
				t.Errorf("%v from the front, clockwise: %v, want %v", c.face, got, c.want)
			}
			mirrored := append([]string{"g"}, c.want[1:]...)
			slices.Reverse(mirrored[1:])
			if got := clockwise(contacts(c.face, pins, locking)); !slices.Equal(got, mirrored) {
				t.Errorf("%v pins, clockwise: %v, want %v", c.face, got, mirrored)
			}
		}
	}
}

func TestGroundIsTheOnlyU(t *testing.T) {
	for _, f := range []Face{Face5_15, FaceTT30, Face14_50} {
		for _, c := range contacts(f, receptacle, false) {
			if (c.shape == slotU) != (c.id == "g") {
				t.Errorf("%v: contact %s has the wrong shape", f, c.id)
			}
			slanted := c.angle != 0
			if want := f == FaceTT30 && c.id != "g"; slanted != want {
				t.Errorf("%v: contact %s slanted %v, want %v", f, c.id, slanted, want)
			}
		}
	}
}

func TestNeutralOfA14_50IsOppositeItsGround(t *testing.T) {
	var g, n Point
	for _, c := range contacts(Face14_50, receptacle, false) {
		switch c.id {
		case "g":
			g = c.at
		case "n":
			n = c.at
		}
	}
	if math.Abs(g.X+n.X) > 1e-9 || math.Abs(g.Y+n.Y) > 1e-9 {
		t.Errorf("ground at %v, neutral at %v", g, n)
	}
}
