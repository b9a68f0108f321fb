package scenes_test

import (
	"context"
	"encoding/json"
	"flag"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"
	"faultwright/faulttree/scripted"
)

var (
	learners = flag.Int("learners", 0, "so many seeds of the scripted learners play every scenario; 0: one plays two")
	from     = flag.Int("from", 0, "the first of these seeds")
	goes     = flag.Int("goes", 0, "so many goes in the best order, at variants of all scenarios in turn; 0: one")
)

// played is a scenario played by a scripted learner.
type played struct {
	c practice.Case
	b mark.Book
	a practice.Attempt
}

func playedBy(t *testing.T, k scripted.Kind, s *content.Scenario, seed uint64) played {
	t.Helper()
	m := marking()
	p := played{c: scenes.CaseOf(m.lib, s), b: scenes.MarkBook(m.lib, s, m.beliefs)}
	a, err := scripted.Play(context.Background(), k, p.c, s.Role, faulttree.DefaultMeter(), p.b, seed)
	if err != nil {
		t.Fatal(s.ID, k, err)
	}
	var differs *practice.Difference
	if p.a, differs, err = p.c.Verify(a); differs != nil || err != nil {
		t.Fatal(s.ID, k, differs, err)
	}
	return p
}

func (p played) marks(t *testing.T, best mark.Order) mark.Marks {
	t.Helper()
	p.b.Best, p.b.Stored = order(best), nil
	out, err := mark.Of(context.Background(), p.c, p.a, p.b)
	if err != nil {
		t.Fatal(p.c.ID, err)
	}
	return out
}

// bound is what the unsafe acts of a go leave at most.
func (p played) bound(m mark.Marks) int {
	least := rubric.Whole
	for _, c := range m.Caps {
		least = min(least, c.Most)
	}
	return max(0, least-max(0, len(m.Caps)-1)*p.b.Rubric.Again)
}

// kept is the go after it was kept and read again, every reading worked out anew.
func (p played) kept(t *testing.T) played {
	t.Helper()
	text, err := json.Marshal(p.a)
	if err != nil {
		t.Fatal(err)
	}
	var a practice.Attempt
	must.Do(t, json.Unmarshal(text, &a))
	var differs *practice.Difference
	if p.a, differs, err = p.c.Verify(a); differs != nil || err != nil {
		t.Fatal(differs, err)
	}
	return p
}

var spoken = regexp.MustCompile(`\b[Aa]ct (\d+)(?:: | read | \(| had read )(-?[0-9.]+ (?:mV|V|kΩ|MΩ|Ω|A)|OL)`)

// follows checks that each display that a mark speaks of is what the model shows at
// that act.
func (p played) follows(t *testing.T, m mark.Marks) {
	t.Helper()
	texts := lists.Each(m.Caps, func(c mark.Cap) string { return c.Text })
	for _, part := range m.Parts {
		texts = append(texts, part.Reason)
	}
	for _, text := range texts {
		for _, says := range spoken.FindAllStringSubmatch(text, -1) {
			n, _ := strconv.Atoi(says[1])
			if n < 1 || n > len(p.a.Acts) || p.a.Acts[n-1].Shown != says[2] {
				t.Errorf("%s: %q, and act %d shows otherwise", p.c.ID, text, n)
			}
		}
	}
}

// tellMarks logs marks.
func tellMarks(t *testing.T, p played, k scripted.Kind, m mark.Marks) {
	t.Helper()
	t.Logf("%s, %s: %d, held %.2f, %d readings cost %d; concluded %v of %v", p.c.ID, k, m.Total, m.Held, len(p.a.Readings()), m.Cost, p.a.Conclusion.Faults, p.c.Truth())
	for _, c := range m.Caps {
		t.Logf("    %s: %s", c.Rule, c.Text)
	}
	for _, part := range m.Parts {
		if part.Points < part.Of {
			t.Logf("    %s %d of %d: %s", part.ID, part.Points, part.Of, part.Reason)
		}
	}
}

// On every scenario the careful learner is marked no lower than the greedy one, that
// one no lower than the one who reads anything, and that one above the careless one,
// unless so many unsafe acts leave nothing to either: who probes live contacts thirty
// times deserves no more than who goes in unread;
// and the best order has no unsafe act. Which of the readings chance takes first may
// be lucky, so that order is held by the mean of several seeds, each of which but the
// first is a variant of its own.
func TestTheMarksOfFourLearners(t *testing.T) {
	all, seeds := view.Scenarios(marking().lib), *learners
	if seeds == 0 {
		all, seeds = []*content.Scenario{marking().lib.Scenarios["buzz-after-the-rain"], marking().lib.Scenarios["dead-says-the-meter"], marking().lib.Scenarios["the-button-that-jumps-back"]}, 1
	}
	for _, s := range all {
		t.Run(s.ID, func(t *testing.T) {
			var mean [4]float64
			bounded := true
			for n := range seeds {
				seed := uint64(*from + n)
				marks, all := playFour(t, scenes.VariantOf(s, seed), seed)
				for k, m := range marks {
					mean[k] += m / float64(seeds)
				}
				bounded = bounded && all
			}
			t.Logf("%s: %d seeds from %d, the mean marks are %.1f", s.ID, seeds, *from, mean)
			if mean[0] < mean[1] || mean[1] < mean[2] || mean[2] < mean[3] || mean[2] == mean[3] && !bounded {
				t.Errorf("%s: the marks are %.1f; expected none higher than the one before, and the last one lower unless unsafe acts leave nothing", s.ID, mean)
			}
		})
	}
}

// playFour plays a scenario by each learner. Bounded is that his unsafe acts leave nothing
// to the one who reads anything.
func playFour(t *testing.T, s *content.Scenario, seed uint64) (marks [4]float64, bounded bool) {
	t.Helper()
	var best mark.Order
	for _, k := range scripted.Kinds() {
		p := playedBy(t, k, s, seed+1)
		if k == scripted.Careful {
			first := p.marks(t, mark.Order{Cost: 1, Held: 1})
			best = mark.Order{Cost: first.Cost, Held: first.Held}
		}
		m := p.marks(t, best)
		marks[k] = float64(m.Total)
		switch {
		case k == scripted.Random:
			bounded = p.bound(m) == 0
		case k == scripted.Careful && len(m.Caps) > 0:
			t.Errorf("%s, variant %d: the best order is called unsafe: %+v", s.ID, seed, m.Caps)
		}
		if seed == 0 {
			tellMarks(t, p, k, m)
			if again := p.kept(t).marks(t, best); !reflect.DeepEqual(again, m) {
				t.Errorf("%s, %s: marked twice:\n%+v\n%+v", s.ID, k, m, again)
			}
		}
		p.follows(t, m)
	}
	return marks, bounded
}

// right reports whether marks call what was concluded that which is to be done, sure or
// not.
func right(m mark.Marks) bool {
	return slices.ContainsFunc(m.Parts, func(p mark.Part) bool {
		return p.ID == rubric.Found && (strings.HasPrefix(p.Reason, "It is so,") || strings.HasPrefix(p.Reason, "It is so."))
	})
}

// A careful learner does not stop at the first fault that is held where dead tests would
// still tell: a bad contact under load looks at first like a wire that is too thin.
func TestTheCarefulLearnerLooksBehindWhatHeFinds(t *testing.T) {
	p := playedBy(t, scripted.Careful, scenes.VariantOf(marking().lib.Scenarios["lamps-like-candles"], 7), 1)
	if m := p.marks(t, mark.Order{Cost: 1, Held: 1}); !right(m) {
		t.Errorf("concluded %v of %v", p.a.Conclusion.Faults, p.c.Truth())
	}
}

// What loads a vehicle happens to have tells nothing of an open neutral behind a second bond:
// the careful learner finds both in variants that differ in their loads, by like readings.
func TestLoadsLeadTheCarefulLearnerNowhere(t *testing.T) {
	most, fewest := 0, math.MaxInt
	for _, seed := range []uint64{13, 17, 35} {
		p := playedBy(t, scripted.Careful, scenes.VariantOf(marking().lib.Scenarios["one-end-of-the-coach-sulks"], seed), 1)
		if m := p.marks(t, mark.Order{Cost: 1, Held: 1}); !right(m) {
			t.Errorf("variant %d: concluded %v of %v", seed, p.a.Conclusion.Faults, p.c.Truth())
		}
		most, fewest = max(most, len(p.a.Conclusion.Deciding)), min(fewest, len(p.a.Conclusion.Deciding))
	}
	if most-fewest > 5 {
		t.Errorf("it took from %d to %d readings", fewest, most)
	}
}

// A go in the best order has no unsafe act and ends with what is to be done, whatever the
// numbers of the vehicle are.
func TestTheBestOrderIsSafe(t *testing.T) {
	all := view.Scenarios(marking().lib)
	if *goes == 0 {
		all = []*content.Scenario{marking().lib.Scenarios[sampled]}
	}
	for i := range max(1, *goes) {
		s := scenes.VariantOf(all[i%len(all)], uint64(1+i/len(all)))
		p := playedBy(t, scripted.Careful, s, 1)
		m := p.marks(t, mark.Order{Cost: 1, Held: 1})
		t.Logf("%s, variant %d: held %.2f, concluded %v of %v", s.ID, 1+i/len(all), m.Held, p.a.Conclusion.Faults, p.c.Truth())
		if !right(m) {
			t.Errorf("%s, variant %d: that is not what is to be done", s.ID, 1+i/len(all))
		}
		for _, c := range m.Caps {
			t.Errorf("%s, variant %d: %s: %s", s.ID, 1+i/len(all), c.Rule, c.Text)
		}
	}
}

// A hint costs what the rubric says, of the points for readings and exposure and never
// more than these; who was led is told so, and who read the same alone is not.
func TestAHintCosts(t *testing.T) {
	m := marking()
	alone := playedBy(t, scripted.Careful, m.lib.Scenarios["buzz-after-the-rain"], 1)
	best := mark.Order{Cost: 4, Held: 0.9}
	part := func(hints int) mark.Part {
		led := alone
		led.a.Hints = make([]practice.Hint, hints)
		parts := led.marks(t, best).Parts
		return parts[slices.IndexFunc(parts, func(p mark.Part) bool { return p.ID == rubric.Economy })]
	}
	whole := part(0)
	if whole.Points < 5 || strings.Contains(whole.Reason, "hint") {
		t.Fatalf("without a hint: %d points, %q", whole.Points, whole.Reason)
	}
	for hints, says := range map[int]string{1: "asked for: 1; each takes 2.", 2: "asked for: 2; each takes 2.", 9: "asked for: 9; each takes 2."} {
		if got := part(hints); got.Points != max(0, whole.Points-2*hints) || !strings.HasSuffix(got.Reason, says) {
			t.Errorf("%d hints: %d points of %d, %q", hints, got.Points, whole.Points, got.Reason)
		}
	}
}

// What shows the complaint is told beside what would have been read with nothing wrong,
// as a vehicle without the faults, read in the same way, does show it: 12.65 V at a battery
// looks good, and is not while the converter runs.
func TestTheComplaintStandsBesideASoundVehicle(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["lamps-like-candles"]
	p := played{c: scenes.CaseOf(m.lib, s), b: scenes.MarkBook(m.lib, s, m.beliefs)}
	l, sound := must.Have(p.c.Begin(faulttree.DefaultMeter()))(t), p.c
	sound.Faults = nil
	other := must.Have(sound.Begin(faulttree.DefaultMeter()))(t)
	dc := meter.Setting{Function: meter.VoltsDC}
	a := practice.Attempt{Case: s.ID, Role: s.Role, Meter: faulttree.DefaultMeter(), Rules: practice.Rules}
	read := practice.Act{Kind: practice.Read, Red: "battery.pos", Black: "battery.neg"}
	for _, act := range []practice.Act{{Kind: practice.Prove}, read} {
		l.Set(dc)
		a = a.With(must.Have(l.Do(act))(t)...)
	}
	other.Set(dc)
	would := must.Have(other.Do(read))(t)[0].Shown
	p.a = a.With()
	p.a.Conclusion = &practice.Conclusion{Faults: []string{practice.NoFault}}
	got := p.marks(t, mark.Order{Cost: 3, Held: 0.9}).Parts[0].Reason
	if want := "Act 2 showed it: " + a.Acts[1].Shown + "; with nothing wrong it would have read " + would + "."; got != want || would == a.Acts[1].Shown {
		t.Errorf("%q; want %q", got, want)
	}
}

// Nothing is cleared by a reading: who says of a sound coach, after one look at its body,
// that nothing is wrong gets next to nothing for having nothing to place, do and repair.
func TestAllClearByOneReadingEarnsNothing(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["spark-from-the-fleece"]
	p := played{c: scenes.CaseOf(m.lib, s), b: scenes.MarkBook(m.lib, s, m.beliefs)}
	player := must.Have(scripted.Begin(p.c, s.Role, faulttree.DefaultMeter()))(t)
	must.Have(player.Prove())(t)
	must.Have(player.Read("body", "earth"))(t)
	must.Do(t, player.Conclude(practice.Conclusion{Faults: []string{practice.NoFault}, Sure: practice.Sure}))
	p.a = player.Attempt
	got := p.marks(t, mark.Order{Cost: 40, Held: 0.77})
	for _, x := range got.Parts {
		if slices.Contains([]string{rubric.Where, rubric.WhatToDo, rubric.WhoDoes, rubric.Verified}, x.ID) && (2*x.Points > x.Of || !strings.Contains(x.Reason, "as far as the readings hold")) {
			t.Errorf("%s: %d of %d: %q", x.ID, x.Points, x.Of, x.Reason)
		}
	}
	if worst := p.b.Rubric.Words[len(p.b.Rubric.Words)-1].Text; !got.Guess || got.Word != worst {
		t.Errorf("%d, %q; want %q", got.Total, got.Word, worst)
	}
}

// Whoever finds no fault at a pedestal whose ground carries the hot, or with a meter that
// reads zero on everything, is told which danger he has passed by, and not only that it is
// something else; and no more is left of the marks than of any other act that kills. Not so
// where he names it as still open, nor where another is named than is there.
func TestAFalseAllClearIsNamed(t *testing.T) {
	m := marking()
	for id, want := range map[string]string{"new-post-same-price": "“A bootleg ground with hot and neutral swapped” (supply)", "dead-says-the-meter": "“Battery, lead or fuse of the meter has failed” (the meter)", "only-while-the-water-heats": "“The grounding conductor is open” (supply)"} {
		s := m.lib.Scenarios[id]
		p := played{c: scenes.CaseOf(m.lib, s), b: scenes.MarkBook(m.lib, s, m.beliefs)}
		truth := p.c.Truth()
		there := truth[len(truth)-1] // of a lost ground the leak that comes along with it
		for open, clears := range map[string]bool{"": true, there: false, "neighbour-fault-shared-ground": true} {
			player := must.Have(scripted.Begin(p.c, s.Role, faulttree.DefaultMeter()))(t)
			must.Have(player.Prove())(t)
			done := practice.Conclusion{Faults: []string{practice.NoFault}}
			if open != "" {
				done.Open = []faulttree.FaultAt{{Fault: open}}
			}
			must.Do(t, player.Conclude(done))
			p.a = player.Attempt
			m := p.marks(t, mark.Order{Cost: 5, Held: 0.9})
			found := m.Parts[1]
			i := slices.IndexFunc(m.Caps, func(c mark.Cap) bool { return c.Rule == rubric.ClearedDanger })
			if says := strings.Contains(found.Reason, "one that can kill: "+want); says != clears || found.Points != 0 || i >= 0 != clears {
				t.Errorf("%s, %q open: %d, %q, %+v", id, open, found.Points, found.Reason, m.Caps)
			}
			if danger := scenes.MarkSignal(m) == faulttree.Danger; danger != clears {
				t.Errorf("%s, %q open: above it stands %v", id, open, scenes.MarkSignal(m))
			}
			if clears && (m.Total > 10 || m.Caps[i].Act != len(p.a.Acts) || !strings.Contains(m.Caps[i].Text, want) || m.Caps[i].Card == "") {
				t.Errorf("%s, %q open: %d, %+v", id, open, m.Total, m.Caps)
			}
		}
	}
}

// Whoever finds the lost ground and the leak gets no less than he who took the same readings
// and found the lost ground alone.
func TestBothFaultsAreWorthNoLessThanOne(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["only-while-the-water-heats"]
	total := func(faults ...string) (int, string) {
		p := played{c: scenes.CaseOf(m.lib, s), b: scenes.MarkBook(m.lib, s, m.beliefs)}
		player := must.Have(scripted.Begin(p.c, s.Role, faulttree.DefaultMeter()))(t)
		must.Have(player.Prove())(t)
		must.Have(player.Read("body", "earth"))(t)
		for _, name := range []string{"pedestal", "plug"} {
			must.Have(player.Do(practice.Act{Kind: practice.Throw, Name: name}))(t)
		}
		player.Set(meter.Ohms)
		for _, red := range []string{"plug.g", "plug.l1", "plug.n"} {
			must.Have(player.Read(red, "body"))(t)
		}
		player.Set(meter.VoltsAC)
		must.Have(player.Do(practice.Act{Kind: practice.Throw, Name: "pedestal", On: true}))(t)
		must.Have(player.Read("pedestal.g", "earth"))(t)
		must.Do(t, player.Conclude(practice.Conclusion{Faults: faults, Place: faulttree.Supply, Sure: practice.Sure}))
		p.a = player.Attempt
		got := p.marks(t, mark.Order{Cost: 6, Held: 0.97})
		return got.Total, got.Parts[1].Reason
	}
	one, why := total("open-ground")
	both, whyBoth := total("open-ground", "leakage-to-body")
	if both < one || one == 0 {
		t.Errorf("both get %d, one alone %d:\n%s\n%s", both, one, whyBoth, why)
	}
}
