package prove

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// randomTree joins a few steps at random, with rechecks here and there. Acts
// have a twin in observe steps with several choices.
func randomTree(r *rand.Rand, rechecks bool) *faulttree.Tree {
	t := &faulttree.Tree{ID: "body", Start: "s0"}
	n := 3 + r.IntN(5)
	exit := func() faulttree.Exit { return to(fmt.Sprint("s", r.IntN(n)), faulttree.NoSignal) }
	for i := range n {
		id := fmt.Sprint("s", i)
		var s *faulttree.Step
		read := func(q faulttree.Quantity) *faulttree.Step {
			s := measure(id, q, exit(), exit(), branch(span(0, 10*volt), exit()), branch(span(10*volt, 0), exit()))
			return s
		}
		switch k := r.IntN(8); {
		case i == n-1 || k == 0:
			s = finding(id, faulttree.Finding{Signal: faulttree.Notice, Clears: []faulttree.Place{faulttree.Vehicle}})
		case k < 3:
			s = observe(id, exit(), exit())
		case k == 3:
			s = read(bodyEarth)
		case k == 4:
			s = read(pedestalEarth)
		case k == 5:
			s = read(knownSource)
		case k == 6:
			s = read(pedestalL1N)
		default:
			s = act(id, exit())
		}
		if rechecks && r.IntN(3) == 0 && s.Kind != faulttree.KindFinding {
			s.Recheck, s.Then = 1+r.IntN(2), exit()
		}
		t.Steps = append(t.Steps, s)
	}
	return t
}

// oracle walks a tree in every way there is, one state at a time: where the
// walk stands, how often each step with a recheck was entered, what was proved.
type oracle struct {
	f     *faulttree.Forest
	seen  map[string]uint8 // 1 on the way, 2 done
	loops bool
	body  bool // body to earth read without the spike's proof
	clear bool // an all-clear without the meter's proof just before
}

type state struct {
	at           faulttree.Ref
	entered      map[faulttree.Ref]int
	spike, meter bool
}

// arrive follows rechecks that have run out, as a walk does.
func (o *oracle) arrive(s state, to faulttree.Ref) (state, bool) {
	next := state{to, map[faulttree.Ref]int{}, s.spike, s.meter}
	maps.Copy(next.entered, s.entered)
	for range 50 {
		step := o.f.Step(next.at)
		if step.Recheck == 0 {
			return next, true
		}
		if next.entered[next.at] < step.Recheck {
			next.entered[next.at]++
			return next, true
		}
		next.at = step.Then.To
	}
	return next, false
}

func (o *oracle) walk(s state) {
	key := fmt.Sprint(s)
	switch o.seen[key] {
	case 1:
		o.loops = true
		return
	case 2:
		return
	}
	o.seen[key] = 1
	step := o.f.Step(s.at)
	if step.Kind == faulttree.KindFinding {
		o.clear = o.clear || !s.meter
	}
	follow := func(e faulttree.Exit, taken bool) {
		next := s
		if step.Kind == faulttree.KindMeasure {
			q := step.Measure[0].Quantity
			o.body = o.body || q.ID == bodyEarth.ID && !s.spike
			next.meter = q.ID == knownSource.ID && taken
			if q.ID == pedestalEarth.ID && e.Pos.Line != 2 {
				next.spike = true
			}
		}
		if next, ok := o.arrive(next, e.To); ok {
			o.walk(next)
		} else {
			o.loops = true
		}
	}
	for _, b := range step.Branches {
		follow(b.Exit, true)
	}
	for _, c := range step.Choices {
		follow(c.Exit, true)
	}
	if step.Kind == faulttree.KindAct {
		follow(step.Act.Exit, true)
	}
	if step.Kind == faulttree.KindMeasure {
		over, impossible := step.OverRange, step.NotPossible
		impossible.Pos.Line = 2 // marks the exit
		follow(over, false)
		follow(impossible, false)
	}
	o.seen[key] = 2
}

// TestGraphRulesAgainstAllWalks compares the rules on endings and on what must
// be read before with every walk through random trees.
func TestGraphRulesAgainstAllWalks(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 13))
	count := map[string]int{}
	for i := range 4000 {
		rechecks := i%2 == 1
		tree := randomTree(r, rechecks)
		f := forest(tree)
		found := map[string]bool{}
		for _, d := range Forest(context.Background(), f, known()) {
			found[d.Rule] = true
		}
		o := &oracle{f: f, seen: map[string]uint8{}}
		begin, _ := o.arrive(state{entered: map[faulttree.Ref]int{}}, faulttree.Ref{Tree: "body", Step: "s0"})
		o.walk(begin)
		for rule, want := range map[string]bool{ruleEndless: o.loops, ruleBodyEarth: o.body, ruleMeterProof: o.clear} {
			count[fmt.Sprint(rule, " ", want)]++
			switch {
			case want && !found[rule]:
				t.Fatalf("tree %d: some walk breaks %s, and it is not reported\n%s", i, rule, show(tree))
			case !want && found[rule] && rule == ruleEndless && !reachableOnly(f):
				// a loop among steps that no walk reaches is reported too
			case !want && found[rule] && !rechecks:
				t.Fatalf("tree %d: no walk breaks %s, and it is reported\n%s", i, rule, show(tree))
			case !want && found[rule]:
				count[rule+" stricter than the walks"]++
			}
		}
	}
	t.Log(count)
	for _, rule := range []string{ruleEndless, ruleBodyEarth, ruleMeterProof} {
		if count[rule+" true"] < 200 || count[rule+" false"] < 200 {
			t.Errorf("%s: one-sided, %v", rule, count)
		}
		if strict := count[rule+" stricter than the walks"]; strict > count[rule+" false"]/5 {
			t.Errorf("%s: reported without a walk in %d of %d trees", rule, strict, count[rule+" false"])
		}
	}
}

// reachableOnly reports whether every step can be reached.
func reachableOnly(f *faulttree.Forest) bool {
	return !slices.ContainsFunc(Forest(context.Background(), f, known()), func(d source.Diagnostic) bool { return d.Rule == ruleUnreachable })
}

func show(t *faulttree.Tree) (out string) {
	for _, s := range t.Steps {
		out += fmt.Sprint(s.ID, " ", s.Kind)
		if len(s.Measure) > 0 {
			out += " " + s.Measure[0].Quantity.ID
		}
		if s.Recheck > 0 {
			out += fmt.Sprint(" recheck ", s.Recheck)
		}
		for _, e := range s.Exits() {
			out += " -> " + e.Text
		}
		out += "\n"
	}
	return out
}
