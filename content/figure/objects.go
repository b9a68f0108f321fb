package figure

// vehicle draws a side view whose wheels stand on the ground at the left end
// of it, 200 wide times scale. It returns the entry step, bare metal.
func (p pen) vehicle(at Point, scale float64) Point {
	q := func(x, y float64) Point { return Point{at.X + x*scale, at.Y + y*scale} }
	qs := func(xy ...float64) []Point {
		var out []Point
		for i := 0; i < len(xy); i += 2 {
			out = append(out, q(xy[i], xy[i+1]))
		}
		return out
	}
	p.shape(Panel, Ink, 1.6, qs(52, -112, 56, -120, 88, -120, 92, -112)...) // roof unit
	body := qs(2, -24, 0, -30, 0, -100, 3, -108, 11, -112, 146, -112, 156, -108, 178, -72, 194, -66, 199, -58, 200, -30, 198, -24)
	p.shape(Panel, Ink, 2, body...)
	p.line(Line, 3, qs(3, -50, 84, -50)...)
	p.line(Line, 3, qs(122, -50, 196, -50)...)
	p.shape(None, Ink, 1.6, qs(16, -94, 70, -94, 70, -66, 16, -66)...)
	p.shape(None, Ink, 1.6, qs(126, -94, 150, -94, 166, -68, 126, -68)...)
	p.shape(None, Ink, 1.6, qs(86, -98, 118, -98, 118, -26, 86, -26)...)
	p.line(Ink, 2, qs(111, -62, 111, -55)...)
	for _, x := range []float64{42, 162} {
		p.disc(q(x, -17), 17*scale, Panel, Ink, 2)
		p.disc(q(x, -17), 6*scale, None, Ink, 1.6)
	}
	p.shape(Line, Ink, 1.6, qs(84, -18, 120, -18, 120, -12, 84, -12)...) // step
	p.line(Ink, 1.6, qs(90, -24, 90, -18)...)
	p.line(Ink, 1.6, qs(114, -24, 114, -18)...)
	return q(102, -15)
}

// spike draws a metal stake pushed into soil; at lies on the ground.
func (p pen) spike(at Point) {
	p.dots(Soft, 1.8, at.Add(-64, 0), at.Add(56, 0))
	p.shape(Line, Ink, 1.6, at.Add(-3.5, -38), at.Add(3.5, -38), at.Add(3.5, 14), at.Add(0, 26), at.Add(-3.5, 14))
	p.line(Ink, 2.4, at.Add(-8, -38), at.Add(8, -38))
	for _, o := range []Point{{16, 9}, {26, 18}, {40, 10}, {-16, 12}, {14, 24}} { // moist soil
		p.line(Soft, 1.6, at.Add(o.X, o.Y), at.Add(o.X+5, o.Y))
	}
}

// battery draws a battery with its two posts.
func (p pen) battery(a slotArea) spots {
	w := 64.0
	if a.half {
		w = 52
	}
	x, top, foot := a.center, 100.0, 178.0
	pos, neg := Point{x - w*0.6, top - 8}, Point{x + w*0.6, top - 8}
	for _, post := range []Point{pos, neg} {
		p.shape(Line, Ink, 1.6, post.Add(-8, 8), post.Add(-8, -4), post.Add(8, -4), post.Add(8, 8))
	}
	p.shape(Panel, Ink, 2, rounded(x-w, top, x+w, foot, 6)...)
	p.line(Soft, 1.4, Point{x - w, top + 14}, Point{x + w, top + 14})
	p.bold(Point{pos.X, top + 38}, Middle, 20, Ink, "+")
	p.bold(Point{neg.X, top + 38}, Middle, 20, Ink, "−")
	p.text(Point{x, top + 64}, Middle, 13, Soft, "12 V")
	reach := func(tip Point, own float64) func(float64) touch {
		return func(float64) touch {
			badge := tip.Add(own*22, -18)
			return touch{tip, badge, []Point{{x + own*(w+15), top + 22}, {x + own*(w+6), foot + 10}}}
		}
	}
	return spots{"pos": reach(pos, -1), "known-battery": reach(pos, -1), "neg": reach(neg, 1)}
}

// box draws a device with a row of terminals at its foot. Terminals come in
// pairs of local id and word.
func (p pen) box(a slotArea, name string, terminals []string) spots {
	w := 84.0
	if a.half {
		w = 72
	}
	x, top, foot := a.center, 68.0, 160.0
	p.shape(Panel, Ink, 2, rounded(x-w, top, x+w, foot, 8)...)
	p.emblem(Point{x, top + 28}, name)
	return p.terminals(x, foot-14, w, terminals)
}

// terminals draws a row of screw terminals with their words above.
func (p pen) terminals(x, y, half float64, words []string) spots {
	n := len(words) / 2
	out := spots{}
	for i := range n {
		at := Point{x - half + 2*half*(float64(i)+0.5)/float64(n), y}
		p.disc(at, 7, Line, Ink, 1.6)
		p.line(Ink, 1.6, at.Add(-4, -3), at.Add(4, 3))
		p.bold(at.Add(0, -13), Middle, 13, Ink, words[2*i+1])
		out[words[2*i]] = func(sign float64) touch {
			badge := at.Add(0, 34)
			return touch{at, badge, nil}
		}
	}
	return out
}

// emblem draws a small sign of what a box is.
func (p pen) emblem(at Point, name string) {
	switch name {
	case "generator", "inverter": // a wave in a ring
		p.disc(at, 17, None, Soft, 1.6)
		p.line(Soft, 2, wave(at, 10, 14)...)
	case "tow": // a ring with blades
		p.disc(at, 17, None, Soft, 1.6)
		for angle := 0.0; angle < 360; angle += 60 {
			p.line(Soft, 2.4, polar(at, 9, angle+30), polar(at, 13, angle+30))
		}
	default: // a row of fuses
		for i := -2.0; i <= 2; i++ {
			p.shape(None, Soft, 1.6, rounded(at.X+i*20-7, at.Y-10, at.X+i*20+7, at.Y+10, 3)...)
			p.line(Soft, 1.6, at.Add(i*20, -5), at.Add(i*20, 5))
		}
	}
}

// panel draws a distribution panel: feeder lugs above, the main breaker,
// buses and bars below.
func (p pen) panel(a slotArea, f Face) spots {
	lugs := []string{"l1", "L1", "l2", "L2", "n", "N", "g", "G"}
	if f != Face14_50 {
		lugs = []string{"l1", hotWord("l1", f), "n", "N", "g", "G"}
	}
	w := 88.0
	if a.half {
		w = 72
	}
	x, top, foot := a.center, 72.0, 172.0
	p.shape(Panel, Ink, 2, rounded(x-w, top, x+w, foot, 6)...)
	out := spots{}
	n := float64(len(lugs) / 2)
	for i := 0; i < len(lugs)-2; i += 2 {
		at := Point{x - w + 2*w*(float64(i/2)+0.5)/n, top + 12}
		foot := Point{at.X, foot - 38}
		if lugs[i] == "n" {
			p.line(Soft, 1.6, at, foot)
		} else {
			p.line(Soft, 1.6, at, Point{at.X, top + 24})
			p.shape(None, Ink, 1.6, rounded(at.X-8, top+24, at.X+8, top+44, 3)...)
			p.line(Ink, 3, Point{at.X, top + 29}, Point{at.X, top + 35})
			p.line(Soft, 1.6, Point{at.X, top + 44}, foot)
		}
		p.disc(at, 6, Line, Ink, 1.6)
		out["feed."+lugs[i]] = func(sign float64) touch {
			edge := x + sign*(w+16)
			return touch{at, at.Add(0, -18), []Point{{edge - sign*14, top - 12}, {edge, top + 12}, {edge, foot.Y + 20}}}
		}
	}
	for id, spot := range p.terminals(x, foot-14, w, lugs) {
		out["panel."+id] = func(sign float64) touch {
			t := spot(sign)
			t.badge = t.tip.Add(0, 32)
			return t
		}
	}
	return out
}
