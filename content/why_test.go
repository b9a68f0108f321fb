package content_test

import (
	"cmp"
	"math"
	"math/cmplx"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
	"faultwright/faulttree/why"
)

// Every way in which every fault of the catalogue is made, in every rig that can
// have it, has sentences for the two readings that it changes most, and for one that
// it changes little. They name a part of the fault or the device that it opens, they
// are short, they have no number that is none, and the currents of which they tell
// balance (Kirchhoff).
func TestWhyOfEveryFault(t *testing.T) {
	lib := shipped()
	for _, r := range lib.Rigs {
		v := must.Have(vehicle.New(r))(t)
		sound := read(t, v, lib.Forest.Quantities)
		for _, doc := range lib.Faults {
			for i := 0; doc.Edits != nil && i < len(doc.Edits.Variants); i++ {
				if !doc.Edits.Variants[i].FitsIn(r) {
					continue
				}
				setup := rig.Setup{Faults: []rig.Applied{doc.Edits.Ordinary(i)}}
				must.Do(t, v.Put(setup))
				faulty := read(t, v, lib.Forest.Quantities)
				ids := lib.Forest.Quantities.IDs()
				ids = slices.DeleteFunc(slices.Clone(ids), func(id string) bool { _, ok := faulty[id]; return !ok })
				slices.SortStableFunc(ids, func(a, b string) int { return cmp.Compare(apart(sound, faulty, b), apart(sound, faulty, a)) })
				for _, at := range []int{0, 1, len(ids) / 2} {
					q := lib.Forest.Quantities[ids[at]]
					a := must.Have(why.Of(r, setup, q, faulttree.DefaultMeter()))(t)
					checkWhy(t, r, setup.Faults[0], q, a)
				}
			}
		}
	}
}

// read is all that can be read of a vehicle, by id.
func read(t *testing.T, v *vehicle.Vehicle, all faulttree.Quantities) map[string]float64 {
	out := map[string]float64{}
	for id, q := range all {
		value, ok, err := v.Taken(q)
		if err != nil {
			t.Fatal(err)
		}
		if ok && !q.OfMeter() {
			out[id] = value
		}
	}
	return out
}

// apart is how far two readings of a quantity lie apart, in steps of 10 % and more.
func apart(one, other map[string]float64, id string) float64 {
	const least, most = 0.1, 1e7
	x, y := math.Abs(one[id]), math.Abs(other[id])
	return math.Abs(math.Log((min(x, most) + least) / (min(y, most) + least)))
}

// currents are those that a sentence about a balance tells.
var currents = regexp.MustCompile(`([0-9.]+) (A|mA|µA) through`)

func checkWhy(t *testing.T, r *rig.Rig, f rig.Applied, q faulttree.Quantity, a why.Answer) {
	t.Helper()
	text := strings.Join(a.Text, " ")
	where := r.ID + ", " + f.Fault.ID + ", " + f.Fault.Variants[f.Variant].Text + ", " + q.ID
	if text == "" || len(a.Text) > 2 || len(strings.Fields(text)) > 60 || strings.Contains(text, "NaN") || strings.Contains(text, "Inf") || strings.Contains(text, "%!") {
		t.Errorf("%s: %q", where, a.Text)
	}
	for _, s := range a.Text {
		if !strings.HasSuffix(s, ".") || strings.HasSuffix(s, "..") || strings.Contains(s, "  ") {
			t.Errorf("%s: %q is no sentence", where, s)
		}
	}
	names := []string{f.Fault.Title, "the supply runs at"}
	for _, e := range f.Fault.Variants[f.Variant].Edits {
		for _, name := range e.Parts {
			for _, at := range r.Named(name) {
				run, _, _ := strings.Cut(r.Parts[at].Title, ", ")
				names = append(names, run)
			}
		}
		if e.Kind == rig.Connect {
			names = append(names, "the join of ", "the path of ")
		}
	}
	if !slices.ContainsFunc(names, func(n string) bool { return strings.Contains(strings.ToLower(text), strings.ToLower(n)) }) {
		t.Errorf("%s: %q names no part of the fault", where, text)
	}
	if a.Balance == nil {
		return
	}
	for _, said := range currents.FindAllStringSubmatch(a.Text[len(a.Text)-1], -1) {
		amount := must.Have(strconv.ParseFloat(said[1], 64))(t)
		amount *= map[string]float64{"A": 1, "mA": 1e-3, "µA": 1e-6}[said[2]]
		if !slices.ContainsFunc(a.Balance.Ways, func(w why.Way) bool { return math.Abs(cmplx.Abs(w.Amps)-amount) <= 0.01*amount }) {
			t.Errorf("%s: no way has the %s of %q: %+v", where, said[0], text, a.Balance.Ways)
		}
	}
	sum, most := complex128(0), 0.0
	for _, w := range a.Balance.Ways {
		sum += w.Amps
		most = max(most, cmplx.Abs(w.Amps))
	}
	if cmplx.Abs(sum) > 1e-4*most+1e-9 { // what the solver leaves at a node of megohms
		t.Errorf("%s: at %v %v A are left over of %v A", where, a.Balance.Nodes, sum, most)
	}
}
