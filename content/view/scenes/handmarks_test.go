package scenes_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
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

// byHand is an attempt that was written by hand, with the marks that were worked out
// by hand.
type byHand struct {
	name, scenario string
	acts, marks    [][]string
}

func readByHand(t *testing.T) []byHand {
	t.Helper()
	text := must.Have(os.ReadFile("testdata/marks.txt"))(t)
	var out []byHand
	var at *byHand
	marks := false
	for line := range strings.Lines(string(text)) {
		words := strings.Fields(line)
		switch {
		case len(words) == 0 || words[0] == "#":
		case words[0] == "==":
			out = append(out, byHand{name: strings.Join(words[1:], " ")})
			at, marks = &out[len(out)-1], false
		case words[0] == "scenario":
			at.scenario = words[1]
		case words[0] == "marks":
			marks = true
		case marks:
			at.marks = append(at.marks, words)
		default:
			at.acts = append(at.acts, words)
		}
	}
	return out
}

// play does the acts of an attempt.
func (h byHand) play(p *scripted.Player) error {
	functions := map[string]meter.Function{"volts": meter.VoltsAC, "dc": meter.VoltsDC, "ohms": meter.Ohms, "lowz": meter.LowZ}
	kinds := map[string]practice.Kind{"in": practice.GoIn, "out": practice.GoOut, "slip": practice.TakeBack, "throw": practice.Throw, "load": practice.Load}
	jack := meter.VoltJack
	for _, w := range h.acts {
		var err error
		switch w[0] {
		case "prove":
			_, err = p.Prove()
		case "ampere":
			jack = meter.AmpereJack
		case "read":
			p.Set(functions[w[1]])
			p.Dial(func(s *meter.Setting) { s.Jack = jack })
			_, err = p.Read(w[2], w[3])
		case "conclude":
			c := practice.Conclusion{Faults: []string{w[1]}}
			for _, said := range w[2:] {
				key, value, _ := strings.Cut(said, "=")
				switch key {
				case "place":
					c.Place = faulttree.Place(value)
				case "do":
					c.Do = value
				case "who":
					c.RepairBy = value
				}
			}
			err = p.Conclude(c)
		default:
			a := practice.Act{Kind: kinds[w[0]]}
			if len(w) > 2 {
				a.Name, a.On = w[1], w[2] == "on"
			}
			_, err = p.Do(a)
		}
		if err != nil {
			return fmt.Errorf("%v: %w", w, err)
		}
	}
	return nil
}

// within reports whether a figure is the one that is expected, or between two.
func within(got int, want string) bool {
	from, to, span := strings.Cut(want, "..")
	low, _ := strconv.Atoi(from)
	high := low
	if span {
		high, _ = strconv.Atoi(to)
	}
	return low <= got && got <= high
}

// The marks of ten attempts are those that were worked out by hand beside them.
func TestMarksWorkedOutByHand(t *testing.T) {
	all := readByHand(t)
	if len(all) != 10 {
		t.Fatalf("%d attempts", len(all))
	}
	m := marking()
	for _, h := range all {
		t.Run(h.name, func(t *testing.T) {
			s := m.lib.Scenarios[h.scenario]
			c, b := scenes.CaseOf(m.lib, s), scenes.MarkBook(m.lib, s, m.beliefs)
			b.Best, b.Stored = order(mark.Order{Cost: 10}), nil
			p := must.Have(scripted.Begin(c, faulttree.Qualified, faulttree.DefaultMeter()))(t)
			must.Do(t, h.play(p))
			a, differs, err := c.Verify(p.Attempt)
			if differs != nil || err != nil {
				t.Fatal(differs, err)
			}
			got := must.Have(mark.Of(context.Background(), c, a, b))(t)
			h.compare(t, got)
		})
	}
}

func (h byHand) compare(t *testing.T, got mark.Marks) {
	t.Helper()
	points := map[string]int{"total": got.Total}
	reasons := map[string]string{}
	for _, p := range got.Parts {
		points[p.ID], reasons[p.ID] = p.Points, p.Reason
	}
	var caps, want []string
	for _, c := range got.Caps {
		caps = append(caps, fmt.Sprintf("%s %d", c.Rule, practice.Number(c.Act)))
	}
	guess := false
	for _, w := range h.marks {
		switch w[0] {
		case "cap":
			want = append(want, w[1]+" "+w[2])
		case "guess":
			guess = true
		default:
			if x, ok := points[w[0]]; !ok || !within(x, w[1]) {
				t.Errorf("%s got %d; by hand %s: %s", w[0], x, w[1], reasons[w[0]])
			}
		}
	}
	if strings.Join(caps, ", ") != strings.Join(want, ", ") {
		t.Errorf("unsafe acts %v; by hand %v: %+v", caps, want, got.Caps)
	}
	if got.Guess != guess {
		t.Errorf("a guess: %v, held %.2f", got.Guess, got.Held)
	}
}

// Where the best order ends with less than the rubric asks, the points follow what is
// held of that: a little less held is a little less given, and nothing for a bare guess.
func TestEvidenceIsNoLottery(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["lamps-like-candles"]
	c := scenes.CaseOf(m.lib, s)
	marks := func(best float64, readings ...string) (mark.Marks, mark.Part) {
		b := scenes.MarkBook(m.lib, s, m.beliefs)
		b.Best, b.Stored = order(mark.Order{Cost: 10, Held: best}), nil
		p := must.Have(scripted.Begin(c, faulttree.Qualified, faulttree.DefaultMeter()))(t)
		must.Have(p.Prove())(t)
		for _, points := range readings {
			red, black, _ := strings.Cut(points, " ")
			must.Have(p.Read(red, black))(t)
		}
		must.Do(t, p.Conclude(practice.Conclusion{Faults: []string{"dc-high-resistance"}, Place: "dc"}))
		got := must.Have(mark.Of(context.Background(), c, p.Attempt, b))(t)
		return got, got.Parts[slices.IndexFunc(got.Parts, func(p mark.Part) bool { return p.ID == rubric.Found })]
	}
	read := []string{"battery.pos battery.neg", "dc.pos dc.neg"}
	whole, found := marks(0.01, read...)
	if whole.Guess || found.Points != found.Of || whole.Held >= 0.9 || whole.Held < 0.1 {
		t.Fatalf("held %.3f of 0.01, found %d: %s", whole.Held, found.Points, found.Reason)
	}
	if !strings.Contains(found.Reason, "that is not sure") || strings.Contains(found.Reason, "hold it:") {
		t.Errorf("held %.2f, and it says: %s", whole.Held, found.Reason)
	}
	last := whole.Total
	for more := 0.01; whole.Held+more < 0.9; more += 0.02 {
		got, found := marks(whole.Held+more, read...)
		if !got.Guess || got.Total > last || last-got.Total > 12 || !strings.Contains(found.Reason, "it was a guess") {
			t.Errorf("held %.3f of %.3f: %d after %d: %s", got.Held, got.Asked, got.Total, last, found.Reason)
		}
		last = got.Total
	}
	if bare, found := marks(0.5); !bare.Guess || found.Points != 0 || bare.Bound != m.lib.Rubric.Guess {
		t.Errorf("a bare guess is given %d, at most %d: %s", found.Points, bare.Bound, found.Reason)
	}
}
