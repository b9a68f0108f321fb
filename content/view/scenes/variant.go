package scenes

import (
	"context"
	"fmt"
	"hash/fnv"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// Variant is a scenario with numbers of its own, which can be solved.
type Variant struct {
	Scenario *content.Scenario
	Seed     uint64 // by which [VariantOf] makes it again, without looking whether it can be solved
	Draws    int    // how many seeds were tried, that one included
	Solved   Solved
}

// likelier is the share from which a vehicle in order is the likeliest of all: no
// reading gives it more with certainty.
const likelier = 0.5

// mostDraws is how many seeds are tried until a variant can be solved.
const mostDraws = 20

// Variant is the variant of a scenario for a seed: where it cannot be solved, that
// of the next seed by a fixed rule. The same seed gives the same variant on every
// machine. It returns an error where none of some twenty can be solved.
func (r *Reasoning) Variant(ctx context.Context, s *content.Scenario, seed uint64) (Variant, error) {
	had, err := r.concerned(s)
	if err != nil {
		return Variant{}, err
	}
	for n := 1; n <= mostDraws; n++ {
		one := VariantOf(s, seed)
		now, err := r.concerned(one)
		if err != nil {
			return Variant{}, err
		}
		if now || !had { // what brought the customer is still there
			solved, err := r.solveSoon(ctx, one)
			if err != nil {
				return Variant{}, err
			}
			if sound := len(Hidden(r.lib, s)) == 0; !sound && unsolved(r.lib, one, solved) == "" || sound && solved.Share > likelier {
				return Variant{one, seed, n, solved}, nil
			}
		}
		seed = nextSeed(seed)
	}
	return Variant{}, fmt.Errorf("of %d variants of the scenario %s none can be solved by what it permits; let less of it vary", mostDraws, s.ID)
}

// concerned reports whether the vehicle has what brings a reader to its tree.
func (r *Reasoning) concerned(s *content.Scenario) (bool, error) {
	tree := r.lib.Forest.Tree(s.Tree)
	if tree == nil || len(tree.Complaint) == 0 {
		return false, nil
	}
	v, err := standing(s)
	if err != nil {
		return false, err
	}
	return vehicle.Walker{Vehicle: v, Value: v.Taken}.Concerns(tree)
}

// nextSeed is the seed that is tried after one (the finaliser of SplitMix64); never
// 0, which is the scenario as it is written.
func nextSeed(seed uint64) uint64 {
	z := seed + 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return max(1, z^z>>31)
}

// SeedsFrom lists the seeds that [Reasoning.Variant] tries for one, in order.
func SeedsFrom(seed uint64) []uint64 {
	out := []uint64{seed}
	for len(out) < mostDraws {
		seed = nextSeed(seed)
		out = append(out, seed)
	}
	return out
}

// VariantOf is a scenario with the numbers of a seed; seed 0 is the scenario as it is
// written. Its faults stay. Numbers have four digits, so that a file holds them
// exactly and no machine rounds them otherwise.
func VariantOf(s *content.Scenario, seed uint64) *content.Scenario {
	if seed == 0 {
		return s
	}
	name := fnv.New64a()
	name.Write([]byte(s.ID))
	d := &drawing{rng: rand.New(rand.NewPCG(seed, name.Sum64())), from: s, to: *s, vary: s.Vary}
	d.to.Faults, d.to.Values = slices.Clone(s.Faults), maps.Clone(s.Values)
	if d.to.Values == nil {
		d.to.Values = map[int]float64{}
	}
	if !d.vary.Stated {
		d.vary = usualVary(s)
	}
	d.legs()
	d.places()
	d.severities()
	d.loads()
	d.numbers()
	d.to.Vary = content.Vary{Stated: true}
	d.to.Answer = d.answer()
	return &d.to
}

// usualVary is what varies where a scenario says nothing of it.
func usualVary(s *content.Scenario) content.Vary {
	v := content.Vary{Stated: true, Numbers: true, Loads: map[string]content.Range{}}
	for _, leg := range s.Rig.Legs() {
		if watts := s.Rig.Watts(s.Setup().Values, leg); watts > 0 {
			v.Loads[leg] = content.Range{From: 0.8 * watts, To: 1.2 * watts}
		}
	}
	return v
}

// drawing is a variant in the making.
type drawing struct {
	rng  *rand.Rand
	from *content.Scenario
	to   content.Scenario
	vary content.Vary
}

// in draws a number of a range to four digits.
func (d *drawing) in(x content.Range, log bool) float64 {
	p := rig.Param{Value: x.From, From: x.From, To: x.To, Log: log}
	return min(max(rounded(p.At(d.rng.Float64()), 4), x.From), x.To)
}

// rounded is a number to so many digits.
func rounded(x float64, digits int) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	return y
}

// legs lets L1 and L2 change places, for half of the seeds.
func (d *drawing) legs() {
	if !d.vary.Legs || d.rng.IntN(2) == 0 {
		return
	}
	r := d.to.Rig
	for i, a := range d.to.Faults {
		at, ok := mirrored(a.Fault, a.Variant, r)
		if !ok {
			copy(d.to.Faults, d.from.Faults)
			return
		}
		d.to.Faults[i].Variant = at
	}
	values, ofLoads := map[int]float64{}, d.ofLoads()
	for i, x := range d.to.Values {
		if at := r.Param(otherLeg(r.Params[i].Name)); at != rig.None && !ofLoads[i] {
			i = at
		}
		if !ofLoads[i] {
			values[i] = x
		}
	}
	for _, leg := range r.Legs() {
		now := r.Watts(d.from.Setup().Values, otherLeg(leg))
		if slices.Contains(r.Legs(), otherLeg(leg)) && now != r.Watts(r.Values(), leg) {
			maps.Copy(values, r.Shared(leg, now))
		}
	}
	d.to.Values = values
	ranges := map[string]content.Range{}
	for leg, x := range d.vary.Loads {
		ranges[otherLeg(leg)] = x
	}
	d.vary.Loads = ranges
	of := map[int]content.Range{}
	for i, x := range d.vary.Values {
		if at := r.Param(otherLeg(r.Params[i].Name)); at != rig.None {
			i = at
		}
		of[i] = x
	}
	d.vary.Values = of
}

// ofLoads is the parameters that hold the watts of loads.
func (d *drawing) ofLoads() map[int]bool {
	out := map[int]bool{}
	for _, leg := range d.to.Rig.Legs() {
		for _, i := range d.to.Rig.LegWatts(leg) {
			out[i] = true
		}
	}
	return out
}

// otherLeg is a name with L1 and L2 exchanged. What speaks of both stays.
func otherLeg(name string) string {
	has1, has2 := strings.Contains(name, "l1"), strings.Contains(name, "l2")
	switch {
	case has1 && !has2:
		return strings.Replace(name, "l1", "l2", 1)
	case has2 && !has1:
		return strings.Replace(name, "l2", "l1", 1)
	}
	return name
}

// mirrored is the variant of a fault that does on the other leg what one does; ok is
// false where there is none in a rig.
func mirrored(f *rig.Fault, variant int, r *rig.Rig) (at int, ok bool) {
	want := f.Variants[variant]
	at = slices.IndexFunc(f.Variants, func(v rig.Variant) bool {
		return v.Place == want.Place && v.FitsIn(r) && slices.Equal(v.With, want.With) && slices.EqualFunc(v.Edits, want.Edits, func(a, b rig.Edit) bool {
			other := slices.Clone(b.Parts)
			for i := range other {
				other[i] = otherLeg(other[i])
			}
			return a.Kind == b.Kind && sameNames(a.Parts, other) && a.Nodes == [2]string{otherLeg(b.Nodes[0]), otherLeg(b.Nodes[1])} &&
				a.Attr == b.Attr && a.Switch == b.Switch && a.Leg == otherLeg(b.Leg) && a.Ohms == b.Ohms && a.Volts == b.Volts && a.Value == b.Value
		})
	})
	return at, at >= 0
}

// sameNames reports whether two lists hold the same names, in any order.
func sameNames(a, b []string) bool {
	return slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// places puts faults where they may sit: into the first variant there that brings
// along what theirs does.
func (d *drawing) places() {
	for _, of := range d.vary.Places {
		if len(of.Places) == 0 {
			continue
		}
		place := of.Places[d.rng.IntN(len(of.Places))]
		for i, a := range d.to.Faults {
			now := a.Fault.Variants[a.Variant]
			if a.Fault.ID != of.Fault || now.Place == place {
				continue
			}
			at := slices.IndexFunc(a.Fault.Variants, func(v rig.Variant) bool {
				return v.Place == place && v.FitsIn(d.to.Rig) && slices.Equal(v.With, now.With)
			})
			if at >= 0 {
				d.to.Faults[i].Variant = at
			}
		}
	}
}

// severities makes faults worse or milder.
func (d *drawing) severities() {
	for i, a := range d.to.Faults {
		if x, is := d.vary.Severity[a.Fault.ID]; is && a.Fault.Severity != nil {
			d.to.Faults[i].Severity = d.in(x, a.Fault.Severity.Log)
		}
	}
}

// loads draws what the loads of a leg take together.
func (d *drawing) loads() {
	for _, leg := range d.to.Rig.Legs() {
		if x, is := d.vary.Loads[leg]; is {
			maps.Copy(d.to.Values, d.to.Rig.Shared(leg, d.in(x, false)))
		}
	}
}

// numbers draws the numbers of the rig that vary.
func (d *drawing) numbers() {
	ofLoads := d.ofLoads()
	for i, p := range d.to.Rig.Params {
		x, stated := d.vary.Values[i]
		_, fixed := d.to.Values[i]
		switch {
		case stated:
		case !d.vary.Numbers, fixed, ofLoads[i], p.From == p.To, p.Unit == rig.Gauge:
			continue
		default:
			x = content.Range{From: p.From, To: p.To}
		}
		drawn := d.in(x, p.Log)
		if p.Unit == rig.Gauge { // wire is made in whole sizes
			drawn = math.Round(drawn)
		}
		d.to.Values[i] = drawn
	}
}

// answer says first what is so in this variant.
func (d *drawing) answer() string {
	var parts []string
	for _, a := range d.to.Faults {
		v := a.Fault.Variants[a.Variant]
		text := strings.TrimSuffix(a.Fault.Title, ".")
		if v.Text != "" {
			text += ", " + v.Text
		}
		if a.Fault.Severity != nil {
			text += fmt.Sprintf(" (%s)", a.Fault.Severity.Unit.Format(a.Severity))
		}
		parts = append(parts, text)
	}
	var loads []string
	values := d.to.Setup().Values
	for _, leg := range d.to.Rig.Legs() {
		if watts := d.to.Rig.Watts(values, leg); watts > 0 {
			loads = append(loads, fmt.Sprintf("%s %s", strings.ToLower(LegTitle(leg)[:1])+LegTitle(leg)[1:], rig.Watts.Format(watts)))
		}
	}
	if len(loads) > 0 {
		parts = append(parts, strings.Join(loads, ", "))
	}
	return "In this variant: " + strings.Join(parts, "; ") + ". Of the case as it was written: " + d.from.Answer
}
