package scenes_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"
	"faultwright/faulttree/scripted"
)

// Of a vehicle in order readings hold less than is asked. Who found no fault and names
// the dangers that they leave, these and no other, has said all there is to say; who
// leaves one out, or names one that they exclude, guesses.
func TestWhatIsNamedAsOpenIsHeld(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["spark-from-the-fleece"]
	c, b := scenes.CaseOf(m.lib, s), scenes.MarkBook(m.lib, s, m.beliefs)
	b.Best, b.Stored = order(mark.Order{Cost: 10, Held: 1}), nil
	b.Rubric.InDoubt = 0.01
	p := must.Have(scripted.Begin(c, faulttree.Qualified, faulttree.DefaultMeter()))(t)
	must.Have(p.Prove())(t)
	must.Do(t, p.Unplug())
	must.Do(t, p.Throw("inlet", false))
	for _, points := range [][2]string{{"plug.l1", "cord.l1"}, {"plug.l2", "cord.l2"}, {"plug.n", "cord.n"}, {"plug.g", "cord.g"}} {
		p.Set(meter.Ohms)
		must.Have(p.Read(points[0], points[1]))(t)
	}
	known := must.Have(mark.Know(context.Background(), c, p.Attempt, len(p.Attempt.Acts), b))(t)
	var left []faulttree.FaultAt
	for _, o := range known.Belief.Open() {
		if o.Share >= b.Rubric.InDoubt {
			left = append(left, faulttree.FaultAt{Fault: o.Fault, Place: o.Place})
		}
	}
	b.Rubric.Held = soundBut(known, left) // as if that were asked
	if known.Held() >= b.Rubric.Held || len(left) < 2 {
		t.Fatalf("the readings hold %.2f, with %d dangers %.2f", known.Held(), len(left), b.Rubric.Held)
	}
	found := func(open []faulttree.FaultAt) (guess bool, points int) {
		a := p.Attempt.Conclude(practice.Conclusion{Faults: []string{practice.NoFault}, Open: open, At: p.Attempt.Acts[len(p.Attempt.Acts)-1].At})
		marks := must.Have(mark.Of(context.Background(), c, a, b))(t)
		for _, part := range marks.Parts {
			if part.ID == rubric.Found {
				points = part.Points
			}
		}
		return marks.Guess, points
	}
	if guess, points := found(left); guess || points != b.Rubric.Part(rubric.Found).Points {
		t.Errorf("all of %d named: a guess %v, %d points", len(left), guess, points)
	}
	excluded := faulttree.FaultAt{Fault: "open-ground", Place: faulttree.Cord}
	for name, open := range map[string][]faulttree.FaultAt{"none": nil, "one left out": left[1:], "one too many": append(slices.Clone(left), excluded)} {
		if guess, points := found(open); !guess || points == b.Rubric.Part(rubric.Found).Points {
			t.Errorf("%s: a guess %v, %d points", name, guess, points)
		}
	}
}

// soundBut is the share of vehicles that are sound, or have nothing but some faults.
func soundBut(k mark.Known, only []faulttree.FaultAt) float64 {
	sum := 0.0
	for i, c := range k.Belief.Cases() {
		fine := true
		for _, f := range c.Faults {
			fine = fine && slices.Contains(only, faulttree.FaultAt{Fault: f.Fault, Place: f.Place})
		}
		if fine {
			sum += k.Belief.Shares()[i]
		}
	}
	return sum
}

// Who reads a pedestal with the plug out has looked for what a vehicle in order is
// complained of as well as who reads inside; who makes dead tests alone has not.
func TestAPedestalIsLookedAtWithThePlugOut(t *testing.T) {
	for on, want := range map[bool]int{true: 10, false: 0} {
		c := coachWith()
		p := must.Have(scripted.Begin(c, faulttree.Qualified, faulttree.DefaultMeter()))(t)
		must.Have(p.Prove())(t)
		must.Do(t, p.Unplug())
		must.Do(t, p.Throw("pedestal", on))
		p.Set(meter.VoltsAC)
		must.Have(p.Read("pedestal.l1", "pedestal.l2"))(t)
		marks := must.Have(mark.Of(context.Background(), c, p.Attempt.Conclude(practice.Conclusion{Faults: []string{practice.NoFault}}), book(false)))(t)
		for _, part := range marks.Parts {
			if part.ID == rubric.Complaint && part.Points != want {
				t.Errorf("the breaker on %v: %d points of %d; want %d: %s", on, part.Points, part.Of, want, part.Reason)
			}
		}
	}
}

// A body that may have reached the danger limit as it was brought is a STOP, whatever loads
// were on: nothing but what may be asked after one is proposed. And a site of 208 V, which
// is in order, may be named beside what is wrong, or not.
func TestAShockingBodyAsItStandsStops(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["barefoot-on-the-steel-step"]
	c, b := scenes.CaseOf(m.lib, s), scenes.MarkBook(m.lib, s, m.beliefs)
	p := must.Have(scripted.Begin(c, faulttree.Qualified, faulttree.DefaultMeter()))(t)
	must.Have(p.Prove())(t)
	must.Do(t, p.Body())
	known := must.Have(mark.Know(context.Background(), c, p.Attempt, len(p.Attempt.Acts), b))(t)
	next := must.Have(known.Next())(t)
	if !known.Hurts() || len(next) == 0 {
		t.Fatalf("it hurts: %v, and %d things are proposed", known.Hurts(), len(next))
	}
	for _, n := range next {
		if !n.Quantity.AllowedAfterStop() {
			t.Errorf("after a STOP %s is proposed", n.ID())
		}
	}
	must.Do(t, p.Unplug())
	must.Do(t, p.Throw("inlet", false))
	p.Set(meter.Ohms)
	for _, points := range [][2]string{{"plug.g", "cord.g"}, {"inlet.g", "body"}} {
		must.Have(p.Read(points[0], points[1]))(t)
	}
	points := map[string]int{}
	for _, faults := range [][]string{{"open-ground"}, {"open-ground", "wye-208"}, {"open-ground", "vehicle-bond"}} {
		a := p.Attempt.Conclude(practice.Conclusion{Faults: faults, Place: faulttree.Cord, Do: "open-ground@cord", RepairBy: "open-ground@cord", At: p.Attempt.Acts[len(p.Attempt.Acts)-1].At})
		marks := must.Have(mark.Of(context.Background(), c, a, b))(t)
		i := slices.IndexFunc(marks.Parts, func(part mark.Part) bool { return part.ID == rubric.Found })
		points[faults[len(faults)-1]] = marks.Parts[i].Points
	}
	if points["open-ground"] == 0 || points["wye-208"] != points["open-ground"] || points["vehicle-bond"] != 0 {
		t.Errorf("given are %v points", points)
	}
}

// Two legs of a wye, 120 V and 208 V (120·√3), are in order: who says so of a vehicle with
// nothing wrong, and who names them, is as right, and both are held by the same readings.
func TestASiteOf208VoltsIsInOrder(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["barefoot-on-the-steel-step"]
	c, b := scenes.CaseOf(m.lib, s), scenes.MarkBook(m.lib, s, m.beliefs)
	c.Faults = nil
	p := must.Have(scripted.Begin(c, faulttree.Qualified, faulttree.DefaultMeter()))(t)
	must.Have(p.Prove())(t)
	must.Do(t, p.Unplug())
	must.Do(t, p.Throw("pedestal", true))
	p.Set(meter.VoltsAC)
	for _, points := range [][2]string{{"pedestal.l1", "pedestal.n"}, {"pedestal.l2", "pedestal.n"}, {"pedestal.l1", "pedestal.l2"}} {
		must.Have(p.Read(points[0], points[1]))(t)
	}
	known := must.Have(mark.Know(context.Background(), c, p.Attempt, len(p.Attempt.Acts), b))(t)
	held := 0.0
	for _, of := range known.Belief.Brief() {
		if known.True(of) {
			held += of.Share
		}
	}
	for _, faults := range [][]string{{practice.NoFault}, {"wye-208"}} {
		a := p.Attempt.Conclude(practice.Conclusion{Faults: faults, At: p.Attempt.Acts[len(p.Attempt.Acts)-1].At})
		marks := must.Have(mark.Of(context.Background(), c, a, b))(t)
		if marks.Held < 0.2 || math.Abs(marks.Held-held) > 1e-9 {
			t.Errorf("%v is held %.2f; true is what holds %.2f", faults, marks.Held, held)
		}
	}
}
