package visit

import (
	"maps"
	"slices"
	"time"

	"faultwright/faulttree"
)

// goOn answers from what has been given already what the walk asks now, and puts
// that on record as supplied. Where nothing of it is asked, or it cannot be
// recorded, the recorder is as it was.
func (r Recorder) goOn(at time.Time) Recorder {
	if r.Walk().Ended() || r.played.Err != nil {
		return r
	}
	rest := r.rest()
	walk, _, err := r.Walk().Supply(rest)
	before := len(r.Walk().Trail())
	if err != nil || len(walk.Trail()) == before {
		return r
	}
	used := faulttree.Supplied{Readings: map[string][]faulttree.Reading{}, Facts: map[string]string{}, Once: true}
	for _, e := range walk.Trail()[before:] {
		if id, fact := e.Step.Fact(); fact {
			used.Facts[id] = rest.Facts[id]
		}
		for _, t := range NewReply(walk.Asked(e.Step), e.Answer).Readings {
			if given, ok := rest.Readings[t.Quantity]; ok {
				used.Readings[t.Quantity] = given
			}
		}
	}
	next, _, err := r.Supply(at, used)
	if err != nil {
		return r
	}
	return next
}

// rest is what has been given and could still be asked for. Readings are those of
// this round that no step of the walk has taken: on a sheet, or by an answer that
// a change has left behind. What was taken back or replaced is not among them,
// nor, after a STOP, what can have changed by it. Facts are those of all rounds.
func (r Recorder) rest() faulttree.Supplied {
	w := r.Walk()
	round := r.played.Round
	out := faulttree.Supplied{Readings: map[string][]faulttree.Reading{}, Facts: map[string]string{}, Once: true}
	take := func(reply Reply) {
		for _, t := range reply.Readings {
			if q, known := r.forest.Quantities[t.Quantity]; known && q.Unit == t.Unit && t.Quality != faulttree.NotPossible && reread(t, q) == nil {
				out.Readings[t.Quantity] = []faulttree.Reading{t.Reading}
			}
		}
		if id, ok := reply.Step.Fact(); ok {
			out.Facts[id] = reply.Choice
		}
	}
	rounds := r.visit.Rounds()
	for _, before := range rounds[:len(rounds)-1] {
		for _, item := range before.Items {
			if _, ok := item.Reply.Step.Fact(); ok {
				take(item.Reply)
			}
		}
	}
	for _, rec := range r.visit.Records[r.begins():] {
		if rec.Kind == Supplied {
			maps.Copy(out.Facts, rec.Supply.Facts)
		}
	}
	for _, u := range round.Undone {
		if u.How == LeftBehind {
			take(u.Reply)
			continue
		}
		for _, t := range u.Reply.Readings {
			delete(out.Readings, t.Quantity)
		}
		if id, ok := u.Reply.Step.Fact(); ok {
			delete(out.Facts, id)
		}
	}
	for _, s := range r.played.Lapsed() {
		take(s.Item.Reply)
	}
	maps.Copy(out.Readings, round.beside())
	for id := range w.Facts() {
		delete(out.Facts, id)
	}
	maps.DeleteFunc(out.Facts, func(id, choice string) bool { f := r.forest.Fact(id); return f == nil || !f.Has(choice) })
	for _, e := range w.Trail() {
		for _, t := range NewReply(w.Asked(e.Step), e.Answer).Readings {
			delete(out.Readings, t.Quantity)
		}
	}
	if _, stopped := w.Stop(); stopped {
		maps.DeleteFunc(out.Readings, func(id string, _ []faulttree.Reading) bool { return !r.standsAfterStop(id) })
	}
	return out
}

// begins is the place of the first record of the current round.
func (r Recorder) begins() int {
	records := r.visit.Records
	for i := len(records) - 1; i >= 0; i-- {
		if records[i].Kind == Retested {
			return i + 1
		}
	}
	return 0
}

// standsAfterStop reports whether a reading given before a STOP is still one after
// it: ohms of what was dead. Volts are read anew, for what was pulled or switched
// off shows something else, and so are all ohms where a pin that had to be dead
// was not: they were read on something live.
func (r Recorder) standsAfterStop(quantity string) bool {
	if q := r.forest.Quantities[quantity]; q.Unit != faulttree.Ohms || !q.AllowedAfterStop() {
		return false
	}
	w := r.Walk()
	return !slices.ContainsFunc(append(w.Judged(), w.Reached()...), func(x faulttree.Reached) bool {
		return x.Quantity.Unit != faulttree.Ohms && x.Quantity.Has(faulttree.Unplugged)
	})
}
