package circuit

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// The rows of testdata/reference carry their status: "published" is evidence,
// "quoted" is published as another publication quotes it, "derived" was
// computed from the named inputs and shows only that nothing changed, "memory"
// was not verified. Each test says whose rows it reads and how many of which
// status it expects, so that a row cannot change its standing unnoticed.
//
// Sources: S01 a university's table of American wire gauges; S03 Lessons In
// Electric Circuits, an open textbook; S08 46 CFR 183.340(p); S22 Electrical
// Wiring: Residential, 18th ed.; S23 training slides on an open neutral; S24 a
// heating-element maker's statement; S36 NEC chapter 9, table 8.

func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f := must.Have(os.Open("../../testdata/reference/" + name))(t)
	defer f.Close()
	all := must.Have(csv.NewReader(f).ReadAll())(t)
	var out []map[string]string
	for _, record := range all[1:] {
		row := map[string]string{}
		for i, column := range all[0] {
			row[column] = record[i]
		}
		out = append(out, row)
	}
	return out
}

func figure(t *testing.T, text string) float64 {
	t.Helper()
	return must.Have(strconv.ParseFloat(text, 64))(t)
}

// expect fails unless the rows have these statuses, such as "8 published".
func expect(t *testing.T, rows []map[string]string, want ...string) {
	t.Helper()
	count := map[string]int{}
	for _, r := range rows {
		count[r["status"]]++
	}
	for _, w := range want {
		number, status, _ := strings.Cut(w, " ")
		if strconv.Itoa(count[status]) != number {
			t.Errorf("%d rows are %s, not %s", count[status], status, number)
		}
		delete(count, status)
	}
	if len(count) > 0 {
		t.Errorf("rows of other statuses: %v", count)
	}
}

// row is the only row of a table with these values in these columns, of this
// status.
func row(t *testing.T, rows []map[string]string, status string, columns ...string) map[string]string {
	t.Helper()
	var found []map[string]string
	for _, r := range rows {
		fits := r["status"] == status
		for i := 0; i < len(columns); i += 2 {
			fits = fits && r[columns[i]] == columns[i+1]
		}
		if fits {
			found = append(found, r)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d %s rows for %q", len(found), status, columns)
	}
	return found[0]
}

// cmilFoot is an ohm of a wire of one circular mil and one foot, in ohm metres.
const cmilFoot = math.Pi / 4 * 0.0254e-3 * 0.0254e-3 / 0.3048

// cmil is the diameter in metres of a wire of an area in circular mils.
func cmil(area float64) float64 { return math.Sqrt(area) * 0.0254e-3 }

// 20 °C rows and diameters (S01, published); the constants of [Copper] and the
// diameter law are from memory and are what these rows test.
func TestWireTable(t *testing.T) {
	rows := table(t, "01_copper_20C.csv")
	expect(t, rows, "8 published")
	for _, r := range rows {
		d, want := GaugeMetres(figure(t, r["awg"])), figure(t, r["ohm_per_1000ft_20C"])
		near(t, "diameter of gauge "+r["awg"], complex(d/0.0254, 0), figure(t, r["diameter_in"]), 0.002*figure(t, r["diameter_in"]))
		near(t, "area of gauge "+r["awg"], complex(math.Pow(d/0.0254e-3, 2), 0), figure(t, r["area_cmil"]), 0.004*figure(t, r["area_cmil"]))
		near(t, "1000 ft of gauge "+r["awg"], complex(Copper().Ohms(304.8, d, 20), 0), want, figure(t, r["tolerance_rel"])*want)
	}
}

// 75 °C rows (S36): four are quoted, the rest are from memory and compared all
// the same. Solid within 0.5 %, stranded within 3 %.
func TestHotWireTable(t *testing.T) {
	rows := table(t, "01_copper_nec8.csv")
	expect(t, rows, "4 quoted", "4 memory")
	for _, r := range rows {
		got := complex(Copper().Ohms(304.8, GaugeMetres(figure(t, r["awg"])), 75), 0)
		for column, within := range map[string]float64{"ohm_per_1000ft_75C_solid": 0.005, "ohm_per_1000ft_75C_stranded7": 0.03} {
			if r[column] != "" {
				want := figure(t, r[column])
				near(t, fmt.Sprintf("gauge %s, %s (%s)", r["awg"], column, r["status"]), got, want, within*want)
			}
		}
	}
}

// A textbook's wires (S03, published): resistance of one, a short at the far
// end, and a load that a warmer wire starves. It uses copper's own resistivity
// and coefficient, which the same table publishes.
func TestTextbookWires(t *testing.T) {
	rows := table(t, "01_copper_constants.csv")
	item := func(name string) float64 {
		return figure(t, row(t, rows, "published", "item", name, "source", "S03")["value"])
	}
	metal := Metal{item("specific resistance copper (elemental)") * cmilFoot, item("temperature coefficient at 20 C, elemental copper")}
	const far = 2300 * 0.3048
	run := metal.Ohms(far, cmil(4107), 20)
	near(t, "2300 ft of 14 AWG", complex(run, 0), item("example: 14 AWG 2300 ft at 10.09"), 0.001)

	n := new(Net)
	n.Voltage("source", "out", "back", 230, 0)
	n.Resistor("there", "out", "far", run)
	n.Resistor("short", "far", "end", 0)
	n.Resistor("home", "end", "back", run)
	s := solved(t, n, 60)
	i, _ := s.CurrentAt(s.place(t, "there"))
	near(t, "shorted at the far end", i, item("example: source 230 V, two 2300 ft runs of 14 AWG shorted at the far end"), 0.01)

	for celsius, load := range map[float64]string{20: "example: 14 V source, 2 x 15 ohm wire, 250 ohm load at 20 C: load V", 35: "same at 35 C: load V"} {
		wire := 15 * metal.Ohms(1, 1, celsius) / metal.Ohms(1, 1, 20)
		n := new(Net)
		n.Voltage("source", "a", "0", 14, 0)
		n.Resistor("there", "a", "b", wire)
		n.Resistor("load", "b", "c", 250)
		n.Resistor("home", "c", "0", wire)
		s := solved(t, n, 0)
		near(t, load, volts(t, s, n, "b", "c"), item(load), 0.005)
		if celsius == 35 {
			near(t, "drop of a wire", volts(t, s, n, "a", "b"), item("same at 35 C: drop per wire"), 0.005)
		}
	}
}

// Wire sizes for 10 % of 12 V (S08, published, all 55): with the size of the
// table the load has 10.8 V and more, with the next size of the table it has
// less. Two 10 ft cells are one size larger than they must be.
func TestVoltageDropTable(t *testing.T) {
	rows, wires := table(t, "09_dc_drop_46cfr.csv"), table(t, "01_copper_20C.csv")
	expect(t, rows, "55 published")
	constant := row(t, table(t, "01_copper_constants.csv"), "published", "item", "K used for 12 V sizing", "source", "S08")
	metal := Metal{OhmMetres: figure(t, constant["value"]) * cmilFoot}
	load := func(r map[string]string, gauge string) float64 {
		area := figure(t, row(t, wires, "published", "awg", gauge)["area_cmil"])
		ohms := metal.Ohms(figure(t, r["one_way_ft"])*0.3048, cmil(area), 20)
		n := new(Net)
		n.Voltage("battery", "pos", "neg", 12, 0)
		n.Resistor("there", "pos", "load", ohms)
		n.Resistor("home", "back", "neg", ohms)
		n.Current("draw", "load", "back", complex(figure(t, r["amps"]), 0))
		return real(volts(t, solved(t, n, 0), n, "load", "back"))
	}
	larger := 0
	for _, r := range rows {
		what := r["amps"] + " A over " + r["one_way_ft"] + " ft of gauge "
		if v := load(r, r["awg_table"]); v < 12*0.9 {
			t.Errorf("%s%s leave %.3f V", what, r["awg_table"], v)
		}
		thinner := figure(t, r["awg_table"]) + 2
		if thinner > 14 { // the table's thinnest
			continue
		}
		if v := load(r, fmt.Sprint(thinner)); v >= 12*0.9 {
			larger++
			if r["one_way_ft"] != "10" {
				t.Errorf("%s%g would leave %.3f V, enough", what, thinner, v)
			}
		}
	}
	if larger != 2 {
		t.Errorf("%d cells are larger than they must be, want 2", larger)
	}
}

// An open and a closed neutral of a circuit with two legs: the inputs are
// published (S23, S03), quoted (S22) or derived, the results are computed from
// them by Ohm's law, so derived whatever the inputs.
func TestOpenNeutral(t *testing.T) {
	for _, r := range table(t, "06_open_neutral.csv") {
		if status := r["inputs_status"]; status != "published" && status != "quoted" && status != "derived" {
			t.Errorf("%s: inputs are %s", r["loads"], status)
		}
		for _, c := range []struct {
			supply string
			angle  float64
		}{{"240", math.Pi}, {"208", 2 * math.Pi / 3}} {
			n := split(c.angle, figure(t, r["Ra_ohm"]), figure(t, r["Rb_ohm"]), false)
			s := solved(t, n, 60)
			near(t, r["loads"]+" leg 1 of "+c.supply, volts(t, s, n, "l1", "mid"), figure(t, r["Va_open_"+c.supply]), 0.01)
			near(t, r["loads"]+" leg 2 of "+c.supply, volts(t, s, n, "l2", "mid"), figure(t, r["Vb_open_"+c.supply]), 0.01)
			i, _ := s.CurrentAt(s.place(t, "load1"))
			near(t, r["loads"]+" current of "+c.supply, i, figure(t, r["I_open_"+c.supply+"_A"]), 0.001)
		}
		n := split(math.Pi, figure(t, r["Ra_ohm"]), figure(t, r["Rb_ohm"]), true)
		s := solved(t, n, 60)
		i, _ := s.CurrentAt(s.place(t, "neutral"))
		near(t, r["loads"]+" neutral", i, figure(t, r["In_closed_120_240_A"]), 0.001)
		near(t, r["loads"]+" leg 1, neutral closed", volts(t, s, n, "l1", "mid"), 120, 0.01)
	}
}

// The row with a reactive load (closed form), and the published watts (S23).
func TestOpenNeutralWithAReactiveLoad(t *testing.T) {
	text := must.Have(os.ReadFile("../../testdata/reference/diagnosis.yaml"))(t)
	found := regexp.MustCompile(`\{ohms: \["(\d+)", "(\d+)\+(\d+)j"\], across: (\d+), volts: \[([\d.]+), ([\d.]+)\], degrees: \[([-\d.]+), ([-\d.]+)\]\}`).FindSubmatch(text)
	if found == nil {
		t.Fatal("the row with a reactive load is missing")
	}
	var v [8]float64
	for i := range v {
		v[i] = figure(t, string(found[i+1]))
	}
	n := new(Net)
	n.Voltage("line", "l1", "l2", complex(v[3], 0), 0)
	n.Resistor("load1", "l1", "mid", v[0])
	n.Resistor("load2", "mid", "motor", v[1])
	n.Inductor("winding", "motor", "l2", v[2]/(2*math.Pi*60))
	s := solved(t, n, 60)
	for i, leg := range [][2]string{{"l1", "mid"}, {"mid", "l2"}} {
		got := volts(t, s, n, leg[0], leg[1])
		near(t, fmt.Sprint("leg ", i+1), got, v[4+i], 1e-6)
		if degrees := cmplx.Phase(got) * 180 / math.Pi; math.Abs(degrees-v[6+i]) > 1e-6 {
			t.Errorf("leg %d is at %.7f°, want %g°", i+1, degrees, v[6+i])
		}
	}
	watts := regexp.MustCompile(`\{watts: \[(\d+), (\d+)\], volts: \[(\d+), (\d+)\], amps: ([\d.]+)\}`).FindSubmatch(text)
	if watts == nil {
		t.Fatal("the row in watts is missing")
	}
	ohms := func(i int) float64 { return 120 * 120 / figure(t, string(watts[i])) }
	n = split(math.Pi, ohms(1), ohms(2), false)
	s = solved(t, n, 60)
	near(t, "leg 1", volts(t, s, n, "l1", "mid"), figure(t, string(watts[3])), 1e-6)
	near(t, "leg 2", volts(t, s, n, "l2", "mid"), figure(t, string(watts[4])), 1e-6)
	i, _ := s.CurrentAt(s.place(t, "load1"))
	near(t, "current", i, figure(t, string(watts[5])), 0.0005)
}

// Legs, neutrals and heaters (S03, S24).
func TestWye(t *testing.T) {
	rows := table(t, "06_split_and_wye.csv")
	value := func(status, name, quantity string) float64 {
		return figure(t, row(t, rows, status, "case", name, "quantity", quantity)["value"])
	}
	const thirds = 2 * math.Pi / 3
	n := split(thirds, 1.44, 1.44, true)
	s := solved(t, n, 60)
	near(t, "between legs of a wye", volts(t, s, n, "l1", "l2"), value("published", "two 120 V legs 120 deg apart", "V hot-hot"), 0.1)
	i, _ := s.CurrentAt(s.place(t, "neutral"))
	near(t, "neutral on a wye", i, value("published", "two 10 kW loads, two legs of wye", "neutral current"), 0.01)
	n = split(math.Pi, 1.44, 1.44, true)
	s = solved(t, n, 60)
	near(t, "between opposite legs", volts(t, s, n, "l1", "l2"), value("published", "two 120 V sources 180 deg", "V hot-hot"), 1e-6)
	i, _ = s.CurrentAt(s.place(t, "neutral"))
	near(t, "neutral of opposite legs", i, value("published", "two 10 kW loads, 120/240", "neutral current"), 1e-6)

	n = split(thirds, 1.44, 1.44, true) // the third leg
	n.Voltage("leg3", "l3", "n", cmplx.Rect(120, -thirds), 0)
	n.Resistor("load3", "l3", "mid", 1.44)
	s = solved(t, n, 60)
	i, _ = s.CurrentAt(s.place(t, "load3"))
	near(t, "line current", i, value("published", "three 1.44 ohm loads on 120/208", "line current"), 0.01)
	near(t, "each load", volts(t, s, n, "l3", "mid"), value("published", "same", "each load"), 0.01)

	branch := value("derived", "wye, VLL 240 V, 40 ohm per branch", "phase voltage")
	n = new(Net)
	for k, leg := range []string{"b", "c"} { // the first phase is open, its neutral too
		n.Voltage(leg, leg, "0", cmplx.Rect(240/math.Sqrt(3), float64(k+1)*thirds), 0)
		n.Resistor("branch "+leg, leg, "star", 40)
	}
	s = solved(t, n, 60)
	near(t, "phase voltage", volts(t, s, n, "b", "0"), branch, 0.01)
	i, _ = s.CurrentAt(s.place(t, "branch b"))
	near(t, "two branches left", i, value("derived", "same, phase A open, neutral open", "Ib=Ic"), 1e-6)
	n.Resistor("neutral", "star", "0", 1e-6)
	s = solved(t, n, 60)
	i, _ = s.CurrentAt(s.place(t, "neutral"))
	near(t, "neutral with a branch gone", i, value("derived", "same, phase A open, neutral sound", "In"), 0.001)

	for _, c := range []struct {
		status, name, quantity string
		rated, watts, on       float64
	}{
		{"published", "240 V 5500 W element on 208 V", "power", 240, 5500, 208},
		{"quoted", "240 V 4500 W element on 208 V", "power", 240, 4500, 208},
		{"quoted", "1000 W 240 V on 208 V", "power", 240, 1000, 208},
		{"quoted", "1000 W 208 V on 240 V", "power", 208, 1000, 240},
		{"quoted", "120 V rated on 240 V", "power", 120, 100, 240}, // in % of 100 W
	} {
		n := new(Net)
		n.Voltage("supply", "l1", "l2", complex(c.on, 0), 0)
		n.Resistor("element", "l1", "l2", c.rated*c.rated/c.watts)
		s := solved(t, n, 60)
		p, _ := s.PowerAt(s.place(t, "element"))
		near(t, c.name+" ("+c.status+")", p, value(c.status, c.name, c.quantity), 1)
		if c.rated == 240 && math.Abs(real(p)/c.watts-0.751) > 0.0005 {
			t.Errorf("%s takes %.4f of its rating, want 0.751", c.name, real(p)/c.watts)
		}
	}
}
