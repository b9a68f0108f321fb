package figure

func systemFigures() []entry {
	return []entry{
		{"split-phase", "Two legs of 120 V, 240 V between them",
			"A winding tapped in the middle. From the neutral, which is earthed there, each leg stands at 120 V; the legs swing opposite ways, so 240 V stand between them.", 268, splitPhase},
		{"wye-208", "Two legs of a three-phase wye, 208 V between them",
			"Three sources meet at the neutral, a third of a turn apart. Each leg stands at 120 V to neutral; between two legs stand 120 times the square root of three, 208 V.", 250, wye},
		{"open-neutral", "Two loads in series across an open neutral",
			"With the neutral open, a 1500 W load and a 500 W load share 240 V in series: 60 V on the larger, 180 V on the smaller.", 286, openNeutral},
		{"filters-half-of-line", "Equal filters put the body at half of line",
			"A capacitor from hot to body and an equal one from neutral to body. With the ground lost, the body stands at about half of 120 V.", 274, filtersHalf},
		{"filters-cancel", "Equal filters on both legs cancel",
			"Capacitors from both legs to the body pull equally in opposite ways. With the ground lost the body reads about 0 V, which shows nothing.", 274, filtersCancel},
		{"voltage-drop", "Half of the drop appears between neutral and ground",
			"Along a loaded cord 4 V are lost in the hot and 4 V in the neutral. At the vehicle 112 V are left, and 4 V stand between neutral and ground.", 274, voltageDrop},
		{"conductor-colours", "Conductors by their colour",
			"L1 hot is black, L2 hot is red, the neutral is white or grey, the ground is bare, green or green and yellow.", 214, conductorColours},
	}
}

// threeWires draws the two-leg source on the left and its three wires.
func (p pen) threeWires(l1, n, l2, end float64) {
	const x = 84.0
	p.wire(Hot1, Point{x, n}, Point{x, l1}, Point{end, l1})
	p.wire(Hot2, Point{x, n}, Point{x, l2}, Point{end, l2})
	p.wire(Neutral, Point{x, n}, Point{end, n})
	p.supply(Point{x, (l1 + n) / 2})
	p.supply(Point{x, (l2 + n) / 2})
	p.line(Ink, 2, Point{x, n}, Point{36, n})
	p.earth(Point{36, n})
	p.joint(Point{x, n})
}

func splitPhase(p pen) {
	p.threeWires(44, 128, 212, 408)
	p.bold(Point{420, 49}, Start, body, Ink, "L1")
	p.bold(Point{420, 133}, Start, body, Ink, "N")
	p.bold(Point{420, 217}, Start, body, Ink, "L2")
	p.span(Point{190, 49}, Point{190, 122}, "120 V")
	p.span(Point{190, 134}, Point{190, 206}, "120 V")
	p.span(Point{316, 49}, Point{316, 206}, "")
	p.bold(Point{325, 90}, Start, body, Ink, "240 V")
	p.text(Point{namedWidth / 2, 252}, Middle, body, Soft, "Neutral and ground are joined at the service only.")
}

func wye(p pen) {
	n := Point{140, 134}
	l1, l2, l3 := polar(n, 112, 210), polar(n, 112, 330), polar(n, 88, 90)
	p.line(Soft, 2, n, l3)
	p.wire(Hot1, n, l1)
	p.wire(Hot2, n, l2)
	for _, end := range []Point{l1, l2, l3} {
		p.supply(n.toward(end, 50))
	}
	p.dots(Accent, 2, l1.Add(14, 0), l2.Add(-14, 0))
	p.joint(n)
	p.bold(Point{n.X, l1.Y - 9}, Middle, body, Ink, "208 V")
	p.bold(l1.Add(-4, -12), Middle, body, Ink, "L1")
	p.bold(l2.Add(4, -12), Middle, body, Ink, "L2")
	p.bold(n.Add(0, -14), Middle, body, Ink, "N")
	p.text(n.toward(l1, 62).Add(-22, 34), Middle, body, Ink, "120 V")
	p.text(n.toward(l2, 62).Add(22, 34), Middle, body, Ink, "120 V")
	p.text(l3.Add(8, 2), Start, body, Soft, "third phase, not used")
	p.note(Point{282, 62}, Start, "Each leg to neutral:", "120 V.", "The legs swing a third", "of a turn apart:", "120 × √3 = 208 V.")
}

func openNeutral(p pen) {
	const l1, n, l2 = 44.0, 128.0, 212.0
	p.threeWires(l1, n, l2, 330)
	p.load(Point{330, l1}, Point{330, n}, "")
	p.load(Point{330, n}, Point{330, l2}, "")
	p.joint(Point{330, n})
	p.gap(Point{206, n}, "neutral open", false)
	p.note(Point{352, 82}, Start, "1500 W load")
	p.bold(Point{352, 101}, Start, body, Ink, "60 V")
	p.note(Point{352, 166}, Start, "500 W load")
	p.bold(Point{352, 185}, Start, body, Ink, "180 V")
	p.bold(Point{120, 91}, Start, body, Ink, "120 V")
	p.bold(Point{120, 175}, Start, body, Ink, "120 V")
	p.note(Point{namedWidth / 2, 250}, Middle, "Both loads in series across 240 V: the larger load gets", "too little, the smaller one too much.")
}

// filterCircuit draws hot and a return with two capacitors to the body.
func (p pen) filterCircuit(top, foot Role, topWord, footWord string) {
	const y1, y2, middle, x = 44.0, 196.0, 120.0, 84.0
	p.wire(top, Point{x, 120}, Point{x, y1}, Point{330, y1})
	p.wire(foot, Point{x, 120}, Point{x, y2}, Point{330, y2})
	p.bold(Point{340, y1 + 5}, Start, body, Ink, topWord)
	p.bold(Point{340, y2 + 5}, Start, body, Ink, footWord)
	p.capacitor(Point{216, y1 + 3}, Point{216, middle})
	p.capacitor(Point{216, middle}, Point{216, y2 - 3})
	p.line(WireEdge, 9, Point{160, middle}, Point{340, middle})
	p.line(Line, 6, Point{160, middle}, Point{340, middle})
	p.text(Point{240, 87}, Start, body, Soft, "filter")
	p.text(Point{240, 163}, Start, body, Soft, "an equal filter")
}

func filtersHalf(p pen) {
	p.filterCircuit(Hot1, Neutral, "hot, 120 V", "neutral, 0 V")
	p.supply(Point{84, 120})
	p.earth(Point{84, 198})
	p.joint(Point{84, 196})
	p.bold(Point{352, 118}, Start, body, Ink, "body")
	p.bold(Point{352, 136}, Start, body, Ink, "about 60 V")
	p.note(Point{namedWidth / 2, 246}, Middle, "Ground lost: the filters share the voltage. Half of", "line on the body is a sign of one leg.")
}

func filtersCancel(p pen) {
	p.filterCircuit(Hot1, Hot2, "L1, 120 V", "L2, 120 V")
	p.supply(Point{84, 82})
	p.supply(Point{84, 158})
	p.line(Ink, 2, Point{84, 120}, Point{40, 120})
	p.earth(Point{40, 120})
	p.joint(Point{84, 120})
	p.bold(Point{352, 118}, Start, body, Ink, "body")
	p.bold(Point{352, 136}, Start, body, Ink, "about 0 V")
	p.note(Point{namedWidth / 2, 246}, Middle, "Ground lost, and the body still reads low: the legs pull", "opposite ways. A low reading proves nothing.")
}

func voltageDrop(p pen) {
	const hot, n, g, end = 44.0, 124.0, 196.0, 380.0
	p.wire(Hot1, Point{70, n}, Point{70, hot}, Point{end, hot})
	p.wire(Neutral, Point{70, n}, Point{end, n})
	p.wire(Ground, Point{70, n}, Point{70, g}, Point{end - 50, g})
	p.load(Point{end, hot}, Point{end, n}, "load")
	p.supply(Point{70, 84})
	p.joint(Point{70, n})
	p.earth(Point{70, g})
	for _, y := range []float64{hot, n} {
		p.shape(Panel, Soft, 1.8, rounded(176, y-9, 226, y+9, 3)...)
	}
	p.text(Point{201, hot + 28}, Middle, body, Ink, "4 V lost")
	p.text(Point{201, n + 28}, Middle, body, Ink, "4 V lost")
	p.bold(Point{98, 89}, Start, body, Ink, "120 V")
	p.span(Point{300, hot + 6}, Point{300, n - 6}, "112 V")
	p.span(Point{300, n + 6}, Point{300, g - 6}, "4 V")
	p.text(Point{end - 40, g + 5}, Start, body, Soft, "ground")
	p.note(Point{namedWidth / 2, 244}, Middle, "A load draws its current through the neutral too:", "half of the drop shows between neutral and ground.")
}

func conductorColours(p pen) {
	for i, row := range []struct {
		ink         Role
		name, words string
	}{
		{Hot1, "L1", "the one hot, or L1: black"},
		{Hot2, "L2", "the second hot: red"},
		{Neutral, "N", "neutral: white or grey"},
		{Ground, "G", "ground: bare, green, green-yellow"},
	} {
		y := 34 + 44*float64(i)
		p.bold(Point{24, y + 5}, Start, body, Ink, row.name)
		p.line(WireEdge, 16, Point{70, y}, Point{164, y})
		p.line(row.ink, 12, Point{70, y}, Point{164, y})
		p.line(WireEdge, 4.5, Point{168, y}, Point{184, y})
		p.text(Point{196, y + 5}, Start, body, Ink, row.words)
	}
	p.text(Point{namedWidth / 2, 206}, Middle, body, Soft, "Colour is the installer's promise. Measure all the same.")
}
