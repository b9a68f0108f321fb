package why

import (
	"math"
	"slices"
	"strings"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// farEnd is the end of a part whose voltage the fault changes most.
func (w *writer) farEnd(part int) string {
	p := w.faulty.rig.Parts[part]
	moved := func(node string) float64 {
		ref := w.reference()
		x, okX := w.sound.Volts(node, ref)
		y, okY := w.faulty.Volts(node, ref)
		if !okX || !okY {
			return 1e6
		}
		return magnitude(x - y)
	}
	if moved(p.A) > moved(p.B) {
		return p.A
	}
	return p.B
}

// reference is the second node of the first source, to which voltages are
// measured.
func (w *writer) reference() string {
	for _, p := range w.faulty.rig.Parts {
		if p.Kind == rig.Source && p.Direct == w.direct() {
			return p.B
		}
	}
	return "0"
}

// beyond says what flows in the area beyond a part, and how the voltage divides.
func (w *writer) beyond(part int) {
	far := w.farEnd(part)
	area := w.faulty.area(far, part)
	p := w.faulty.rig.Parts[part]
	if slices.Contains(area, p.A) && slices.Contains(area, p.B) {
		return // other wires go round it
	}
	w.tellBalance(area)
}

// tellBalance says which currents meet in an area.
func (w *writer) tellBalance(area []string) {
	all, known := w.faulty.ways(area)
	if !known {
		return
	}
	if len(all) == 0 || magnitude(all[0].into) < noAmps || magnitude(all[0].into) < smallAmps && w.at.Black != "" && math.Abs(w.faulty.value.Number) < smallVolts {
		w.say("no current to speak of reaches %s beyond it, and %s %s", areaWord(area), w.reader(), w.shown(w.faulty.value))
		return
	}
	w.balance = &Balance{Nodes: area}
	for _, x := range all {
		w.balance.Ways = append(w.balance.Ways, Way{w.branchTitle(w.faulty, x.branch), x.into})
	}
	in, out := w.sides(all)
	if len(in) == 0 || len(out) == 0 {
		return
	}
	w.tellWays(in, out, most(all, in), most(all, out))
	if w.tooLong() {
		w.sentences = w.sentences[:len(w.sentences)-1]
		w.tellLargest(area, in[0], out[0])
	}
}

// tellLargest tells of the largest way on each side alone.
func (w *writer) tellLargest(area []string, in, out way) {
	w.say("the largest current into %s is %s, the largest out of it %s", areaWord(area), w.ofWays([]way{in}), w.ofWays([]way{out}))
}

// most reports whether some ways carry most of what all carry on their side.
func most(all, some []way) bool {
	sum, held := 0.0, 0.0
	for _, x := range all {
		sum += max(x.along, 0)
	}
	for _, x := range some {
		held += math.Abs(x.along)
	}
	return held >= enough*sum
}

// tellWays tells of some ways into an area and out of it, which may not be most of
// them.
func (w *writer) tellWays(in, out []way, mostIn, mostOut bool) {
	lesser := func(of []way, most bool) string {
		if most {
			return w.ofWays(of)
		}
		return strings.Replace(w.ofWays(of), " and ", ", ", 1) + " and less through others"
	}
	switch {
	case len(in) > 1 || len(out) > 1:
		w.say("%s go on as %s, and %s %s", lesser(in, mostIn), lesser(out, mostOut), w.reader(), w.shown(w.faulty.value))
	case w.mentioned(in[0].branch):
		w.say("they go on%s%s", w.goesOn(in[0], out[0]), w.division(in[0], out[0]))
	case w.mentioned(out[0].branch):
		w.say("they come%s%s", w.goesOn(out[0], in[0]), w.division(in[0], out[0]))
	default:
		w.say("the %s through %s go on%s%s", amps(in[0].into), w.branchTitle(w.faulty, in[0].branch), w.goesOn(in[0], out[0]), w.division(in[0], out[0]))
	}
}

// goesOn says where the current of one way goes on: through another, which carries as
// much, or as what that carries beside or together with lesser ones.
func (w *writer) goesOn(one, other way) string {
	title := " through " + w.branchTitle(w.faulty, other.branch)
	switch more := magnitude(other.into) - magnitude(one.into); {
	case math.Abs(more) <= 0.02*magnitude(one.into):
		return title
	case more > 0:
		return ", with less from others, as " + amps(other.into) + title
	}
	return " as " + amps(other.into) + title + " and less through others"
}

func (w *writer) ofWays(some []way) string {
	var words []string
	for _, x := range some {
		title := "it"
		if !w.mentioned(x.branch) {
			title = w.branchTitle(w.faulty, x.branch)
		}
		words = append(words, amps(x.into)+" through "+title)
	}
	return list(words)
}

// reader is what has a reading.
func (w *writer) reader() string {
	if w.at.Black == "" {
		return "the clamp has"
	}
	return "the probes have"
}

// mostWays is how many ways are named on each side, and enough is the share of the
// current that is then told.
const (
	mostWays = 2
	enough   = 0.9
)

// sides splits ways into those that lead into an area and those that lead out, and
// keeps the main ones of each. Where current alternates either may be called the way
// in: it is that from the hot side, and of two hot sides the one with the red probe.
func (w *writer) sides(all []way) (in, out []way) {
	sum := lists.Sum(all, func(x way) float64 { return max(x.along, 0) })
	for _, x := range all {
		side := &in
		if x.along < 0 {
			side = &out
		}
		held := lists.Sum(*side, func(y way) float64 { return math.Abs(y.along) })
		if len(*side) < mostWays && held < enough*sum {
			*side = append(*side, x)
		}
	}
	if w.direct() {
		if len(in) > 0 && real(in[0].into) < 0 {
			in, out = out, in
		}
	} else if hotIn, hotOut := w.hotness(in), w.hotness(out); hotOut > 1.1*hotIn || hotOut > 0.9*hotIn && w.redBehind(out) {
		in, out = out, in
	}
	return in, out
}

// redBehind reports whether the red probe is at the outer end of the first of some
// ways.
func (w *writer) redBehind(some []way) bool {
	return len(some) > 0 && slices.Contains(w.faulty.area(some[0].outer, rig.None), w.at.Red)
}

// hotness is the voltage of the outer end of the first way to the reference.
func (w *writer) hotness(some []way) float64 {
	if len(some) == 0 {
		return 0
	}
	v, _ := w.faulty.Volts(some[0].outer, w.reference())
	return magnitude(v)
}

// division says how two ways in series share the voltage between their outer ends.
func (w *writer) division(in, out way) string {
	total, ok := w.faulty.Volts(in.outer, out.outer)
	one, two := magnitude(in.branch.Drop), magnitude(out.branch.Drop)
	if !ok || min(one, two) < 0.01*max(one, two) || w.gives(in.branch) || w.gives(out.branch) {
		return ""
	}
	if sum := one + two; sum < 1.03*magnitude(total) && sum > 0.97*magnitude(total) {
		return ", so that they share " + w.size(total) + " as " + w.size(in.branch.Drop) + " and " + w.size(out.branch.Drop)
	}
	return ", with " + w.size(in.branch.Drop) + " over the one and " + w.size(out.branch.Drop) + " over the other"
}
