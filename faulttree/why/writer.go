package why

import (
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
)

// writer makes the sentences for one atom.
type writer struct {
	*explainer
	atom      atom
	sentences []string
	balance   *Balance
	mentioned func(bench.Branch) bool // whether the first sentence tells the current of a branch
}

func (w *writer) say(format string, args ...any) {
	w.sentences = append(w.sentences, sentence(format, args...))
}

// mostWords is how long both sentences together may be.
const mostWords = 60

// text is the sentences; the second is left out where both are too long.
func (w *writer) text() []string {
	if len(w.sentences) > 1 && w.tooLong() {
		w.balance = nil
		return w.sentences[:1]
	}
	return w.sentences
}

func (w *writer) tooLong() bool {
	return len(strings.Fields(strings.Join(w.sentences, " "))) > mostWords
}

// smallAmps is a current that does not count beside what wires carry, in amperes.
const smallAmps = 1e-3

// smallVolts is a voltage that does not count beside that of a supply.
const smallVolts = 0.5

// noAmps is a current below what any meter in use shows, in amperes.
const noAmps = 1e-7

func (w *writer) name() string { return w.title(w.atom) }

func (w *writer) meterAtFault() {
	if v := w.faulty.value; v.There {
		w.say("between the probes are %s, with the fault and without", w.shown(v))
	}
	w.say("what misleads is in the meter or its use: %s", w.atom.fault().Title)
}

func (w *writer) nothingChanges() {
	with, out := w.shown(w.faulty.value), w.shown(w.sound.value)
	if with == out {
		w.say("for this reading %s makes no difference: %s with the fault and without", w.name(), with)
	} else {
		w.say("for this reading %s makes next to no difference: %s without the fault, %s with it", w.name(), out, with)
	}
	if w.atom.part == rig.None || w.atom.kind() == rig.Set || w.atom.kind() == rig.Replace || w.at.Unit == faulttree.Ohms {
		return
	}
	if b, ok := w.sound.branch(isPart(w.atom.part)); !ok || b.Known && magnitude(b.Amps) < smallAmps {
		w.say("while it is taken, that carries next to no current in a sound vehicle")
	}
}

// live words a voltage or a current.
func (w *writer) live() {
	if device, ok := w.opened(); ok && w.atom.kind() != rig.Open {
		w.say("%s draws so much that %s opens", w.drawing(), runTitle(w.faulty.rig.Parts[device]))
		w.mentioned = func(bench.Branch) bool { return false }
		w.beyond(device)
		return
	}
	switch w.atom.kind() {
	case rig.Open:
		w.open()
	case rig.Resist:
		w.resist()
	case rig.Connect:
		w.join()
	case rig.Swap:
		w.exchanged()
	case rig.Replace, rig.Set:
		w.set()
	}
}

// drawing is what draws the current that opens a protective device.
func (w *writer) drawing() string {
	if w.atom.kind() == rig.Connect {
		return w.name()
	}
	return "what " + w.name() + " brings about"
}

// opened is a part of a protective device that has opened with the fault and not
// without: of its wires the one that led to a probe, the red one first.
func (w *writer) opened() (part int, ok bool) {
	for i, p := range w.faulty.rig.Parts {
		if p.Kind != rig.Breaker || !slices.Contains(w.faulty.Tripped, p.Run) || slices.Contains(w.sound.Tripped, p.Run) {
			continue
		}
		if !ok {
			part, ok = i, true
		}
		if beyond := w.faulty.area(w.farEnd(i), i); slices.Contains(beyond, w.at.Red) {
			return i, true
		} else if slices.Contains(beyond, w.at.Black) {
			part = i
		}
	}
	return part, ok
}

// open words a part that does not conduct.
func (w *writer) open() {
	b, ok := w.sound.branch(isPart(w.atom.part))
	if ok && b.Known && magnitude(b.Amps) >= smallAmps {
		w.say("%s %s open: the %s that %s in a sound vehicle cannot pass", w.name(), verbForm(w.name(), "is", "are"), amps(b.Amps), verbForm(w.name(), "it carries", "they carry"))
	} else {
		w.say("%s %s open", w.name(), verbForm(w.name(), "is", "are"))
	}
	w.beyond(w.atom.part)
}

// resist words a part that has more resistance.
func (w *writer) resist() {
	more := rig.Ohms.Format(w.atom.change().Ohms.Of(w.atom.applied.Severity))
	b, ok := w.faulty.branch(isPart(w.atom.part))
	if !ok || !b.Known {
		return
	}
	if magnitude(b.Amps) < noAmps {
		w.say("%s %s %s more, but %s no current", w.name(), verbForm(w.name(), "has", "have"), more, verbForm(w.name(), "carries", "carry"))
	} else {
		w.say("%s %s %s more, and the %s through it lose %s", w.name(), verbForm(w.name(), "has", "have"), more, amps(b.Amps), w.size(b.Drop))
	}
	w.beyond(w.atom.part)
}
