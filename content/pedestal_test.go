package content_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/content"
	"faultwright/content/check"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
	"faultwright/faulttree/visit"
)

// pedestal is the handbook of one chart, that of a receptacle.
func pedestal(t *testing.T) *content.Library {
	t.Helper()
	lib := must.Have(load.Dir(context.Background(), "../testdata/pedestal"))(t)
	for _, d := range check.Library(context.Background(), lib) {
		if d.Severity == source.Error {
			t.Error(d)
		}
	}
	return lib
}

func TestThePedestalChartIsWalked(t *testing.T) {
	lib := pedestal(t)
	sound := map[string]string{
		"pedestal.l1-earth": "120.0", "pedestal.g-earth": "0.4", "pedestal.l1-n": "120.1", "pedestal.l2-n": "120.3",
		"pedestal.l1-l2": "240.2", "pedestal.n-g": "0.2", "pedestal.l1-g": "120.0",
	}
	for _, c := range []struct {
		name    string
		service string
		shows   map[string]string
		most    int // readings
		end     string
	}{
		{"sound", "50a", nil, 7, "shown"},
		{"sound, 30 A: nobody is asked for a second leg", "30a", nil, 5, "shown"},
		{"a live ground", "50a", map[string]string{"pedestal.g-earth": "58.0"}, 1, "live-ground"},
		{"a ground at the limit", "30a", map[string]string{"pedestal.g-earth": "29.8"}, 1, "live-ground"},
		// 240 V over 12 Ω and 24 Ω in a row: open_neutral of testdata/reference/diagnosis.yaml
		{"an open neutral", "50a", map[string]string{"pedestal.l1-n": "80.0", "pedestal.l2-n": "160.0"}, 5, "lost-neutral"},
		{"both hots on one leg", "50a", map[string]string{"pedestal.l1-l2": "0.3"}, 4, "one-leg"},
		{"a leg lost", "50a", map[string]string{"pedestal.l2-n": "2.0", "pedestal.l1-l2": "121.0"}, 4, "leg-lost"},
		{"nothing", "50a", map[string]string{"pedestal.l1-n": "0.1", "pedestal.l2-n": "0.1", "pedestal.l1-l2": "0.1", "pedestal.l1-earth": "0.1"}, 5, "nothing"},
	} {
		w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "pedestal"}, faulttree.Owner, faulttree.DefaultMeter())
		if err != nil {
			t.Fatal(err)
		}
		var asked []string
		for !w.Ended() {
			a := faulttree.Answer{Choice: c.service}
			if s := w.Step(); s.Kind == faulttree.KindMeasure {
				q := s.Measure[0].Quantity
				text, ok := c.shows[q.ID]
				if !ok {
					text = sound[q.ID]
				}
				r := must.Have(faulttree.ParseReading(text, q))(t)
				asked, a = append(asked, q.ID), faulttree.Answer{Readings: []faulttree.Reading{r}}
			}
			if w, err = w.Answer(a); err != nil {
				t.Fatal(err)
			}
		}
		if w.At().Step != c.end || len(asked) > c.most || asked[0] != "pedestal.g-earth" {
			t.Errorf("%s: ends at %s after %d readings, %v; want %s after at most %d, the pinned first", c.name, w.At().Step, len(asked), asked, c.end, c.most)
		}
		if c.service == "30a" && slices.ContainsFunc(asked, func(id string) bool { return strings.Contains(id, "l2") }) {
			t.Errorf("%s: asked %v", c.name, asked)
		}
	}
}

// Under a name the tree is walked with the facts of the name: nobody is asked
// them, and what they rule out is not read. A link, a rig and a visit kept before
// the tree had this form may name it so, steps by their earlier ids among them.
func TestATreeIsWalkedUnderItsNames(t *testing.T) {
	lib := pedestal(t)
	for name, want := range map[string]string{"pedestal-30a": "30a", "pedestal-50a": "50a"} {
		w := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: name}, faulttree.Owner, faulttree.DefaultMeter()))(t)
		if w.Fact("service") != want || w.Facts()["service"] != want || w.Start() != (faulttree.Ref{Tree: name, Step: "readings"}) {
			t.Errorf("%s begins at %s and knows %v", name, w.Start(), w.Facts())
		}
		if at := w.At(); at != (faulttree.Ref{Tree: "pedestal", Step: "readings/g-earth"}) {
			t.Errorf("%s asks %s first", name, at)
		}
		for _, v := range w.Asked(faulttree.Ref{Tree: name, Step: "readings"}).Measure {
			if want == "30a" && strings.Contains(v.Quantity.ID, "l2") {
				t.Errorf("%s asks %s", name, v.Quantity.ID)
			}
		}
		if _, _, err := w.Supply(faulttree.Supplied{Facts: map[string]string{"service": "15a"}}); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("another plug is given to %s: %v", name, err)
		}
	}
	if at := lib.Forest.Canonical(faulttree.Ref{Tree: "pedestal-50a", Step: "g-earth"}); at != (faulttree.Ref{Tree: "pedestal", Step: "readings/g-earth"}) {
		t.Errorf("the earlier id leads to %s", at)
	}
	live := must.Have(faulttree.ParseReading("58", lib.Forest.Quantities["pedestal.g-earth"]))(t)
	earlier := faulttree.Ref{Tree: "pedestal-30a", Step: "g-earth"}
	reply := visit.NewReply(lib.Forest.Step(earlier), faulttree.Answer{Readings: []faulttree.Reading{live}})
	reply.Step = earlier
	v := visit.Visit{
		Header:  visit.Header{Start: faulttree.Ref{Tree: "pedestal-30a", Step: "first"}, Meter: faulttree.DefaultMeter(), Started: time.Unix(0, 0)},
		Records: []visit.Record{{Seq: 1, Kind: visit.Answered, Replies: []visit.Reply{reply}}},
	}
	played := v.Replay(lib.Forest)[0]
	if found, ended := played.Walk.Finding(); !ended || found.Ref.Step != "live-ground" || len(played.Lapsed()) > 0 || played.Walk.Start().Tree != "pedestal-30a" {
		t.Errorf("the visit ends at %s, begun as %s; %v", found.Ref, played.Walk.Start(), played.Lapsed())
	}
}
