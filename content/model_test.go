package content_test

import (
	"maps"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// stand is a bench with what is put on it, for reading by names.
type stand struct {
	*testing.T
	*bench.Bench
	lib *content.Library
	rig *rig.Rig
}

func standOf(t *testing.T, lib *content.Library, id string) stand {
	t.Helper()
	r := lib.Rigs[id]
	if r == nil {
		t.Fatalf("no rig %s", id)
	}
	b := must.Have(bench.New(r))(t)
	return stand{t, b, lib, r}
}

// values are the ordinary ones with some set by name.
func (s stand) values(set map[string]float64) []float64 {
	s.Helper()
	values := s.rig.Values()
	for name, v := range set {
		at := s.rig.Param(name)
		if at == rig.None {
			s.Fatalf("rig %s has no number %s", s.rig.ID, name)
		}
		values[at] = v
	}
	return values
}

func (s stand) put(setup rig.Setup) {
	s.Helper()
	must.Do(s, s.Set(setup))
}

func (s stand) measured(quantity string) bench.Measured {
	s.Helper()
	q, ok := s.lib.Forest.Quantities[quantity]
	if !ok {
		s.Fatalf("no quantity %s", quantity)
	}
	m, err := s.Measure(q, bench.HighImpedance)
	if err != nil {
		s.Fatalf("%s in %s: %v", quantity, s.rig.ID, err)
	}
	return m
}

// reads is a size, or a signed figure of direct current.
func (s stand) reads(quantity string) float64 {
	s.Helper()
	m := s.measured(quantity)
	if !m.Defined {
		s.Fatalf("%s in %s is not defined: %s", quantity, s.rig.ID, m.Reason)
	}
	if imag(m.Value) == 0 && s.lib.Forest.Quantities[quantity].Unit.Signed() {
		return real(m.Value)
	}
	return cmplx.Abs(m.Value)
}

// fault puts a fault with its ordinary severity on the bench; the variant is
// found by its text.
func (s stand) fault(id, variant string) {
	s.Helper()
	if id == "no-fault" {
		s.put(rig.Setup{})
		return
	}
	f := s.lib.Faults[id]
	if f == nil || f.Edits == nil {
		s.Fatalf("fault %s changes nothing", id)
	}
	at := slices.IndexFunc(f.Edits.Variants, func(v rig.Variant) bool {
		return (variant == "" || v.Text == variant) && v.FitsIn(s.rig)
	})
	if at < 0 {
		s.Fatalf("fault %s has no variant %q that fits in rig %s", id, variant, s.rig.ID)
	}
	s.put(rig.Setup{Faults: []rig.Applied{{Fault: f.Edits, Variant: at, Severity: severity(f.Edits)}}})
}

func severity(f *rig.Fault) float64 {
	if f.Severity == nil {
		return 0
	}
	return f.Severity.Value
}

// Every fault shows the picture that an independent nodal model with round
// values gives (testdata/pictures.txt, derived), and every fault has one.
func TestFaultsShowTheirPictures(t *testing.T) {
	lib := shipped()
	text := must.Have(os.ReadFile("testdata/pictures.txt"))(t)
	stands, shown := map[string]stand{}, map[string]bool{}
	for n, line := range strings.Split(string(text), "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		field := strings.Split(line+" | ", "|")
		for i := range field {
			field[i] = strings.TrimSpace(field[i])
		}
		id, fault, variant, opens := field[0], field[1], field[2], field[4]
		s, ok := stands[id]
		if !ok {
			s = standOf(t, lib, id)
			stands[id] = s
		}
		s.fault(fault, variant)
		shown[fault] = true
		var tripped []string
		for _, reading := range strings.Split(field[3], ";") {
			word := strings.Fields(reading)
			m := s.measured(word[0])
			if len(m.Tripped) > 0 {
				tripped = m.Tripped
			}
			switch {
			case word[1] == "open":
				if m.Defined || m.Hazard {
					t.Errorf("pictures.txt:%d: %s reads %v; expected an open", n+1, word[0], m.Value)
				}
			case word[1] == "live":
				if !m.Hazard {
					t.Errorf("pictures.txt:%d: ohms at %s read %v; expected a live circuit", n+1, word[0], m.Value)
				}
			default:
				want, tolerance := figure(t, word[1]), figure(t, word[2])
				if got := s.reads(word[0]); math.Abs(got-want) > tolerance {
					t.Errorf("pictures.txt:%d: %s reads %.4g; expected %s within %s", n+1, word[0], got, word[1], word[2])
				}
			}
		}
		if got := strings.Join(tripped, " "); got != opens {
			t.Errorf("pictures.txt:%d: %q opens; expected %q", n+1, got, opens)
		}
	}
	for id, f := range lib.Faults {
		if f.Edits == nil || !shown[id] && !slices.Contains(f.Places, faulttree.MeterOwn) {
			t.Errorf("fault %s has no picture", id)
			continue
		}
		for _, place := range f.Places {
			if !slices.ContainsFunc(f.Edits.Variants, func(v rig.Variant) bool { return v.Place == place }) {
				t.Errorf("fault %s has no variant in its place %s", id, place)
			}
		}
	}
}

func figure(t *testing.T, text string) float64 {
	t.Helper()
	scale := 1.0
	switch text[len(text)-1] {
	case 'k':
		scale = 1e3
	case 'M':
		scale = 1e6
	}
	v := must.Have(strconv.ParseFloat(strings.TrimRight(text, "kM"), 64))(t)
	return v * scale
}

// Whatever vehicle is drawn, a sound one lies at the pedestal between what the low
// sites of the field still give (common practice, no source) and the upper end of
// range B of ANSI C84.1 (quoted), and within the limits of common practice elsewhere, and
// nothing opens with all loads on. The severity, the loads and the site are
// those of the rig's ranges.
func TestDrawnRigsAreHealthy(t *testing.T) {
	lib := shipped()
	inRangeA := func(v float64) bool { return v >= 114 && v <= 126 }
	sound := func(v float64) bool { return v >= 104 && v <= 127 }
	bounds := map[string]func(float64) bool{
		"pedestal.l1-n": sound, "pedestal.l2-n": sound,
		"pedestal.n-g": func(v float64) bool { return v < 3 }, "pedestal.l1-earth": func(v float64) bool { return v > 100 && v < 140 },
		"body-earth": func(v float64) bool { return v < 5 }, "body-earth@loaded": func(v float64) bool { return v < 5 }, "body-earth@unplugged": func(v float64) bool { return v < 5 },
		"panel.l1-n@loaded": func(v float64) bool { return v > 95 && v < 127 }, "panel.n-g@loaded": func(v float64) bool { return v < 5 },
		"outlet.h-n@loaded": func(v float64) bool { return v > 92 && v < 127 }, "generator.l1-n": inRangeA, "inverter.l1-n": inRangeA,
		"ohm:plug.g-body@unplugged": func(v float64) bool { return v <= 0.3 }, "ohm:panel.g-body@unplugged": func(v float64) bool { return v <= 0.3 },
		"ohm:outlet.g-body@unplugged": func(v float64) bool { return v <= 0.3 }, "ohm:plug.n-g@unplugged": func(v float64) bool { return v > 1e5 },
		"battery.pos-neg@rest": func(v float64) bool { return v > 12.2 && v < 12.7 }, "battery.pos-neg": func(v float64) bool { return v > 12.7 && v < 14 },
		"dc.pos-neg@loaded": func(v float64) bool { return v > 11.5 }, "tow.aux-gnd": func(v float64) bool { return v > 12.8 },
	}
	names := slices.Sorted(maps.Keys(bounds))
	rng := rand.New(rand.NewPCG(7, 7))
	for _, id := range slices.Sorted(maps.Keys(lib.Rigs)) {
		s, r := standOf(t, lib, id), lib.Rigs[id]
		for range 200 {
			s.put(rig.Setup{Values: r.Draw(rng)})
			for _, name := range names {
				q := lib.Forest.Quantities[name]
				if !r.HasNode(q.Red) || !r.HasNode(q.Black) {
					continue
				}
				if m := s.measured(name); len(m.Tripped) > 0 {
					t.Fatalf("%s: %v opens in a sound vehicle", id, m.Tripped)
				}
				if v := s.reads(name); !bounds[name](v) {
					t.Fatalf("%s: %s reads %.4g in a sound vehicle", id, name, v)
				}
			}
		}
	}
}
