package figure

func groundFigures() []entry {
	return []entry{
		{"ground-path", "The path that opens the breaker",
			"Hot touches the body. The current returns through the grounding conductor to the join of neutral and ground at the service, is large, and the breaker opens.", 300,
			func(p pen) { p.faultLoop(groundWhole) }},
		{"ground-lost", "The same fault with the ground lost",
			"Hot touches the body, but the grounding conductor is open. No current returns, the breaker stays closed, and the body stands at 120 V.", 300,
			func(p pen) { p.faultLoop(groundBroken) }},
		{"rod-only-ground", "A rod is no grounding conductor",
			"The grounding contact goes only to a rod. Through 25 ohms of soil 120 V drive less than 5 A: no breaker opens, and the body stays live.", 300,
			func(p pen) { p.faultLoop(groundRod) }},
		{"neutral-ground-bond", "Neutral and ground are joined once",
			"Neutral and ground are joined at the service. In the pedestal and in the vehicle they stay apart.", 262, bond},
		{"bootleg-reversed", "A reversed bootleg ground",
			"Hot and neutral are exchanged and the neutral contact is jumped to the ground. Between the contacts all reads right, but the grounding contact stands 120 V from earth.", 302, bootleg},
		{"body-to-earth", "From bare metal of the body to a spike",
			"The red lead on the entry step, the black lead on a spike in wet soil 2 m (7 ft) or more from jacks and rods. The spike is clipped, not held.", 308, bodyToEarth},
		{"order-of-plugging-in", "The order of plugging in",
			"Pedestal breaker off, vehicle breakers off, plug in, pedestal breaker on, read the body to earth before anyone touches it, then one load at a time.", 252, order},
	}
}

type groundState uint8

const (
	groundWhole groundState = iota
	groundBroken
	groundRod
)

// faultLoop draws a hot conductor touching the body, with the ground whole,
// broken, or going to a rod only.
func (p pen) faultLoop(state groundState) {
	const hot, n, g, x, left = 62.0, 122.0, 196.0, 64.0, 316.0
	p.shape(Panel, Ink, 2.5, rounded(left, 34, 462, 216, 12)...)
	p.bold(Point{389, 206}, Middle, body, Ink, "body")
	p.wire(Hot1, Point{x, n}, Point{x, hot}, Point{420, hot})
	p.wire(Neutral, Point{x, n}, Point{420, n})
	p.load(Point{420, hot}, Point{420, n}, "")
	p.supply(Point{x, 92})
	p.breaker(Point{140, hot}, state == groundWhole)
	p.disc(Point{left, g}, 5, Ink, None, 0)
	p.line(RedLead, 3.5, Point{366, hot}, Point{360, hot - 11}, Point{370, hot - 15}, Point{364, 34})
	p.text(Point{376, 53}, Start, body, Ink, "fault")
	p.text(Point{140, hot - 24}, Middle, body, Soft, map[bool]string{true: "breaker opens", false: "breaker stays closed"}[state == groundWhole])
	p.text(Point{200, n - 9}, Start, body, Soft, "neutral")
	var words []string
	switch state {
	case groundWhole:
		p.wire(Ground, Point{x, n}, Point{x, g}, Point{left, g})
		p.flow(Point{300, g - 15}, Point{190, g - 15})
		p.text(Point{200, g + 22}, Start, body, Soft, "ground")
		words = []string{"Fault, body, ground, join at the service, source:", "a short way, a large current, and the breaker opens."}
	case groundBroken:
		p.wire(Ground, Point{x, n}, Point{x, g}, Point{left, g})
		p.gap(Point{196, g}, "ground open", true)
		words = []string{"No way back: no breaker opens, and the body", "stands at up to 120 V."}
	case groundRod:
		p.wire(Ground, Point{206, g}, Point{left, g})
		p.line(Ink, 3.5, Point{206, g}, Point{206, g + 38})
		p.text(Point{216, g + 34}, Start, body, Ink, "rod, 25 Ω")
		p.dots(RedLead, 2.5, Point{194, g + 32}, Point{x + 22, g + 32})
		p.text(Point{136, g + 22}, Middle, body, Ink, "under 5 A")
		words = []string{"Through 25 Ω of soil 120 V drive less than 5 A:", "no breaker opens, and the body stays live."}
	}
	p.joint(Point{x, n})
	if state == groundRod {
		p.line(Ink, 2, Point{x, n}, Point{x, g})
	}
	p.earth(Point{x, g})
	p.note(Point{namedWidth / 2, 266}, Middle, words...)
}

func bond(p pen) {
	for i, name := range []string{"service", "pedestal", "vehicle"} {
		x := 20 + 152*float64(i)
		p.shape(Panel, Ink, 2, rounded(x, 44, x+136, 186, 10)...)
		p.bold(Point{x + 68, 32}, Middle, body, Ink, name)
	}
	const n, g = 84.0, 150.0
	p.wire(Neutral, Point{44, n}, Point{440, n})
	p.wire(Ground, Point{44, g}, Point{440, g})
	p.bold(Point{30, n - 10}, Start, body, Ink, "N")
	p.bold(Point{30, g - 10}, Start, body, Ink, "G")
	p.line(Ink, 4, Point{88, n}, Point{88, g})
	p.joint(Point{88, n})
	p.joint(Point{88, g})
	p.text(Point{98, 122}, Start, body, Ink, "joined")
	p.earth(Point{88, g})
	for _, x := range []float64{240, 392} {
		p.dots(Soft, 2, Point{x, n + 5}, Point{x, g - 4})
		p.line(RedLead, 3, Point{x - 8, 109}, Point{x + 8, 125})
		p.line(RedLead, 3, Point{x - 8, 125}, Point{x + 8, 109})
		p.text(Point{x, 176}, Middle, body, Soft, "not here")
	}
	p.note(Point{namedWidth / 2, 218}, Middle, "A second join puts load current on the ground", "and on the body.")
}

func bootleg(p pen) {
	center, radius := Point{214, 122}, 66.0
	spots := p.face(center, radius, FaceTT30, receptacle, false)
	n, g, l1 := spots["n"], spots["g"], spots["l1"]
	p.wire(Hot1, through(Point{20, 70}, Point{120, 70}, n)...)
	p.wire(Neutral, through(Point{20, 222}, Point{214, 222}, Point{306, 180}, Point{296, 110}, l1)...)
	p.wire(Ground, through(n, Point{150, 146}, Point{168, 190}, g)...)
	for _, at := range []Point{n, g, l1} {
		p.joint(at)
	}
	p.text(Point{20, 58}, Start, body, Ink, "supply hot")
	p.text(Point{20, 242}, Start, body, Ink, "supply neutral")
	p.text(Point{112, 176}, Middle, body, Ink, "jumper")
	for i, row := range [][2]string{{"L1 to N", "120 V"}, {"L1 to G", "120 V"}, {"N to G", "0 V"}} {
		y := 62 + 24*float64(i)
		p.text(Point{322, y}, Start, body, Ink, row[0])
		p.text(Point{464, y}, End, body, Ink, row[1])
	}
	p.line(Line, 1.5, Point{322, 124}, Point{464, 124})
	p.bold(Point{322, 146}, Start, body, Ink, "G to earth")
	p.bold(Point{464, 168}, End, body, Ink, "120 V")
	p.note(Point{namedWidth / 2, 268}, Middle, "Between the contacts all looks right. Only the reading", "from the grounding contact to earth shows it.")
}

func bodyToEarth(p pen) {
	step := p.vehicle(Point{24, groundLine}, 1.12)
	spike := Point{420, groundLine}
	p.dots(Soft, 1.8, Point{14, groundLine}, Point{352, groundLine})
	p.spike(spike)
	p.arrow(Accent, 1.8, Point{330, 152}, Point{272, 152})
	p.arrow(Accent, 1.8, Point{330, 152}, Point{402, 152})
	p.text(Point{330, 140}, Middle, body, Ink, "2 m or more")
	p.text(Point{404, 112}, Middle, body, Ink, "clipped, not held")
	q := probeVolts()
	p.meterBody(namedWidth/2, q)
	left, right := p.jacks(namedWidth/2, true)
	red := touch{step, step.Add(-12, 40), nil}
	black := touch{spike.Add(0, -34), spike.Add(30, -28), []Point{spike.Add(40, 6), spike.Add(10, 40)}}
	for _, e := range []struct {
		t      touch
		jack   Point
		ink    Role
		letter string
	}{{red, left, RedLead, "R"}, {black, right, BlackLead, "B"}} {
		p.lead(e.ink, route(e.t, e.jack)...)
		p.disc(e.jack, 4, e.ink, LeadEdge, 1)
		p.badge(e.ink, e.letter, e.t.tip, e.t.badge)
	}
	p.bold(Point{16, 240}, Start, body, Ink, "Red lead")
	p.note(Point{16, 260}, Start, "bare metal: step,", "frame, door frame")
	p.bold(Point{464, 240}, End, body, Ink, "Black lead")
	p.note(Point{464, 260}, End, "spike in wet soil")
}

func order(p pen) {
	steps := [][2]string{
		{"Pedestal breaker", "off"}, {"Vehicle breakers", "off"}, {"Plug in", ""},
		{"Pedestal breaker", "on"}, {"Read body to", "earth. No touch."}, {"One load on one", "leg, read the other"},
	}
	for i, s := range steps {
		x, y := 12+156*float64(i%3), 14+116*float64(i/3)
		p.shape(Panel, Ink, 1.8, rounded(x, y, x+144, y+92, 10)...)
		p.disc(Point{x + 22, y + 23}, 13, Ink, None, 0)
		p.bold(Point{x + 22, y + 28}, Middle, body, Panel, string(rune('1'+i)))
		p.text(Point{x + 72, y + 58}, Middle, 13, Ink, s[0])
		if s[1] != "" {
			p.text(Point{x + 72, y + 77}, Middle, 13, Ink, s[1])
		}
		if i%3 < 2 {
			p.shape(Accent, None, 0, Point{x + 145, y + 40}, Point{x + 155, y + 46}, Point{x + 145, y + 52})
		}
	}
	p.text(Point{namedWidth / 2, 242}, Middle, body, Ink, "The other leg rises more than 3 V: breaker off, unplug.")
}
