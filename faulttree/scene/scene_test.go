package scene_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
)

// maker builds a small rig for the tests.
type maker struct{ r *rig.Rig }

func (m maker) number(name string, u rig.ParamUnit, value, to float64) int {
	m.r.Params = append(m.r.Params, rig.Param{Name: name, Unit: u, Value: value, From: value, To: max(value, to)})
	return len(m.r.Params) - 1
}

func (m maker) part(kind rig.Kind, name, a, b string, attr rig.Attribute, u rig.ParamUnit, value float64) *rig.Part {
	p := rig.NewPart(name, kind, a, b)
	p.Run, p.Wire, _ = strings.Cut(name, ".")
	p.Params[attr] = m.number(name+"."+attr.String(), u, value, 2400)
	if u != rig.Watts {
		m.r.Params[p.Params[attr]].To = value
	}
	m.r.Parts = append(m.r.Parts, p)
	return &m.r.Parts[len(m.r.Parts)-1]
}

// coach is two legs of 120 V, a cord, a breaker and a load on each leg, with a
// body on a grounding conductor: round values, no source.
func coach(t testing.TB) *rig.Rig {
	t.Helper()
	m := maker{&rig.Rig{ID: "coach", Title: "a coach", Columns: []string{"source", "pedestal", "panel", "body"}}}
	m.r.Hertz = m.number("hertz", rig.Hertz, 60, 60)
	m.r.Celsius = m.number("celsius", rig.Celsius, 20, 20)
	for i, leg := range []string{"l1", "l2"} {
		s := m.part(rig.Source, "source."+leg, "source."+leg, "source.n", rig.AttrVolts, rig.Volts, 120)
		s.Params[rig.AttrDegrees] = m.number("source."+leg+".degrees", rig.Degrees, 180*float64(i), 0)
	}
	m.part(rig.Joint, "bond", "source.n", "source.g", rig.AttrOhms, rig.Ohms, 0)
	m.part(rig.Resistance, "rod", "source.g", "0", rig.AttrOhms, rig.Ohms, 25)
	for _, wire := range []string{"l1", "l2"} {
		b := m.part(rig.Breaker, "breaker."+wire, "source."+wire, "pedestal."+wire, rig.AttrOhms, rig.Ohms, 0.002)
		b.Params[rig.AttrTrip], b.Title, b.Switch = m.number("breaker."+wire+".trip", rig.Amperes, 50, 50), "the pedestal's breaker", "pedestal"
	}
	for _, wire := range []string{"n", "g"} {
		m.part(rig.Conductor, "tap."+wire, "source."+wire, "pedestal."+wire, rig.AttrOhms, rig.Ohms, 0.002)
	}
	for _, wire := range []string{"l1", "l2", "n", "g"} {
		m.part(rig.Conductor, "cord."+wire, "pedestal."+wire, "panel."+wire, rig.AttrOhms, rig.Ohms, 0.01)
	}
	for leg, watts := range map[string]float64{"l1": 1500, "l2": 500} {
		l := m.part(rig.Load, "load-"+leg, "panel."+leg, "panel.n", rig.AttrWatts, rig.Watts, watts)
		l.Leg, l.Params[rig.AttrAtVolts] = leg, m.number("load-"+leg+".at", rig.Volts, 120, 120)
	}
	m.part(rig.Joint, "body-bond", "panel.g", "body", rig.AttrOhms, rig.Ohms, 0.01)
	m.part(rig.Capacitance, "filter-l1", "panel.l1", "body", rig.AttrFarads, rig.Farads, 20e-9)
	m.part(rig.Capacitance, "filter-n", "panel.n", "body", rig.AttrFarads, rig.Farads, 20e-9)
	m.part(rig.Resistance, "spike", "earth", "0", rig.AttrOhms, rig.Ohms, 150)
	m.r.Switches = []rig.Switch{{Name: "pedestal", Title: "the pedestal's breaker"}}
	if errs := m.r.Check(); errs.HasErrors() {
		t.Fatal(errs)
	}
	return m.r
}

func catalogue() []*rig.Fault {
	return []*rig.Fault{
		{ID: "open-neutral", Title: "The neutral is open", Variants: []rig.Variant{
			{Place: faulttree.Supply, Text: "in a feeder this rig lacks", Edits: []rig.Edit{{Kind: rig.Open, Parts: []string{"feeder.n"}}}},
			{Place: faulttree.Cord, Text: "in the cord", Edits: []rig.Edit{{Kind: rig.Open, Parts: []string{"cord.n"}}}}}},
		{ID: "high-resistance-neutral", Title: "A poor neutral", Severity: &rig.Param{Unit: rig.Ohms, Value: 3, From: 0.3, To: 30, Log: true}, Variants: []rig.Variant{
			{Place: faulttree.Cord, Text: "in the cord", Edits: []rig.Edit{{Kind: rig.Resist, Parts: []string{"cord.n"}, Ohms: rig.EditValue{Severity: true, Factor: 1}}}}}},
		{ID: "open-ground", Title: "The ground is open", Variants: []rig.Variant{
			{Place: faulttree.Cord, Edits: []rig.Edit{{Kind: rig.Open, Parts: []string{"cord.g"}}}}}},
		{ID: "short", Title: "Hot to the body", Variants: []rig.Variant{
			{Place: faulttree.Vehicle, Edits: []rig.Edit{{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Fixed: 0.5}}}}}},
		{ID: "meter-hold", Title: "Hold is on", Variants: []rig.Variant{{Place: faulttree.MeterOwn, Edits: []rig.Edit{{Kind: rig.Misuse, Mistake: rig.HoldLeftOn}}}}},
	}
}

func show(t testing.TB) *scene.Scene {
	t.Helper()
	points := map[string]faulttree.Point{}
	for _, id := range []string{"pedestal.l1", "pedestal.n", "panel.l1", "panel.l2", "panel.n", "panel.g", "body", "earth", "elsewhere.l1"} {
		points[id] = faulttree.Point{ID: id, Title: "point " + id}
	}
	return must.Have(scene.New(coach(t), scene.Book{Faults: catalogue(), Points: points, BodyLimit: 30 * faulttree.One, Meter: faulttree.DefaultMeter()}))(t)
}

func look(t testing.TB, s *scene.Scene) scene.View {
	t.Helper()
	return must.Have(s.Look())(t)
}

func leg(v scene.View, name string) float64 {
	return cmplx.Abs(v.Volts["panel."+name] - v.Volts["panel.n"])
}

func TestOffersOnlyWhatFits(t *testing.T) {
	s := show(t)
	ids := lists.Each(s.Faults(), func(f *rig.Fault) string { return f.ID })
	if got := strings.Join(ids, " "); got != "open-neutral high-resistance-neutral open-ground short" {
		t.Errorf("offered are %s; a mistake with the meter is no fault of a circuit", got)
	}
	if s.Choose("meter-hold") || !s.Choose("open-neutral") {
		t.Error("the wrong fault was chosen")
	}
	if places := s.Places(); len(places) != 1 || places[0] != "in the cord" {
		t.Errorf("places %q", places)
	}
	if got := strings.Join(s.Points(), " "); got != "pedestal.l1 pedestal.n panel.g panel.l1 panel.l2 panel.n body earth" {
		t.Errorf("points %s", got)
	}
}

// With the neutral open, loads of 1500 W and 500 W share 240 V in series: 60 V
// and 180 V (the row of testdata/reference/06_open_neutral.csv, derived). As
// one is turned up its leg sags and the other rises.
func TestOneLegRisesAsTheOtherSags(t *testing.T) {
	s := show(t)
	if v := look(t, s); math.Abs(leg(v, "l1")-120) > 1 || math.Abs(leg(v, "l2")-120) > 1 {
		t.Fatalf("sound, the legs stand at %.1f and %.1f V", leg(v, "l1"), leg(v, "l2"))
	}
	s.Choose("open-neutral")
	v := look(t, s)
	if math.Abs(leg(v, "l1")-60) > 0.5 || math.Abs(leg(v, "l2")-180) > 0.5 {
		t.Errorf("the legs stand at %.1f and %.1f V, want 60 and 180", leg(v, "l1"), leg(v, "l2"))
	}
	if got := v.Key[0].Name + " " + v.Key[0].Text; !strings.HasPrefix(got, "L1 to neutral, panel 60") && !strings.HasPrefix(got, "L1 to neutral, panel 59.9") {
		t.Errorf("the first key is %q", got)
	}
	before := v
	for _, watts := range []float64{1800, 2100, 2400} {
		s.SetLoad("l1", watts)
		v = look(t, s)
		if leg(v, "l1") >= leg(before, "l1") || leg(v, "l2") <= leg(before, "l2") {
			t.Errorf("at %v W the legs go from %.1f, %.1f to %.1f, %.1f", watts, leg(before, "l1"), leg(before, "l2"), leg(v, "l1"), leg(v, "l2"))
		}
		before = v
	}
	s.SetLoad("l1", 0)
	if v = look(t, s); v.State.Loads["l1"] || !v.State.Loads["l2"] {
		t.Error("0 W does not turn a leg off")
	}
}

func TestSeverityTurnsTheFault(t *testing.T) {
	s := show(t)
	s.Choose("high-resistance-neutral")
	dial, ok := s.Severity()
	if !ok || dial.Text() != "3 Ω" || math.Abs(dial.Share()-0.5) > 1e-9 || math.Abs(dial.At(1)-30) > 1e-9 {
		t.Fatalf("the dial is %+v", dial)
	}
	mild := leg(look(t, s), "l2")
	s.SetSeverity(dial.At(1))
	if worse := leg(look(t, s), "l2"); worse < mild+10 {
		t.Errorf("ten times worse, L2 goes from %.1f to %.1f V", mild, worse)
	}
}

// With the ground lost, equal filters to hot and neutral put the body at half
// of line (closed form).
func TestLostGround(t *testing.T) {
	s := show(t)
	s.Choose("open-ground")
	v := look(t, s)
	if body := cmplx.Abs(v.Volts["body"]); math.Abs(body-60) > 1 {
		t.Errorf("the body stands at %.1f V, want half of 120", body)
	}
	if !v.Danger["body"] || !strings.Contains(v.Warning, "The body stands") {
		t.Errorf("no warning: %q", v.Warning)
	}
	s.Throw("pedestal", false)
	v = look(t, s)
	if v.Warning != "" {
		t.Errorf("dead, it warns: %s", v.Warning)
	}
}

// The neutral beyond the break is tied to nothing once the breaker is off.
func TestFloatingIsADash(t *testing.T) {
	s := show(t)
	s.Choose("open-neutral")
	s.Throw("pedestal", false)
	s.SetLoad("l1", 0)
	s.SetLoad("l2", 0)
	v := look(t, s)
	for _, r := range v.Points {
		if r.Name == "point panel.l2" && r.Text != "—" {
			t.Errorf("a floating leg shows %q", r.Text)
		}
	}
	if v.Key[1].Text != "—" {
		t.Errorf("from a floating leg to neutral it says %q", v.Key[1].Text)
	}
}

func TestNamesWhatTripped(t *testing.T) {
	s := show(t)
	s.Choose("short")
	v := look(t, s)
	if v.Opened != "Tripped: the pedestal's breaker." {
		t.Errorf("it says %q of %v", v.Opened, v.Tripped)
	}
	if s.Choose(""); look(t, s).Opened != "" {
		t.Error("without the fault it stays open")
	}
}

func TestProbes(t *testing.T) {
	s := show(t)
	if d := look(t, s).Display; d.Text != "" || d.Note == "" {
		t.Errorf("without probes it shows %+v", d)
	}
	for _, node := range []string{"inlet.l1", "panel.n", "panel.l1"} { // red, black, and red again
		s.Touch(node)
	}
	if red, black := s.Probes(); red != "panel.l1" || black != "panel.n" {
		t.Errorf("probes %s %s", red, black)
	}
	if d := look(t, s).Display; !strings.HasPrefix(d.Text, "119.") || !strings.HasSuffix(d.Text, " V") {
		t.Errorf("it shows %+v", d)
	}
	s.Meter().Setting.Function = meter.Ohms
	if d := look(t, s).Display; !d.Hazard || d.Text != "" {
		t.Errorf("ohms on a live circuit show %+v", d)
	}
	s.Meter().Setting.Function = meter.AmpsAC
	if d := look(t, s).Display; !strings.HasPrefix(d.Text, "12.") {
		t.Errorf("the clamp shows %+v", d)
	}
}

func BenchmarkLook(b *testing.B) {
	s := show(b)
	s.Choose("open-neutral")
	watts := 0.0
	for b.Loop() {
		watts = 500 + math.Mod(watts+7, 1500)
		s.SetLoad("l1", watts)
		look(b, s)
	}
}

// A reader turns the loads of a leg up; the scene solves and words it.
func ExampleScene() {
	s := show(new(testing.T))
	s.Choose("open-neutral")
	s.SetLoad("l1", 1500)
	s.SetLoad("l2", 1500)
	v, err := s.Look()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(v.Key[2].Name, v.Key[2].Text)
	// Output:
	// L1 to L2, panel 239.7 V
}
