package mark

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"
	"faultwright/faulttree/suspect"
)

// judged is what there is to be found, what was concluded, and what the readings
// give it.
type judged struct {
	truth     []faulttree.FaultAt // of the vehicle, those that come along among them
	meters    []string            // mistakes with the meter that are there
	named     []faulttree.FaultAt // of the vehicle, in the place that was said or else that of the truth
	misread   []string            // mistakes with the meter that were named
	right     bool                // what was concluded is all that there is to be done
	partly    bool                // only some of it
	honest    bool                // what is right is held together with the dangers that were named as open
	elsewhere bool                // a fault that is there was named in another place
	of        *suspect.Belief     // at the conclusion
	read      []taken
	held      float64 // how far the readings hold it, between the story alone and what is asked
	alters    bool    // there is something wrong that a repair puts right
	shows     []int   // acts whose display would have been another in a sound vehicle with a sound meter
}

// parts marks what was done well.
func (g *marker) parts() error {
	j, err := g.judge()
	if err != nil {
		return err
	}
	for _, mark := range []func(*judged) error{g.complaint, g.found, g.place, g.dangers, g.whatToDo, g.whoDoes, g.verified, g.economy} {
		if err := mark(j); err != nil {
			return err
		}
	}
	return nil
}

// nothing is the share of a part that asks for nothing here, as nothing is to be repaired
// of a sound vehicle: who only guessed that it is sound has not earned it.
func (j *judged) nothing() float64 {
	if !j.right {
		return 0
	}
	return j.held
}

// give notes a part that has got a share of its points.
func (g *marker) give(id string, share float64, acts []int, format string, args ...any) {
	p := g.b.Rubric.Part(id)
	at := g.when(g.ended())
	if len(acts) > 0 {
		at = g.when(slices.Max(acts))
	}
	points := int(math.Floor(float64(p.Points)*min(1, max(0, share)) + 1e-9))
	g.out.Parts = append(g.out.Parts, Part{ID: id, Title: p.Title, Points: points, Of: p.Points, Reason: fmt.Sprintf(format, args...), Acts: acts, At: at, Card: p.Card})
}

// judge compares the conclusion with what is there.
func (g *marker) judge() (*judged, error) {
	j := &judged{truth: g.truth()}
	for _, a := range g.c.Faults {
		if !a.Fault.Variants[a.Variant].Shows() {
			j.meters, j.alters = append(j.meters, a.Fault.ID), true
			continue
		}
		j.alters = j.alters || !slices.Contains(g.c.Rig.Shows, a.Fault.ID)
	}
	var err error
	if j.shows, err = g.showing(0); err != nil {
		return nil, err
	}
	j.read = g.before(g.ended())
	if j.of, err = g.b.Beliefs.belief(g.ctx, g.c, j.read); err != nil {
		return nil, err
	}
	if g.a.Conclusion != nil {
		return j, g.compare(j, *g.a.Conclusion)
	}
	return j, nil
}

// compare says whether a conclusion is right, and how far the readings hold it. What the
// rig shows although nothing is broken is neither asked nor wrong ([rig.Rig.Broken]).
func (g *marker) compare(j *judged, done practice.Conclusion) error {
	for _, id := range done.Faults {
		switch at, there := g.namedAt(j, id, done); {
		case id == practice.NoFault:
		case g.ofMeter(id):
			j.misread = append(j.misread, id)
		default:
			j.named = append(j.named, at)
			j.elsewhere = j.elsewhere || there && !slices.Contains(j.truth, at)
		}
	}
	b := g.b.Beliefs
	j.named = g.c.Rig.Broken(j.named, j.truth)
	named, truth := b.tasks(j.named), b.tasks(j.truth)
	meters := slices.Equal(sorted(j.misread), sorted(j.meters))
	j.right = slices.Equal(named, truth) && meters
	if !j.right {
		some := slices.ContainsFunc(named, func(t task) bool { return slices.Contains(truth, t) }) || slices.ContainsFunc(j.misread, func(id string) bool { return slices.Contains(j.meters, id) })
		extra := slices.ContainsFunc(named, func(t task) bool { return !slices.Contains(truth, t) })
		j.partly = some && !extra
	}
	var err error
	g.out.Held = 1
	if len(j.misread) > 0 {
		var shown bool
		shown, err = g.misreadShown(j)
		if err != nil {
			return err
		}
		g.out.Held = asShare(shown)
	}
	if len(j.named) > 0 || len(j.misread) == 0 {
		g.out.Held = min(g.out.Held, g.holds(j.of, named))
	}
	g.out.Asked = g.b.Rubric.Held
	if !j.right && !j.partly {
		return nil
	}
	if g.out.Asked, err = g.asked(); err != nil {
		return err
	}
	j.held, j.honest = 1, g.out.Held < g.out.Asked && j.right && g.honest(j, done)
	if g.out.Held < g.out.Asked && !j.honest {
		j.held = g.gained(g.out.Held, 0) // a mistake with the meter is shown, or it is not
		if len(j.named) > 0 || len(j.misread) == 0 {
			story, err := b.belief(g.ctx, g.c, g.b.came(0))
			if err != nil {
				return err
			}
			j.held = g.gained(g.out.Held, g.holds(story, named))
			if j.right && len(named) > 1 { // no less than for naming one of them and leaving the others
				for _, t := range named {
					one := []task{t}
					j.held = max(j.held, g.gained(g.holds(j.of, one), g.holds(story, one))/2)
				}
			}
		}
	}
	g.out.Guess = j.held < 1
	g.out.Bound = g.b.Rubric.Guess + int(j.held*float64(rubric.Whole-g.b.Rubric.Guess))
	return nil
}

// gained is how far the readings bring a share from what the story alone gives it to what
// is asked: 0 to 1.
func (g *marker) gained(held, told float64) float64 {
	if told >= g.out.Asked {
		return 0
	}
	return min(1, max(0, (held-told)/(g.out.Asked-told)))
}

// honest reports whether a conclusion that no fault was found names exactly the dangers
// that the readings leave open, and vehicles that are sound, or have nothing but these,
// hold as much as is asked. Nothing clears a vehicle in order, and some of what could is
// not permitted.
func (g *marker) honest(j *judged, done practice.Conclusion) bool {
	if !slices.Equal(done.Faults, []string{practice.NoFault}) || len(j.lastRead()) == 0 {
		return false
	}
	left := map[faulttree.FaultAt]bool{} // dangers that the readings leave, and whether they are named
	for _, o := range j.of.Open() {
		if o.Share >= g.b.Rubric.InDoubt {
			left[faulttree.FaultAt{Fault: o.Fault, Place: o.Place}] = false
		}
	}
	for _, at := range done.Open {
		among := false
		for o := range left {
			if at.Covers(o) {
				left[o], among = true, true
			}
		}
		if !among {
			return false
		}
	}
	for _, named := range left {
		if !named {
			return false
		}
	}
	held := 0.0
	for i, c := range j.of.Cases() {
		if !slices.ContainsFunc(c.Faults, func(f suspect.PlacedFault) bool {
			at := faulttree.FaultAt{Fault: f.Fault, Place: f.Place}
			return !left[at] && len(g.c.Rig.Broken([]faulttree.FaultAt{at}, j.truth)) > 0
		}) {
			held += j.of.Shares()[i]
		}
	}
	return held >= g.b.Rubric.Held
}

// asked is the share from which a conclusion counts as held: that of the rubric, or
// what the best order ends with where that is less, in whole percent.
func (g *marker) asked() (float64, error) {
	held := g.b.Rubric.Held
	if g.out.Held >= held {
		return held, nil
	}
	best, err := g.best()
	if err != nil || best.Held <= 0 {
		return held, err
	}
	return min(held, math.Floor(100*best.Held)/100), nil
}

// best is the best order for the case, worked out once.
func (g *marker) best() (Order, error) {
	if g.order != nil {
		return *g.order, nil
	}
	if g.b.Stored != nil {
		if order, ok := g.b.Stored(g.a.Role); ok {
			g.order = &order
			return order, nil
		}
	}
	work := g.b.Best
	if work == nil {
		work = func(ctx context.Context) (Order, error) { return Best(ctx, g.c, g.a.Role, g.b) }
	}
	order, err := work(g.ctx)
	if err != nil {
		return Order{}, err
	}
	g.order = &order
	return order, nil
}

// namedAt is a fault that was named, in its place: the one that was said, else
// that of the truth, else the first one that it has.
func (g *marker) namedAt(j *judged, id string, done practice.Conclusion) (at faulttree.FaultAt, there bool) {
	at = faulttree.FaultAt{Fault: id, Place: done.Place}
	i := slices.IndexFunc(j.truth, func(f faulttree.FaultAt) bool { return f.Fault == id })
	if i >= 0 && (done.Place == "" || len(done.Faults) > 1) {
		return j.truth[i], true
	}
	if at.Place == "" {
		for _, f := range g.b.Faults {
			if f.ID == id && len(f.Variants) > 0 {
				at.Place = f.Variants[0].Place
			}
		}
	}
	return at, i >= 0
}

func sorted(ids []string) []string {
	out := slices.Clone(ids)
	slices.Sort(out)
	return slices.Compact(out)
}

// found is what was concluded, as far as the readings hold it.
func (g *marker) found(j *judged) error {
	done := g.a.Conclusion
	last := j.lastRead()
	until := "without any reading"
	switch {
	case len(last) == 0 && len(j.misread) > 0 && g.out.Held > 0:
		until = "by what the meter itself has shown"
	case len(last) > 0:
		until = fmt.Sprintf("by all readings up to act %d (%s)", practice.Number(last[0]), g.display(last[0]))
	}
	share := percent(g.out.Held)
	switch {
	case done == nil:
		g.give(rubric.Found, 0, nil, "Nothing was concluded.")
	case j.honest:
		g.give(rubric.Found, 1, last, "It is so. Your readings alone give it %s, %s; with the dangers that you named as open they hold it.", share, until)
	case j.right && !g.out.Guess && g.out.Held < g.b.Rubric.Held:
		g.give(rubric.Found, 1, last, "It is so. Your readings give it %s, %s: that is not sure. The best order does not make it sure here either, so that %s is asked.", share, until, percent(g.out.Asked))
	case j.right && !g.out.Guess:
		g.give(rubric.Found, 1, last, "It is so, and your readings hold it: %s, %s.", share, until)
	case j.right:
		g.give(rubric.Found, j.held, last, "It is so, but it was a guess as far as your readings do not hold it: they give it %s, %s; from %s on it is held.", share, until, percent(g.out.Asked))
	case j.partly:
		g.give(rubric.Found, j.held/2, last, "That is there, and something else is wrong beside it. Your readings give what you named %s, %s.", share, until)
	case j.elsewhere:
		g.give(rubric.Found, 0, last, "The fault is there, in another place than you said. Your readings give yours %s, %s.", share, until)
	default:
		g.give(rubric.Found, 0, last, "%s Your readings give what you named %s, %s.", g.amiss(*done), share, until)
	}
	return nil
}

// percent words a share: whole percents, rounded down so that what is not held
// does not look as if it were.
func percent(share float64) string {
	return fmt.Sprintf("%d %%", int(math.Floor(share*100+1e-9)))
}

// place is where.
func (g *marker) place(j *judged) error {
	done := g.a.Conclusion
	want := g.b.Expect.Place
	places := lists.Each(j.truth, func(f faulttree.FaultAt) faulttree.Place { return f.Place })
	if want != "" {
		places = []faulttree.Place{want}
	}
	switch {
	case done == nil:
		g.give(rubric.Where, 0, nil, "Nothing was concluded.")
	case len(places) == 0 && (j.right || done.Place == ""):
		g.give(rubric.Where, j.nothing(), nil, "There is no place to name.%s", g.asHeld())
	case slices.Contains(places, done.Place):
		g.give(rubric.Where, 1, nil, "It is %s, as you said.", done.Place.Within())
	case done.Place == "" && len(j.named) > 1 && j.right:
		g.give(rubric.Where, 1, nil, "Each of them has its place.")
	case done.Place == "":
		g.give(rubric.Where, 0, nil, "You did not say where.")
	default:
		g.give(rubric.Where, 0, nil, "It is not %s.", done.Place.Within())
	}
	return nil
}

// asHeld says that points count no further than the readings hold the conclusion; "" where
// they hold it.
func (g *marker) asHeld() string {
	if !g.out.Guess {
		return ""
	}
	return " It counts as far as the readings hold the conclusion."
}

func asShare(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// dangers is what may still hurt: excluded by readings, or named as open.
func (g *marker) dangers(j *judged) error {
	done := g.a.Conclusion
	if done == nil {
		g.give(rubric.Dangers, 0, nil, "Nothing was concluded.")
		return nil
	}
	open := g.b.Expect.Open
	shares := map[faulttree.FaultAt]float64{}
	for _, o := range j.of.Open() {
		at := faulttree.FaultAt{Fault: o.Fault, Place: o.Place}
		shares[at] = o.Share
		if len(g.b.Expect.Open) == 0 && o.Share >= g.b.Rubric.InDoubt && !slices.Contains(j.named, at) {
			open = append(open, at)
		}
	}
	var left []faulttree.FaultAt
	named := 0
	for _, at := range open {
		if share, still := shares[at]; !still || share < g.b.Rubric.InDoubt && len(g.b.Expect.Open) == 0 {
			named++
		} else if slices.Contains(done.Open, at) || slices.Contains(done.Open, faulttree.FaultAt{Fault: at.Fault}) || slices.Contains(j.named, at) {
			named++
		} else {
			left = append(left, at)
		}
	}
	last := j.lastRead()
	switch {
	case len(last) == 0:
		g.give(rubric.Dangers, 0, nil, "Without a reading no danger is excluded.")
	case len(left) == 0:
		g.give(rubric.Dangers, 1, last, "No danger of %s or more is left that you did not name, by the readings up to act %d (%s).", percent(g.b.Rubric.InDoubt), practice.Number(last[0]), g.display(last[0]))
	default:
		at := left[0]
		g.give(rubric.Dangers, float64(named)/float64(len(open)), last, "Still open, and not named: “%s” (%s, %s), by the readings up to act %d (%s).",
			g.b.Describe(at.Fault, at.Place).Title, at.Place.Word(), percent(shares[at]), practice.Number(last[0]), g.display(last[0]))
	}
	return nil
}

// advice is what the documents of the true faults say, the worst first, and behind that
// what those of the faults say that were named for them, where these are mended alike and
// no less dangerous.
func (g *marker) advice(j *judged, of func(suspect.Described) string) []string {
	faults := slices.Clone(j.truth)
	slices.SortStableFunc(faults, func(a, b faulttree.FaultAt) int {
		return int(g.b.Describe(b.Fault, b.Place).Hazard) - int(g.b.Describe(a.Fault, a.Place).Hazard)
	})
	for _, id := range j.meters {
		faults = append(faults, faulttree.FaultAt{Fault: id, Place: faulttree.MeterOwn})
	}
	if len(faults) == 0 {
		faults = append(faults, faulttree.FaultAt{Fault: practice.NoFault})
	}
	if j.right {
		for _, n := range j.named {
			worse := func(f faulttree.FaultAt) bool {
				return g.b.Beliefs.task(f) == g.b.Beliefs.task(n) && g.b.Describe(f.Fault, f.Place).Hazard > g.b.Describe(n.Fault, n.Place).Hazard
			}
			if !slices.ContainsFunc(j.truth, worse) {
				faults = append(faults, n)
			}
		}
	}
	var out []string
	for _, f := range faults {
		if text := of(g.b.Describe(f.Fault, f.Place)); text != "" && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

// said is an advice that a conclusion names: the words themselves, or the fault in
// its place ("open-neutral@cord") whose document says them.
func (g *marker) said(text string, of func(suspect.Described) string) string {
	if at := faulttree.ParseFaultAt(text); at.Fault != "" {
		if words := of(g.b.Describe(at.Fault, at.Place)); words != "" {
			return words
		}
	}
	return text
}

func (g *marker) whatToDo(j *judged) error {
	g.advised(j, rubric.WhatToDo, g.b.Expect.Do, func(c practice.Conclusion) string { return c.Do }, func(d suspect.Described) string { return d.Do }, "what is to be done")
	return nil
}

func (g *marker) whoDoes(j *judged) error {
	g.advised(j, rubric.WhoDoes, g.b.Expect.RepairBy, func(c practice.Conclusion) string { return c.RepairBy }, func(d suspect.Described) string { return d.RepairBy }, "who repairs it")
	return nil
}

// advised marks what the documents of the faults answer.
func (g *marker) advised(j *judged, part, expected string, said func(practice.Conclusion) string, of func(suspect.Described) string, what string) {
	done := g.a.Conclusion
	want := g.advice(j, of)
	if expected != "" {
		want = []string{expected}
	}
	switch {
	case done == nil:
		g.give(part, 0, nil, "Nothing was concluded.")
	case len(want) == 0:
		g.give(part, j.nothing(), nil, "The handbook does not ask %s here.%s", what, g.asHeld())
	case slices.Contains(want, g.said(said(*done), of)):
		g.give(part, 1, nil, "You said %s: %s", what, sentence(g.said(said(*done), of)))
	case said(*done) == "":
		g.give(part, 0, nil, "You did not say %s: %s", what, sentence(want[0]))
	default:
		g.give(part, 0, nil, "That is not %s. It is: %s", what, sentence(want[0]))
	}
}

func sentence(text string) string { return strings.TrimSuffix(strings.TrimSpace(text), ".") + "." }
