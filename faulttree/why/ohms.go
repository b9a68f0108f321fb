package why

import (
	"math"

	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
)

// ohms words what the current of an ohmmeter does.
func (w *writer) ohms() {
	share := w.shareOf(w.sound)
	switch w.atom.kind() {
	case rig.Open:
		if share > 0.5 {
			w.say("in a sound vehicle the meter's current passes through %s, which %s open here", w.name(), verbForm(w.name(), "is", "are"))
		} else {
			w.say("%s %s open", w.name(), verbForm(w.name(), "is", "are"))
		}
	case rig.Resist:
		w.say("%s %s %s more", w.name(), verbForm(w.name(), "has", "have"), rig.Ohms.Format(w.atom.change().Ohms.Of(w.atom.applied.Severity)))
	case rig.Connect:
		w.say("%s is a way for the meter's current that a sound vehicle does not have", w.name())
	case rig.Swap:
		w.exchanged()
	default:
		w.set()
	}
	w.sentences = w.sentences[:min(1, len(w.sentences))] // a second one would be of live currents
	if w.faulty.value.Live {
		w.say("the probes have a voltage with it: no ohms are read there")
		return
	}
	if !w.faulty.value.There {
		return
	}
	if math.IsInf(w.faulty.value.Number, 0) {
		w.say("no way joins the probes, so the meter shows OL")
		return
	}
	w.testPath()
}

// shareOf is the share of the meter's current that the atom's part carries.
func (w *writer) shareOf(c circuit) float64 {
	m, ok := c.branch(func(b bench.Branch) bool { return b.Meter })
	b, there := c.branch(isPart(w.atom.part))
	if w.atom.part == rig.None || !ok || !there || !b.Known || magnitude(m.Amps) == 0 {
		return 0
	}
	return magnitude(b.Amps) / magnitude(m.Amps)
}

// testPath says which way most of the meter's current takes.
func (w *writer) testPath() {
	m, ok := w.faulty.branch(func(b bench.Branch) bool { return b.Meter })
	if !ok || !m.Known || magnitude(m.Amps) < 1e-15 {
		return
	}
	path := w.faulty.widestPath(m.B, m.A, m.Amps, func(b bench.Branch) complex128 {
		if b.Meter {
			return 0
		}
		return b.Amps
	})
	var words []string
	main := mostDrop(path, 2)
	for _, s := range main {
		words = append(words, w.branchTitle(w.faulty, s.branch))
	}
	part := "most"
	for _, s := range path {
		if magnitude(s.branch.Amps) < 0.5*magnitude(m.Amps) {
			part = "the largest part"
		}
	}
	switch {
	case len(main) == 1 && (w.atom.isJoin(main[0].branch) || w.atom.part != rig.None && main[0].branch.Part == w.atom.part):
		w.say("%s of the meter's current goes that way: %s instead of %s", part, w.shown(w.faulty.value), w.shown(w.sound.value))
	case len(main) == 0:
		w.say("so the meter shows %s instead of %s", w.shown(w.faulty.value), w.shown(w.sound.value))
	default:
		w.say("%s of the meter's current goes through %s: %s", part, list(words), w.shown(w.faulty.value))
	}
}
