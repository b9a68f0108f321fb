package why

import (
	"math"
	"slices"

	"faultwright/faulttree/bench"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// join words two nodes that a fault joins.
func (w *writer) join() {
	b, ok := w.faulty.branch(w.atom.isJoin)
	switch {
	case !ok:
		w.say("%s conducts only in another state", w.name())
		return
	case !b.Known:
		w.say("%s makes one point of the two", w.name())
	case magnitude(b.Amps) < noAmps:
		w.say("%s carries no current here", w.name())
	default:
		w.say("%s flow through %s", amps(b.Amps), w.name())
	}
	switch {
	case w.joinsProbes(b):
		w.say("it holds the two at one voltage, and the probes have %s", w.shown(w.faulty.value))
	case !w.tellFedArea(b):
		w.returns(b, "they")
	}
}

// joinsProbes reports whether a join ties together what the two probes touch.
func (w *writer) joinsProbes(b bench.Branch) bool {
	if w.at.Black == "" || !(magnitude(b.Drop) < smallVolts && math.Abs(w.sound.value.Number) > smallVolts) {
		return false
	}
	one, two := w.faulty.area(b.A, rig.None), w.faulty.area(b.B, rig.None)
	on := func(red, black []string) bool {
		return slices.Contains(red, w.at.Red) && slices.Contains(black, w.at.Black)
	}
	return on(one, two) || on(two, one)
}

// tellFedArea says which currents meet in an area that only the join feeds; false
// where there is none.
func (w *writer) tellFedArea(b bench.Branch) bool {
	for _, end := range []string{b.B, b.A} {
		area := w.faulty.area(end, rig.None)
		if slices.Contains(area, b.A) && slices.Contains(area, b.B) {
			return false
		}
		all, known := w.faulty.ways(area)
		supplied := slices.ContainsFunc(all, func(x way) bool { return w.gives(x.branch) })
		if known && !supplied && slices.ContainsFunc(all[:min(len(all), 2)], func(x way) bool { return x.branch == b }) {
			w.tellBalance(area)
			return true
		}
	}
	return false
}

// returns says by which way the current of a branch, in these words, comes back to
// where it began.
func (w *writer) returns(b bench.Branch, current string) {
	if !b.Known || magnitude(b.Amps) < noAmps {
		return
	}
	path := w.faulty.widestPath(b.B, b.A, b.Amps, func(o bench.Branch) complex128 {
		if o == b {
			return 0
		}
		return o.Amps
	})
	words := lists.Each(mostDrop(path, 3), func(s step) string { return w.branchTitle(w.faulty, s.branch) })
	if len(words) == 0 {
		return
	}
	share := ""
	for _, s := range path {
		if magnitude(s.branch.Amps) < 0.95*magnitude(b.Amps) {
			share = ", for the largest part,"
		}
	}
	w.say("%s come back%s through %s", current, share, list(words))
}

// exchanged words two wires whose far ends are exchanged.
func (w *writer) exchanged() {
	e := w.atom.change()
	r := w.faulty.rig
	one, _ := r.Part(e.Parts[0])
	two, _ := r.Part(e.Parts[1])
	if one.Run == two.Run && wireWords[one.Wire] != "" {
		w.say("%s and %s are exchanged", wireWords[one.Wire], partTitle(two))
	} else {
		w.say("%s and %s are exchanged", partTitle(one), partTitle(two))
	}
	ref := w.reference()
	a, okA := w.faulty.Volts(one.B, ref)
	z, okZ := w.faulty.Volts(two.B, ref)
	if okA && okZ {
		w.say("beyond them %s stands at %s and %s at %s to %s of the supply", nodeWord(one.B), w.volts(a), nodeWord(two.B), w.volts(z), nodeWord(ref))
	}
}

// set words a number of the vehicle that is another.
func (w *writer) set() {
	e := w.atom.change()
	if w.atom.kind() == rig.Replace {
		w.replaced(e)
	} else {
		w.number(e)
	}
	if w.atom.part == rig.None {
		w.path()
		return
	}
	p := w.faulty.rig.Parts[w.atom.part]
	switch p.Kind {
	case rig.Source, rig.Charger:
		w.path()
	default:
		w.flowsThrough(p)
	}
}

func (w *writer) replaced(e rig.Edit) {
	p := w.faulty.rig.Parts[w.atom.part]
	severity := w.atom.applied.Severity
	was := w.phasor(w.valueAt(p, rig.AttrVolts), w.valueAt(p, rig.AttrDegrees), p.Direct)
	w.say("%s %s %s instead of %s", w.name(), verbForm(w.name(), "gives", "give"), w.phasor(e.Volts.Of(severity), e.Degrees.Of(severity), p.Direct), was)
}

func (w *writer) valueAt(p rig.Part, a rig.Attribute) float64 {
	if i := p.Params[a]; i != rig.None {
		return w.sound.setup.Values[i]
	}
	return 0
}

func (w *writer) number(e rig.Edit) {
	r := w.faulty.rig
	to := e.Value.Of(w.atom.applied.Severity)
	if w.atom.part == rig.None {
		w.say("the supply runs at %s instead of %s", rig.Hertz.Format(to), rig.Hertz.Format(w.sound.setup.Values[r.Hertz]))
		return
	}
	titles := lists.Each(e.Parts, func(name string) string { return runTitle(r.Parts[r.Named(name)[0]]) })
	i := r.Parts[w.atom.part].Params[e.Attr]
	w.say("the %s of %s is %s instead of %s", attributeWords[e.Attr], list(titles), r.Params[i].Unit.Format(to), r.Params[i].Unit.Format(w.sound.setup.Values[i]))
}

// flowsThrough tells what the part carries now, of the wires of a run the one that
// loses most.
func (w *writer) flowsThrough(p rig.Part) {
	var best bench.Branch
	for _, b := range w.faulty.Branches {
		if b.Part != rig.None && w.faulty.rig.Parts[b.Part].Run == p.Run && b.Known && w.wire(b) == w.wire(bench.Branch{Part: w.atom.part}) && magnitude(b.Drop) >= magnitude(best.Drop) {
			best = b
		}
	}
	if best.A == "" {
		w.path()
		return
	}
	if w.wire(best) {
		w.say("of the voltage on the way, %s stay on %s, which carries %s", w.size(best.Drop), w.branchTitle(w.faulty, best), amps(best.Amps))
		return
	}
	w.returns(best, "the "+amps(best.Amps)+" through it")
}

func (w *writer) wire(b bench.Branch) bool { return w.faulty.wire(b) }

// gives reports whether a branch is a source.
func (w *writer) gives(b bench.Branch) bool {
	if b.Part == rig.None {
		return false
	}
	k := w.faulty.rig.Parts[b.Part].Kind
	return k == rig.Source || k == rig.Charger
}

// path says what the sources on the way between the probes give, and what is lost.
func (w *writer) path() {
	if w.at.Black == "" {
		w.clamp()
		return
	}
	path := w.faulty.shortestPath(w.at.Red, w.at.Black)
	var sources []string
	given := complex128(0)
	if own, ok := w.faulty.branch(isPart(w.atom.part)); ok && w.atom.part != rig.None && !slices.ContainsFunc(path, func(s step) bool { return s.branch == own }) {
		w.returns(own, "the "+amps(own.Amps)+" through it")
		return
	}
	path = slices.DeleteFunc(path, func(s step) bool { return !w.gives(s.branch) })
	for _, s := range path {
		given += s.drop()
	}
	for _, s := range path {
		if magnitude(s.drop()) > 0.05*magnitude(given) {
			sources = append(sources, w.branchTitle(w.faulty, s.branch))
		}
	}
	if len(sources) == 0 || !w.faulty.value.There {
		return
	}
	w.say("on the way between the probes %s %s %s, of which %s are left", list(sources), verbForm(list(sources), "gives", "give"), w.volts(given), w.shown(w.faulty.value))
}

// clamp says by which way the current in the clamp comes back.
func (w *writer) clamp() {
	for _, end := range []func(bench.Branch) string{func(b bench.Branch) string { return b.B }, func(b bench.Branch) string { return b.A }} {
		b, ok := w.faulty.branch(func(b bench.Branch) bool { return end(b) == w.at.Red && (w.wire(b) || w.gives(b)) })
		if ok && b.Known && magnitude(b.Amps) >= noAmps {
			w.returns(b, "the "+amps(b.Amps)+" in the clamp")
			return
		}
	}
}
