package meter

import (
	"encoding/csv"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/circuit"
	"faultwright/faulttree/must"

	"pgregory.net/rapid"
)

// net is a circuit between the nodes red and black, solved with the meter.
type net struct {
	build func(*circuit.Net)
	live  bool    // ohms would be a hazard
	ohms  float64 // what an ohmmeter finds
}

func (n net) Measure(q faulttree.Quantity, in bench.Input) (bench.Measured, error) {
	if q.Unit == faulttree.Ohms {
		if n.live {
			return bench.Measured{Hazard: true, Reason: "The circuit is live."}, nil
		}
		return bench.Measured{Defined: true, Value: complex(n.ohms, 0)}, nil
	}
	var c circuit.Net
	n.build(&c)
	hertz := 60.0
	if q.Unit == faulttree.VoltsDC {
		hertz = 0
	}
	ohms := 10e6
	if in == bench.LowImpedance {
		ohms = 3000
	}
	c.Resistor("meter", "red", "black", ohms)
	s, err := circuit.Compile(&c, hertz)
	if err != nil {
		return bench.Measured{}, err
	}
	volts, ok := s.Voltage(c.Node("red"), c.Node("black"))
	if hertz == 0 && q.Unit == faulttree.VoltsDC && n.live {
		volts = 0 // an alternating source has no direct part
	}
	return bench.Measured{Value: volts, Defined: ok}, nil
}

// behind is a source behind an impedance of ohms and, if any, farads.
func behind(volts, ohms, farads float64) net {
	return net{live: true, build: func(c *circuit.Net) {
		c.Voltage("source", "source", "black", complex(volts, 0), 0)
		if farads == 0 {
			c.Resistor("z", "source", "red", ohms)
			return
		}
		c.Resistor("z", "source", "middle", ohms)
		c.Capacitor("c", "middle", "red", farads)
	}}
}

var (
	volts    = faulttree.Quantity{ID: "pedestal.l1-n", Unit: faulttree.VoltsAC, Range: 600 * faulttree.One, Most: 1000 * faulttree.One}
	low      = faulttree.Quantity{ID: "pedestal.l1-n@lowz", Unit: faulttree.VoltsAC, Range: 600 * faulttree.One, Conditions: []faulttree.Condition{faulttree.LowZ}}
	battery  = faulttree.Quantity{ID: "battery.pos-neg", Unit: faulttree.VoltsDC, Range: 60 * faulttree.One, Most: 100 * faulttree.One}
	ohms     = faulttree.Quantity{ID: "ohm:plug.g-body@unplugged", Unit: faulttree.Ohms, Range: 600 * faulttree.One, Most: 200e6 * faulttree.One}
	ordinary = NewFace(faulttree.DefaultMeter())
)

func read(t testing.TB, m *Multimeter, c Circuit, q faulttree.Quantity) Shown {
	t.Helper()
	return must.Have(m.Read(c, q))(t)
}

// copied is a meter with what a booklet gives for some of its ranges: worse on the
// lowest and the highest, nothing below 6 V and above 60 kΩ.
var copied = func() *Face {
	m := faulttree.DefaultMeter()
	const one = faulttree.One
	ranges, err := faulttree.NewRanges([]faulttree.Range{
		{Unit: faulttree.VoltsAC, Top: 6 * one, Count: one / 1000, Accuracy: faulttree.Accuracy{Percent: 3 * one, Counts: 40}},
		{Unit: faulttree.VoltsAC, Top: 600 * one, Count: one / 10, Accuracy: faulttree.Accuracy{Percent: one, Counts: 3}},
		{Unit: faulttree.VoltsAC, Top: 750 * one, Count: one, Accuracy: faulttree.Accuracy{Percent: 2 * one, Counts: 5}},
		{Unit: faulttree.Ohms, Top: 600 * one, Count: one / 10, Accuracy: faulttree.Accuracy{Percent: 2 * one, Counts: 7}},
		{Unit: faulttree.Ohms, Top: 60_000 * one, Count: 10 * one, Accuracy: faulttree.Accuracy{Percent: one / 2, Counts: 2}},
	})
	if err != nil {
		panic(err)
	}
	m.Ranges = ranges
	return NewFace(m)
}()

// With its error drawn, a display taken with its accuracy always holds what
// was there: the rule that every judgement of a tree stands on.
func TestTheDisplayHoldsTheTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.SampledFrom([]faulttree.Quantity{volts, battery, ohms,
			{Unit: faulttree.AmpsAC, Range: 60 * faulttree.One}, {Unit: faulttree.AmpsDC, Range: 6 * faulttree.One}}).Draw(t, "quantity")
		size := math.Pow(10, rapid.Float64Range(-5, map[faulttree.Unit]float64{faulttree.Ohms: 7.7}[q.Unit]+2.6).Draw(t, "decades"))
		if q.Unit.Signed() && rapid.Bool().Draw(t, "negative") {
			size = -size
		}
		reach := rapid.SampledFrom([]faulttree.Amount{0, 0, q.Range / 10, q.Range}).Draw(t, "range")
		face := rapid.SampledFrom([]*Face{ordinary, copied}).Draw(t, "meter")
		r := face.Display(size, q.Unit, reach, rapid.Float64Range(-1, 1).Draw(t, "noise"))
		if r.Quality == faulttree.OverRange {
			return
		}
		truth := faulttree.Amount(math.Round(size * 1e9))
		if span := face.Model.Span(r, q); !span.Contains(truth) {
			t.Fatalf("%v %s on range %v shows %s, which means %s", truth, q.Unit, reach, r.Low, span.Format(q.Unit))
		}
	})
}

// OL stands where, and only where, the range has no counts left.
func TestOverRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]faulttree.Unit{faulttree.VoltsAC, faulttree.VoltsDC, faulttree.Ohms, faulttree.AmpsAC}).Draw(t, "unit")
		ends := ordinary.Ranges(u)
		at := rapid.IntRange(0, len(ends)-1).Draw(t, "range")
		value := rapid.Float64Range(0, 2*ends[at].Float()).Draw(t, "value")
		s := ordinary.scales[u][at]
		r := ordinary.Display(value, u, ends[at], 0)
		over := math.Round(value*1e9/float64(s.step)) > float64(s.most)
		if (r.Quality == faulttree.OverRange) != over {
			t.Fatalf("%g on %s: %s", value, ends[at].With(u), r.Quality)
		}
		auto := ordinary.Display(value, u, 0, 0)
		last := ordinary.scales[u][len(ends)-1]
		if beyond := math.Round(value*1e9/float64(last.step)) > float64(last.most); (auto.Quality == faulttree.OverRange) != beyond {
			t.Fatalf("%g on automatic: %s", value, auto.Quality)
		}
	})
}

// A copied meter ends where its booklet does, whichever range is set.
func TestACopiedMeterEndsWhereItsBookletDoes(t *testing.T) {
	for _, c := range []struct {
		value float64
		unit  faulttree.Unit
		reach faulttree.Amount
		want  string
	}{
		{749.4, faulttree.VoltsAC, 0, "749"}, {751, faulttree.VoltsAC, 0, "OL"}, {751, faulttree.VoltsAC, 750 * faulttree.One, "OL"},
		{59.9e3, faulttree.Ohms, 0, "59.90"}, {61e3, faulttree.Ohms, 0, "OL"}, {61e3, faulttree.Ohms, 600_000 * faulttree.One, "OL"},
		{751, faulttree.VoltsDC, 0, "751"},
	} {
		if got := copied.figure(c.value, c.unit, c.reach, 0).text(); got != c.want {
			t.Errorf("%v %s on %v: %s, want %s", c.value, c.unit, c.reach, got, c.want)
		}
	}
	if ends := copied.Ranges(faulttree.Ohms); ends[len(ends)-1] != 60_000*faulttree.One {
		t.Errorf("its dial has ohms up to %v", ends)
	}
}

// The reading without text is the reading a person gets who types the text.
func TestTypedAndDisplayedAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.SampledFrom([]faulttree.Quantity{volts, battery, ohms, {Unit: faulttree.AmpsAC}, {Unit: faulttree.AmpsDC}}).Draw(t, "quantity")
		q.Most = 0
		value := math.Pow(10, rapid.Float64Range(-5, 9).Draw(t, "decades"))
		if rapid.Bool().Draw(t, "negative") {
			value = -value
		}
		reach := rapid.SampledFrom(append(ordinary.Ranges(q.Unit), 0)).Draw(t, "range")
		noise := rapid.Float64Range(-1, 1).Draw(t, "noise")
		g := ordinary.figure(value, q.Unit, reach, noise)
		want := must.Have(faulttree.ParseReading(g.text()+" "+g.scale.unit, q))(t)
		want.Text = ""
		if got := ordinary.Display(value, q.Unit, reach, noise); got != want {
			t.Fatalf("%s %s: displayed %+v, typed %+v", g.text(), g.scale.unit, got, want)
		}
	})
}

func TestText(t *testing.T) {
	tests := []struct {
		value float64
		unit  faulttree.Unit
		reach faulttree.Amount
		want  string
	}{
		{119.94, faulttree.VoltsAC, 0, "119.9 V"}, {-119.94, faulttree.VoltsAC, 0, "119.9 V"},
		{0, faulttree.VoltsAC, 0, "0.0 mV"}, {0.0583, faulttree.VoltsAC, 0, "58.3 mV"},
		{0.0583, faulttree.VoltsAC, 600 * faulttree.One, "0.1 V"}, {599.94, faulttree.VoltsAC, 0, "599.9 V"},
		{599.96, faulttree.VoltsAC, 0, "600 V"}, {1000.6, faulttree.VoltsAC, 0, "OL V"},
		{12.655, faulttree.VoltsDC, 0, "12.66 V"}, {-0.0042, faulttree.VoltsDC, 6 * faulttree.One, "-0.004 V"},
		{58, faulttree.VoltsAC, 6 * faulttree.One, "OL V"}, {58, faulttree.VoltsAC, 7 * faulttree.One, "58.00 V"},
		{0.23, faulttree.Ohms, 0, "0.2 Ω"}, {5200, faulttree.Ohms, 0, "5.200 kΩ"}, {2.2e6, faulttree.Ohms, 0, "2.200 MΩ"},
		{6e7, faulttree.Ohms, 0, "OL MΩ"}, {math.Inf(1), faulttree.Ohms, 600 * faulttree.One, "OL Ω"},
		{0.0104, faulttree.AmpsAC, 0, "0.010 A"}, {401, faulttree.AmpsDC, 0, "OL A"}, {-40, faulttree.AmpsDC, 0, "-40.00 A"},
	}
	for _, tt := range tests {
		g := ordinary.figure(tt.value, tt.unit, tt.reach, 0)
		if got := g.text() + " " + g.scale.unit; got != tt.want {
			t.Errorf("%g %s on %v: %s, want %s", tt.value, tt.unit, tt.reach, got, tt.want)
		}
	}
	small := faulttree.DefaultMeter()
	small.FullScale = 2000
	if g := NewFace(small).figure(240, faulttree.VoltsAC, 200*faulttree.One, 0); g.text() != "OL" {
		t.Errorf("240 V on 200 V shows %s", g.text())
	}
}

// Published: 24 V over two 250 MΩ shows 0.8889 V on 10 MΩ; quoted: 120 V, 0.7 %
// + 2 counts of 0.1 V, is 118.96 to 121.04 V (testdata/reference/08_meter.csv).
func TestPublished(t *testing.T) {
	f := must.Have(os.Open("../../testdata/reference/08_meter.csv"))(t)
	defer f.Close()
	rows := must.Have(csv.NewReader(f).ReadAll())(t)
	value := func(item, column string) string {
		for _, row := range rows {
			if strings.HasPrefix(row[0], item) {
				return row[map[string]int{"value": 1, "where": 4}[column]]
			}
		}
		t.Fatalf("no row %q", item)
		return ""
	}
	want := must.Have(strconv.ParseFloat(strings.TrimSuffix(value("example: 24 V", "value"), " V"), 64))(t)
	divider := net{build: func(c *circuit.Net) {
		c.Voltage("battery", "top", "black", 24, 0)
		c.Resistor("upper", "top", "red", 250e6)
		c.Resistor("lower", "red", "black", 250e6)
	}}
	s := read(t, New(ordinary, nil), divider, battery)
	if math.Abs(real(s.Seen.Value)-want) > 5e-5 || s.Text != "0.889" {
		t.Errorf("24 V over two 250 MΩ shows %s (%v), published %g V", s.Text, s.Seen.Value, want)
	}
	var from, to float64
	if at := strings.Index(value("accuracy form", "where"), "118.96-121.04"); at < 0 {
		t.Fatal("the accuracy example has changed")
	} else {
		from, to = 118.96, 121.04
	}
	m := faulttree.DefaultMeter()
	m.ACVolts = faulttree.Accuracy{Percent: 7 * faulttree.One / 10, Counts: 2}
	face := NewFace(m)
	for _, noise := range []float64{-1, 1} {
		if r := face.Display(120, faulttree.VoltsAC, 0, noise); r.Low.Float() < from || r.Low.Float() > to {
			t.Errorf("120 V can show %s, quoted bounds %g to %g", r.Low, from, to)
		}
	}
}

// A ghost goes through a capacitance and collapses on low impedance; the
// leakage of insulation does not, as far as its ohms are small beside 3 kΩ.
// By closed form: share = R / |R + 1/(jωC)|.
func TestGhostAndLeak(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		farads := math.Pow(10, rapid.Float64Range(-10.5, -8.5).Draw(t, "farads")) // 30 pF to 3 nF
		m := New(ordinary, nil)
		high, pulled := mustRead(t, m, behind(120, 1, farads), volts), mustRead(t, m, behind(120, 1, farads), low)
		for _, c := range []struct {
			s    Shown
			ohms float64
		}{{high, 10e6}, {pulled, 3000}} {
			want := 120 * c.ohms / cmplx.Abs(complex(c.ohms+1, -1/(2*math.Pi*60*farads)))
			if got := cmplx.Abs(c.s.Seen.Value); math.Abs(got-want) > 1e-9*want {
				t.Fatalf("%g F on %g Ω: %g V, closed form %g V", farads, c.ohms, got, want)
			}
		}
		if high.Reading.Low < 13*faulttree.One || pulled.Reading.Low > 1*faulttree.One {
			t.Fatalf("a ghost through %g F shows %s and %s", farads, high.Reading.Show(faulttree.VoltsAC), pulled.Reading.Show(faulttree.VoltsAC))
		}
		leak := rapid.Float64Range(1, 1000).Draw(t, "leak")
		stiff := mustRead(t, m, behind(120, leak, 0), low)
		if stiff.Reading.Low < 89*faulttree.One {
			t.Fatalf("a leak of %g Ω falls to %s", leak, stiff.Text)
		}
	})
}

func mustRead(t *rapid.T, m *Multimeter, c Circuit, q faulttree.Quantity) Shown {
	return must.Have(m.Read(c, q))(t)
}

// A spike in dry gravel, 100 kΩ and more, leaves a low-impedance meter next to
// nothing of the body's voltage, and a meter of 10 MΩ nearly all of it.
func TestSpikeInGravel(t *testing.T) {
	for _, spike := range []float64{1e5, 3e5, 1e6} {
		body := behind(58, spike, 0)
		m := New(ordinary, nil)
		if s := read(t, m, body, volts); s.Reading.Low < 52*faulttree.One {
			t.Errorf("spike of %g Ω on 10 MΩ: %s %s", spike, s.Text, s.Unit)
		}
		if s := read(t, m, body, low); s.Reading.Low > 2*faulttree.One {
			t.Errorf("spike of %g Ω on low impedance: %s %s", spike, s.Text, s.Unit)
		}
	}
}

// The same seed, the same displays; another seed, others.
func TestDeterministic(t *testing.T) {
	run := func(seed uint64) string {
		rng := rand.New(rand.NewPCG(seed, 1))
		m := New(ordinary, func(faulttree.Quantity) float64 { return 2*rng.Float64() - 1 })
		var out []string
		for range 20 {
			out = append(out, read(t, m, behind(120, 0.1, 0), volts).Text)
		}
		return strings.Join(out, " ")
	}
	if run(7) != run(7) || run(7) == run(8) {
		t.Error("readings do not follow from the seed alone")
	}
}

func TestDisplayTakesNoMemory(t *testing.T) {
	if n := testing.AllocsPerRun(100, func() { ordinary.Display(119.97, faulttree.VoltsAC, 0, 0.3) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkDisplay(b *testing.B) {
	for b.Loop() {
		ordinary.Display(119.97, faulttree.VoltsAC, 0, 0.3)
	}
}
