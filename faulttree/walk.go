package faulttree

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"faultwright/faulttree/lists"
)

// Answer is what the reader gives to a step: readings in the order of
// Step.Measure, the id of a choice, or Done for an act.
type Answer struct {
	Readings []Reading
	Choice   string
	Done     bool
}

// Same reports whether a and other are the same answer.
func (a Answer) Same(other Answer) bool {
	return a.Choice == other.Choice && a.Done == other.Done && slices.EqualFunc(a.Readings, other.Readings, Reading.Same)
}

// Entry is one answered step of a walk.
type Entry struct {
	Step    Ref
	Answer  Answer
	Outcome Outcome
	Passed  []Passed // the charts passed on the way to Next, which readings taken before decided
	Stood   Ref      // where the walk stood, for an answer that came out of its turn since it may hurt; else zero
	Next    Ref      // where the walk went; differs from Outcome.To when a recheck ran out or a chart was passed
	RanOut  bool     // a step on the way had been entered as often as its recheck allows, so the walk went on by its `then`
}

// Result is the finding a walk ended in.
type Result struct {
	Ref        Ref
	Title      string
	For        Role
	Finding    Finding
	HandedOver bool // the next step is for a qualified person
}

// Walk is one way through a forest, as a value: its methods leave the
// receiver as it was and return the next walk.
type Walk struct {
	forest *Forest
	start  Ref
	role   Role
	meter  Meter
	trail  []Entry
	at     Ref
	given  map[string][]Reading // beside the walk, see [Walk.Beside]
	doubt  string               // why it clears nothing, "" for a walk all of which is known
}

// Begin stands before the step named at; an empty step name means the tree's
// start.
func Begin(f *Forest, at Ref, role Role, m Meter) (Walk, error) {
	t := f.Tree(at.Tree)
	if t == nil {
		return Walk{}, fmt.Errorf("there is no tree %q", at.Tree)
	}
	at.Step = cmp.Or(at.Step, t.Start)
	s := t.Step(at.Step)
	if chart, _, column := at.Chart(); s == nil && column { // which the chart no longer has
		s = t.Step(chart.Step)
	}
	if s == nil {
		return Walk{}, fmt.Errorf("tree %s has no step %q", at.Tree, at.Step)
	}
	at, _, _ = s.Ref().Chart() // which may have had another id; a walk begins at the chart, not at a column of it
	w := Walk{forest: f, start: Ref{t.ID, at.Step}, role: role, meter: m, at: at}
	for range len(t.Steps) {
		out, passed, err := w.passes(f.Step(w.at))
		if err != nil {
			return Walk{}, err
		}
		if !passed {
			break
		}
		if w.at = out.To; f.Step(w.at) == nil {
			return Walk{}, fmt.Errorf("there is no step %s", w.at)
		}
	}
	return w, nil
}

// Forest is the trees that the walk goes through.
func (w Walk) Forest() *Forest { return w.forest }

// Start is where the walk began.
func (w Walk) Start() Ref { return w.start }

// Role is that of the reader.
func (w Walk) Role() Role { return w.role }

// Meter is the one that the readings are taken with.
func (w Walk) Meter() Meter { return w.meter }

// At is what the walk asks: the step it stands at, also when it is handed over
// there, or the fact that this step needs.
func (w Walk) At() Ref {
	if s := w.Step(); s != nil {
		return s.Ref()
	}
	return w.at
}

// Tree is the id of the tree that the walk is in.
func (w Walk) Tree() string { return w.at.Tree }

// Doubted is the walk with something about it that is not known, said as a
// sentence. It clears nothing.
func (w Walk) Doubted(why string) Walk {
	w.doubt = why
	return w
}

// Trail lists the answered steps, oldest first. The caller may keep it.
func (w Walk) Trail() []Entry { return slices.Clone(w.trail) }

// step is where the walk stands; the zero Walk stands nowhere.
func (w Walk) step() *Step {
	if w.forest == nil {
		return nil
	}
	return w.forest.Step(w.at)
}

func (w Walk) handedOver() bool {
	s := w.step()
	return s != nil && s.For == Qualified && w.role == Owner && s.Kind != KindFinding
}

// Step is what the walk asks: the step it stands at, a finding included, as its
// facts have it, or first the fact that this step needs; nil once it is handed
// over.
func (w Walk) Step() *Step {
	s := w.step()
	if s == nil || w.handedOver() {
		return nil
	}
	if fact := w.forest.Fact(s.unknown(w.Fact)); fact != nil {
		return fact.step()
	}
	u := s.Under(w.Fact)
	if u.Kind != KindChart {
		return u
	}
	known := w.knownAt(u)
	if _, ask, err := u.evaluate(known, w.meter, w.danger); err == nil && ask >= 0 {
		return u.column(ask, known)
	}
	return u
}

// Ended reports whether the walk stands at a finding or is handed over.
func (w Walk) Ended() bool {
	s := w.step()
	return s == nil || s.Kind == KindFinding || w.handedOver()
}

// Stop is the first STOP passed or stood on.
func (w Walk) Stop() (Ref, bool) {
	for _, e := range w.trail {
		if s := w.forest.Step(e.Step); s != nil && s.Stop() {
			return e.Step, true
		}
	}
	if s := w.Step(); s != nil && s.Stop() {
		return s.Ref(), true
	}
	return Ref{}, false
}

// fromTheStart reports whether the walk began where its tree begins.
func (w Walk) fromTheStart() bool {
	t := w.forest.Tree(w.start.Tree)
	return t != nil && t.Start == w.start.Step
}

// Finding is the result of an ended walk. After a STOP it is DANGER and
// clears nothing, whatever the document says. A walk that began in the middle
// of its tree, that is in doubt, or on which a reading was not taken, clears
// nothing either, and says so.
func (w Walk) Finding() (Result, bool) {
	s := w.step()
	if s == nil || !w.Ended() {
		return Result{}, false
	}
	_, stopped := w.Stop()
	if s.Kind == KindFinding {
		r := Result{Ref: s.Ref(), Title: s.Title, For: s.For, Finding: s.Finding}
		if first := w.forest.Step(w.start); !w.fromTheStart() && first != nil {
			r.Finding.Signal, r.Finding.Clears = max(r.Finding.Signal, Warning), nil
			r.Finding.Sure += " This walk began at “" + first.Title + "”: what the tree asks before that was not measured."
		}
		if w.doubt != "" {
			r.Finding.Signal, r.Finding.Clears = max(r.Finding.Signal, Warning), nil
			r.Finding.Sure += " " + w.doubt
		}
		if skipped := w.notTaken(); len(r.Finding.Clears) > 0 && len(skipped) > 0 {
			r.Finding.Signal, r.Finding.Clears = max(r.Finding.Signal, Warning), nil
			r.Finding.Sure += " Not measured: " + strings.Join(skipped, "; ") + ". What that would have shown is not excluded, so nothing counts as without fault."
		}
		if stopped {
			r.Finding.Signal, r.Finding.Clears = Danger, nil
		}
		return w.warn(r), true
	}
	signal := Warning
	for _, e := range w.trail {
		if stopped || e.worst() == Danger {
			signal = Danger
		}
	}
	return w.warn(Result{
		Ref: Ref{w.at.Tree, HandOver}, Title: "Hand this to a licensed electrician", For: Qualified, HandedOver: true,
		Finding: Finding{
			Signal:      signal,
			Sure:        "The cause is not known yet. No fault has been excluded.",
			FirstAction: "Breaker off, vehicle unplugged, and leave it so. Give the sheet with the readings so far to a licensed electrician.",
			DoNot:       "Do not open an enclosure or take off a panel cover.",
			RepairBy:    "a licensed electrician",
		},
	}), true
}

// danger looks a quantity up in the danger limits of the tree the walk is in.
func (w Walk) danger(quantity string) (Amount, bool) {
	if t := w.forest.Trees[w.at.Tree]; t != nil {
		return t.DangerLimit(quantity)
	}
	return 0, false
}

// preview is the outcome an answer to s would have.
func (w Walk) preview(s *Step, a Answer) (Outcome, error) {
	if s == nil || s.Kind == KindFinding {
		return Outcome{}, errors.New("the walk has ended")
	}
	switch s.Kind {
	case KindMeasure:
		return s.Judge(a.Readings, w.meter, w.danger)
	case KindFact:
		if !slices.ContainsFunc(s.Choices, func(c Choice) bool { return c.ID == a.Choice }) {
			return Outcome{}, fmt.Errorf("the fact %s cannot be %q", s.ID, a.Choice)
		}
		return s.exitWithout(Exit{To: w.at}), nil
	case KindObserve:
		for _, c := range s.Choices {
			if c.ID == a.Choice {
				return s.exitWithout(c.Exit), nil
			}
		}
		return Outcome{}, fmt.Errorf("step %s has no choice %q", s.Ref(), a.Choice)
	}
	if !a.Done {
		return Outcome{}, fmt.Errorf("step %s waits for its act to be done", s.Ref())
	}
	return s.exitWithout(s.Act.Exit), nil
}

// Answer takes the answer to the current step and goes on.
func (w Walk) Answer(a Answer) (Walk, error) {
	w.trail = slices.Clip(w.trail)
	return w.appendAnswer(w.Step(), a)
}

// appendAnswer is Answer to the step s for a walk whose trail no other walk
// grows from.
func (w Walk) appendAnswer(s *Step, a Answer) (Walk, error) {
	out, err := w.preview(s, a)
	if err != nil {
		return w, err
	}
	a.Readings = slices.Clone(a.Readings)
	e, err := w.arrive(Entry{Step: s.Ref(), Answer: a, Outcome: out})
	if err != nil {
		return w, err
	}
	w.trail = append(w.trail, e)
	w.at = e.Next
	return w, nil
}

// arrive completes an entry by where the walk goes on. It follows the recheck
// bounds: a step entered as often as it allows sends the walk to its `then`. A
// chart that is known by then is passed.
func (w Walk) arrive(e Entry) (Entry, error) {
	to := e.Outcome.To
	_, fact := e.Step.Fact()
	chart, _, column := e.Step.Chart()
	for range 100 {
		s := w.forest.Step(to)
		if s == nil {
			return e, fmt.Errorf("there is no step %s", to)
		}
		past, passed, err := w.passes(s, e)
		switch {
		case err != nil:
			return e, err
		case passed && s.Kind == KindChart:
			e.Passed = append(e.Passed, Passed{to, past})
			to = past.To
		case passed:
			to = past.To
		case to == w.at && (fact || column && to == chart): // it was entered before
			e.Next = to
			return e, nil
		case s.Recheck == 0 || w.entered(to) < s.Recheck:
			e.Next = to
			return e, nil
		default:
			to, e.RanOut = s.Then.To, true
		}
	}
	return e, fmt.Errorf("the way from %s leads in a circle at %s, where nothing is asked", e.Step, to)
}

func (w Walk) entered(r Ref) int {
	n := lists.Count(w.trail, func(e Entry) bool { return e.Step == r })
	if w.at == r {
		n++
	}
	return n
}

// stood is the step at which the walk stood when e was answered.
func (e Entry) stood() Ref {
	if e.Stood != (Ref{}) {
		return e.Stood
	}
	if _, ok := e.Step.Fact(); ok {
		return e.Outcome.To
	}
	chart, _, _ := e.Step.Chart()
	return chart
}

// Back undoes the last answer; at the first step it changes nothing.
func (w Walk) Back() Walk {
	if n := len(w.trail); n > 0 {
		w.at = w.trail[n-1].stood()
		w.trail = w.trail[: n-1 : n-1]
	}
	return w
}

// notTaken lists the titles of the steps whose last reading was not taken. A
// step that lets the reader pass with no signal says that the reading does not
// apply, such as that of a tow vehicle that is not there.
func (w Walk) notTaken() []string {
	missing := map[Ref]bool{}
	var order []Ref
	for _, e := range w.trail {
		for _, r := range e.Answer.Readings {
			if _, seen := missing[e.Step]; !seen {
				order = append(order, e.Step)
			}
			_, _, column := e.Step.Chart()
			missing[e.Step] = r.Quality == NotPossible && (column || e.Outcome.Signal > NoSignal)
			if missing[e.Step] {
				break
			}
		}
	}
	var titles []string
	for _, at := range order {
		if s := w.forest.Step(at); s != nil && missing[at] {
			titles = append(titles, s.Title)
		}
	}
	return titles
}
