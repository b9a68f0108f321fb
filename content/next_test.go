package content_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

// reasoner is suspects over a few vehicles of the shipped handbook.
func reasoner(t *testing.T, facts map[string]string) *suspect.Reasoner {
	t.Helper()
	lib := shipped()
	p := must.Have(drawn.New(context.Background(), scenes.DrawnFrom(lib), drawn.Options{Facts: facts, Seed: 5, Cases: 1}))(t)
	assumed := suspect.CommonPractice()
	assumed.More = 0
	return suspect.New(p, faulttree.DefaultMeter(), scenes.Described(lib)).Assuming(assumed)
}

// What is proposed in the shipped handbook keeps to what a reader must never be
// asked, checked by the ids as a person reads them and not by the rules of the code
// under test.
func TestNothingForbiddenIsProposed(t *testing.T) {
	lib := shipped()
	facts := map[string]string{"service": "50a", "source": "shore", "adapter": "none"}
	r := reasoner(t, facts)
	const dead, spike, cover = "plug.l1-n@unplugged=0.0 plug.l1-g@unplugged=0.0", "pedestal.l1-earth=119", "pedestal.cover-earth=0.1 pedestal.g-earth=0.2"
	proposed := map[string]int{}
	for _, readings := range []string{"", "body-earth=58", dead, "pedestal.l1-n=59 pedestal.l2-n=177", cover + " " + spike, "plug.l1-n@unplugged=118"} {
		evidence, read := readAll(t, readings)
		b := must.Have(r.Belief(context.Background(), evidence))(t)
		neutral := 0.0
		for i, c := range b.Cases() {
			if slices.ContainsFunc(c.Faults, func(f suspect.PlacedFault) bool { return f.Fault == "open-neutral" }) {
				neutral += b.Shares()[i]
			}
		}
		stopped := strings.Contains(readings, "body-earth=58") || strings.Contains(readings, "=118")
		for _, role := range []faulttree.Role{faulttree.Owner, faulttree.Qualified} {
			if role == faulttree.Qualified && !stopped {
				continue // to save time: it is the strictest
			}
			next := must.Have(b.Next(context.Background(), suspect.NewRules(lib.Forest, role), suspect.Reader{Known: func(f string) string { return facts[f] }, Tree: "half-dead"}))(t)
			for _, n := range next {
				proposed[n.ID()]++
				if wrong := forbidden(n, role, read, stopped, neutral); wrong != "" {
					t.Errorf("after %q %s is proposed to the %s: %s", readings, n.ID(), role, wrong)
				}
			}
		}
	}
	if len(proposed) < 20 {
		t.Errorf("only %d things are proposed: %v", len(proposed), proposed)
	}
}

// forbidden says what forbids a proposal, "" if nothing does.
func forbidden(n suspect.Next, role faulttree.Role, read map[string]bool, stopped bool, neutral float64) string {
	if n.Quantity == nil {
		if n.Intervention != nil && stopped && n.Intervention.Exposure.Live() {
			return "nothing is energised after a STOP"
		}
		return ""
	}
	id := n.ID()
	live := n.Quantity.Exposure.Live()
	switch {
	case read[id]:
		return "it was read"
	case strings.Contains(id, "meter."):
		return "it tells nothing of the vehicle"
	case strings.Contains(id, "generator") || strings.Contains(id, "inverter") || strings.Contains(id, "adapter"):
		return "there is none"
	case strings.Contains(id, "amp:") || strings.Contains(id, "@lowz"):
		return "there is no such tool"
	case stopped && live && role == faulttree.Owner:
		return "nothing live after a STOP"
	case stopped && (strings.HasPrefix(id, "body-") || strings.HasPrefix(id, "outlet.") || strings.HasPrefix(id, "panel.")):
		return "nothing live on the vehicle after a STOP"
	case neutral >= 0.05 && (strings.Contains(id, "@loaded") && !strings.HasPrefix(id, "battery") || live && (strings.HasPrefix(id, "outlet.") || strings.HasPrefix(id, "panel."))):
		return fmt.Sprintf("the neutral is open with %.2f", neutral)
	case strings.HasPrefix(id, "ohm:plug.") && strings.HasSuffix(id, "@unplugged") && !(read["plug.l1-n@unplugged"] && read["plug.l1-g@unplugged"]):
		return "the pins were not read in volts"
	case strings.HasPrefix(id, "ohm:plug.") && read["plug.l1-n@unplugged=118"]:
		return "the pins are live"
	case strings.HasPrefix(id, "body-earth") && !strings.Contains(id, "@unplugged") && !(read["pedestal.l1-earth"] && read["pedestal.cover-earth"]):
		return "the spike was not tried, or the pedestal's metal not read"
	case strings.HasPrefix(id, "pedestal.l1-n") && !read["pedestal.cover-earth"]:
		return "the pedestal's metal was not read"
	}
	return ""
}

// readAll is readings as evidence, and what was read: ids, and ids with figures.
func readAll(t *testing.T, readings string) (out []suspect.Evidence, read map[string]bool) {
	t.Helper()
	read = map[string]bool{}
	for _, text := range strings.Fields(readings) {
		id, figure, _ := strings.Cut(text, "=")
		q, ok := shipped().Forest.Quantities[id]
		r, err := faulttree.ParseReading(figure, q)
		if err != nil || !ok {
			t.Fatalf("%s: %v", text, err)
		}
		out = append(out, suspect.Evidence{Quantity: q, Reading: r})
		read[id], read[text] = true, true
	}
	return out, read
}
