package content_test

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"strings"

	"faultwright/faulttree"
)

// A second model of vehicle and site, as one would draw it on a sheet of paper. It
// shares no code and no numbers with the rigs of the handbook, so that the
// suspects are judged by vehicles that they know nothing of: other loads, filters,
// soils, feeders and stray capacitances, wider than those of the rigs. Nothing in
// the program is tuned to it. Its numbers are common practice, no source.

// sketch is a circuit at 60 Hz: what lies between two nodes.
type sketch []element

type element struct {
	a, b string
	ohms float64    // in series with volts
	at   complex128 // volts of a source
	nano float64    // capacitance instead, in nanofarads
}

func (s *sketch) wire(a, b string, ohms float64) {
	if !math.IsInf(ohms, 1) {
		*s = append(*s, element{a: a, b: b, ohms: math.Max(ohms, 1e-4)})
	}
}
func (s *sketch) capacitor(a, b string, nano float64) {
	*s = append(*s, element{a: a, b: b, nano: nano})
}
func (s *sketch) source(a, b string, volts complex128, ohms float64) {
	*s = append(*s, element{a: a, b: b, at: volts, ohms: ohms})
}
func (s *sketch) load(a, b string, watts float64) {
	if watts > 0 {
		s.wire(a, b, 120*120/watts)
	}
}

// admittance is that of the element, direct or alternating.
func (e element) admittance(direct bool) complex128 {
	switch {
	case e.nano > 0 && direct:
		return 0
	case e.nano > 0:
		return complex(0, 2*math.Pi*60*e.nano*1e-9)
	}
	return complex(1/e.ohms, 0)
}

// solve is the volts of every node to "0", by nodal analysis and elimination with
// pivots. What floats is held by a thousandth of a billionth of a siemens.
func (s sketch) solve(direct bool) func(node string) complex128 {
	at := map[string]int{}
	for _, e := range s {
		for _, node := range []string{e.a, e.b} {
			if _, met := at[node]; !met && node != "0" {
				at[node] = len(at)
			}
		}
	}
	n := len(at)
	m := make([][]complex128, n) // the last column is what flows in
	for i := range m {
		m[i] = make([]complex128, n+1)
		m[i][i] = 1e-12
	}
	for _, e := range s {
		y := e.admittance(direct)
		i, a := at[e.a]
		j, b := at[e.b]
		if a {
			m[i][i] += y
			m[i][n] += e.at * y
		}
		if b {
			m[j][j] += y
			m[j][n] -= e.at * y
		}
		if a && b {
			m[i][j] -= y
			m[j][i] -= y
		}
	}
	for i := range m {
		pivot := i
		for j := i; j < n; j++ {
			if cmplx.Abs(m[j][i]) > cmplx.Abs(m[pivot][i]) {
				pivot = j
			}
		}
		m[i], m[pivot] = m[pivot], m[i]
		for j := i + 1; j < n; j++ {
			if f := m[j][i] / m[i][i]; f != 0 {
				for k := i; k <= n; k++ {
					m[j][k] -= f * m[i][k]
				}
			}
		}
	}
	x := make([]complex128, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = m[i][n]
		for k := i + 1; k < n; k++ {
			x[i] -= m[i][k] * x[k]
		}
		x[i] /= m[i][i]
	}
	return func(node string) complex128 {
		if i, known := at[node]; known {
			return x[i]
		}
		return 0
	}
}

// drawing is one vehicle on its site.
type drawing struct {
	*rand.Rand
	legs                    []string // hots: l1, or l1 and l2
	volts, second, shift    complex128
	ohms                    map[string]float64 // of a joint or conductor, "cord n"; +Inf is open
	joins                   []element          // what a fault joins
	from                    map[string]string  // a contact that stands on another conductor, "pedestal n" on "l1"
	loads, standby, filter  map[string]float64 // by leg
	neighbours, theirFilter map[string]float64
	insulation, stray       map[string]float64
	rod, utility, tyres     float64
	spike, bodyNano         float64
	soil                    complex128
	contactor, thermostats  bool // open without shore power
	dead, noBond, ownRod    bool
	backfed                 float64
	battery, charger        float64 // volts
	inner                   float64 // ohms of the battery
	lights                  float64 // watts on 12 V
	meter                   handMeter
}

func (d *drawing) even(from, to float64) float64 { return from + (to-from)*d.Float64() }
func (d *drawing) over(from, to float64) float64 { return from * math.Pow(to/from, d.Float64()) }
func (d *drawing) phase() complex128             { return cmplx.Rect(1, d.even(0, 2*math.Pi)) }

var wires = []string{"l1", "l2", "n", "g"}

// draw takes a sound vehicle with one leg or two.
func draw(seed uint64, legs int) *drawing {
	d := &drawing{Rand: rand.New(rand.NewPCG(seed, 11)), legs: wires[:legs], ohms: map[string]float64{}, from: map[string]string{}}
	d.volts = complex(d.even(112, 127), 0) // 106 to 126 V where the row is loaded
	d.second = -d.volts
	d.shift = complex(d.over(0.05, 3), 0)
	for part, r := range map[string][2]float64{"drop": {.004, .05}, "feeder": {.004, .07}, "tap": {.001, .03}, "pedestal": {.001, .006}, "plug": {.001, .006}, "cord": {.006, .05}, "inlet": {.001, .01}, "transfer": {.002, .02}, "main": {.001, .01}, "branch": {.01, .15}} {
		whole := d.over(r[0], r[1])
		for _, w := range wires {
			d.ohms[part+" "+w] = whole * d.even(.9, 1.1)
		}
	}
	d.ohms["bond"] = d.over(.003, .06)
	each := func(from, to float64, names ...string) map[string]float64 {
		out := map[string]float64{}
		for _, n := range names {
			out[n] = d.over(from, to)
		}
		return out
	}
	d.loads, d.standby = each(30, 3500, "l1", "l2"), each(.5, 60, "l1", "l2")
	d.filter, d.theirFilter = each(1, 600, "l1", "l2"), each(5, 1500, "l1", "l2")
	d.neighbours = each(30, 3500, "l1", "l2")
	d.insulation = each(5e6, 1e9, wires...)
	d.stray = each(.001, 1, "pedestal", "cord", "cord end", "outlet", "inlet")
	d.rod, d.utility, d.tyres = d.over(5, 300), d.over(.5, 25), d.over(5e3, 3e7)
	d.spike, d.bodyNano = d.over(20, 5000), d.over(.1, 2)
	d.soil = complex(d.over(.02, 4), 0) * d.phase()
	d.contactor, d.thermostats = d.Float64() < .3, d.Float64() < .2
	d.battery, d.inner, d.charger, d.lights = d.even(12.3, 12.8), d.over(.01, .05), d.even(13.1, 14.4), d.over(40, 150)
	d.meter = handMeter{[]int{2000, 4000, 6000, 20000}[d.IntN(4)], d.Float64() < .15, d.even(-.01, .01), d.over(.01, .5), d.even(30, 120), d.over(2e3, 5e3)}
	return d
}

// standing is how the vehicle stands while something is read.
type standing struct {
	live     bool // the site has power
	plug, in bool // the plug is in the pedestal, the cord in the inlet
	mainOff  bool
	loads    []string // legs whose loads are on
}

func (d *drawing) run(s *sketch, part, w, a, b string) { s.wire(a, b, d.ohms[part+" "+w]) }

// wired is the conductor on which a contact stands.
func (d *drawing) wired(at, w string) string {
	if other, swapped := d.from[at+" "+w]; swapped {
		return other
	}
	return w
}

func (d *drawing) has(w string) bool { return w != "l2" || len(d.legs) == 2 }

// mains draws the site, cord and vehicle at 120 V.
func (d *drawing) mains(is standing) *sketch {
	s := &sketch{}
	if is.live {
		d.site(s)
	}
	for _, w := range wires {
		if !d.has(w) {
			continue
		}
		if is.plug {
			d.run(s, "plug", w, "pedestal."+w, "plug."+w)
		}
		d.run(s, "cord", w, "plug."+w, "cord."+d.wired("cord", w))
		if is.in {
			d.run(s, "inlet", w, "cord."+w, "inlet."+w)
		}
	}
	d.couple(s, "plug", d.stray["cord"])
	d.couple(s, "cord", d.stray["cord end"])
	d.couple(s, "inlet", d.stray["inlet"])
	d.vehicle(s, is)
	for _, j := range d.joins {
		if is.live || !strings.HasPrefix(j.a, "row") {
			*s = append(*s, j)
		}
	}
	if d.backfed > 0 {
		s.source("bus.l1", "bus.n", complex(d.backfed, 0), 1)
	}
	s.source("soil", "0", d.soil, .01)
	s.wire("earth", "soil", d.spike)
	return s
}

// couple joins neighbouring contacts by stray capacitance.
func (d *drawing) couple(s *sketch, at string, nano float64) {
	for i, w := range wires {
		if d.has(w) {
			s.capacitor(at+"."+w, at+"."+wires[(i+1)%4], nano)
			s.capacitor(at+"."+w, "0", nano/5)
		}
	}
}

func (d *drawing) site(s *sketch) {
	if !d.dead {
		s.source("winding.l1", "winding.n", d.volts, .02)
		s.source("winding.l2", "winding.n", d.second, .02)
	}
	s.source("winding.n", "utility", d.shift, .01)
	s.wire("utility", "0", d.utility)
	for _, w := range wires[:3] {
		d.run(s, "drop", w, "winding."+w, "site."+w)
	}
	if !d.noBond {
		s.wire("site.n", "site.g", .001)
	}
	s.wire("site.g", "0", d.rod)
	for _, w := range wires {
		d.run(s, "feeder", w, "site."+w, "row."+w)
	}
	for _, leg := range wires[:2] {
		s.load("row."+leg, "row.n", d.neighbours[leg])
		s.capacitor("row."+leg, "row.g", d.theirFilter[leg])
	}
	s.wire("row.g", "0", 4e4)
	for _, w := range wires {
		d.run(s, "tap", w, "row."+w, "tap."+w)
		if d.has(w) {
			d.run(s, "pedestal", w, "tap."+d.wired("pedestal", w), "pedestal."+w)
		}
	}
	if d.ownRod {
		s.wire("tap.g", "0", d.rod)
	}
	s.wire("pedestal.cover", "tap."+d.wired("pedestal", "g"), .01)
	d.couple(s, "pedestal", d.stray["pedestal"])
}

func (d *drawing) vehicle(s *sketch, is standing) {
	on := is.plug && is.in && is.live && !d.dead
	for _, w := range wires {
		switch {
		case !d.has(w):
			continue
		case w == "g":
			d.run(s, "transfer", w, "inlet.g", "bus.g")
			continue
		case on || !d.contactor:
			d.run(s, "transfer", w, "inlet."+w, "feed."+w)
		}
		if w == "n" || !is.mainOff {
			d.run(s, "main", w, "feed."+w, "bus."+w)
		}
	}
	s.wire("bus.g", "body", d.ohms["bond"])
	s.wire("bus.n", "body", d.insulation["n"])
	for _, leg := range d.legs {
		s.load("bus."+leg, "bus.n", d.standby[leg])
		if slices.Contains(is.loads, leg) && (on || !d.thermostats) {
			s.load("bus."+leg, "bus.n", d.loads[leg])
		}
		s.capacitor("bus."+leg, "body", d.filter[leg])
		s.capacitor("bus.n", "body", d.filter[leg])
		s.wire("bus."+leg, "body", d.insulation[leg])
	}
	s.wire("body", "0", d.tyres)
	s.capacitor("body", "0", d.bodyNano)
	for slot, w := range map[string]string{"h": "l1", "n": "n", "g": "g"} {
		d.run(s, "branch", w, "bus."+d.wired("outlet", w), "outlet."+slot)
	}
	for _, pair := range []string{"hn", "hg", "ng"} {
		s.capacitor("outlet."+pair[:1], "outlet."+pair[1:], d.stray["outlet"])
	}
}

// trips opens the hots of the pedestal where they carry three times a breaker's
// rating.
func (d *drawing) trips(s *sketch) *sketch {
	at := s.solve(false)
	for _, leg := range d.legs {
		if cmplx.Abs(at("pedestal."+leg)-at("plug."+leg))/d.ohms["plug "+leg] > 150 {
			var off sketch
			for _, e := range *s {
				if !(strings.HasPrefix(e.a, "pedestal.l") && strings.HasPrefix(e.b, "plug.l")) {
					off = append(off, e)
				}
			}
			return &off
		}
	}
	return s
}

// direct draws the 12 V side.
func (d *drawing) direct(charging, loaded bool) *sketch {
	s := &sketch{}
	s.source("cells", "battery.neg", complex(d.battery, 0), d.inner)
	r := func(part string, ohms float64) float64 {
		if x, set := d.ohms["dc "+part]; set {
			return x
		}
		return ohms
	}
	s.wire("cells", "battery.pos", r("management", 0))
	s.wire("battery.pos", "fuse", r("clamp", .001))
	s.wire("fuse", "disconnect", r("fuse", .002))
	s.wire("disconnect", "joined", r("disconnect", .001))
	s.wire("joined", "dc.pos", r("feed", .005))
	s.wire("battery.neg", "frame", r("strap", .003))
	s.wire("frame", "dc.neg", r("return", .004))
	s.wire("dc.pos", "dc.neg", 200)
	if loaded {
		s.wire("dc.pos", "dc.neg", 144/d.lights)
	}
	if charging && d.charger > 0 {
		s.source("converter.pos", "converter.neg", complex(d.charger, 0), .01)
	} else {
		s.wire("converter.pos", "converter.neg", 20e3)
	}
	s.wire("converter.pos", "dc.pos", r("converter", .006))
	s.wire("converter.neg", "dc.neg", .004)
	s.wire("frame", "0", 1)
	return s
}

// state is how somebody has the vehicle who reads q.
func (d *drawing) state(q faulttree.Quantity, loads []string) standing {
	at := func(place string) bool {
		return strings.HasPrefix(q.Red, place) || strings.HasPrefix(q.Black, place)
	}
	is := standing{live: true, plug: true, in: true, mainOff: q.Has("main-off")}
	switch {
	case q.Unit == faulttree.Ohms:
		is = standing{in: !at("inlet") && !at("cord"), loads: d.legs}
	case q.Has(faulttree.Unplugged):
		is.plug, is.in = false, !at("inlet") && !at("cord")
	case at("pedestal") && !at("body"):
		is.plug = false
	case at("cord"):
		is.in = false
	case q.Has(faulttree.Loaded):
		is.loads = loads
	}
	return is
}

// value is what lies between the points of q; false where that cannot be read.
func (d *drawing) value(q faulttree.Quantity, loads []string) (float64, bool) {
	a, b := node(q.Red), node(q.Black)
	if strings.HasSuffix(a+" "+b, ".l2") && !d.has("l2") || strings.Contains(a, ".l2") && !d.has("l2") || q.Unit == faulttree.AmpsAC || q.Unit == faulttree.AmpsDC {
		return 0, false
	}
	if q.Unit != faulttree.VoltsDC && ofBattery(q) {
		return 0, false
	}
	if q.Unit == faulttree.VoltsDC {
		charging := !q.Has("rest") && (strings.HasPrefix(a, "converter") || !q.Has(faulttree.Loaded))
		at := d.direct(charging, q.Has(faulttree.Loaded)).solve(true)
		if a == "tow.aux" || a == "tow.gnd" || b == "body" {
			return 0, false
		}
		return real(at(a) - at(b)), true
	}
	s := d.mains(d.state(q, loads))
	switch {
	case q.Unit == faulttree.Ohms && d.backfed > 0:
		return 0, false
	case q.Unit == faulttree.Ohms:
		const ampere = 1e-6 // of the meter
		*s = append(*s, element{a: a, b: b, ohms: 1e12, at: ampere * 1e12})
		at := s.solve(true)
		return real(at(a)-at(b))/ampere + d.meter.leads, true
	}
	s = d.trips(s)
	if q.Has(faulttree.LowZ) {
		s.wire(a, b, d.meter.low)
	} else {
		s.wire(a, b, 10e6)
		s.capacitor(a, b, d.meter.input/1000)
	}
	at := s.solve(false)
	return cmplx.Abs(at(a) - at(b)), true
}

// node is where a test point of the handbook lies in the drawing.
func node(point string) string {
	if rest, is := strings.CutPrefix(point, "panel."); is {
		return "bus." + rest
	}
	return point
}
