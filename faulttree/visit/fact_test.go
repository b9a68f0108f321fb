package visit

import (
	"testing"

	"faultwright/faulttree"
)

// A fact is on record as what it is, is there again when the record is read,
// and is changed like any answer.
func TestAFactIsOnRecord(t *testing.T) {
	f := tingle()
	f.Facts = []faulttree.Fact{{ID: "service", Title: "Which plug?", Choices: []faulttree.Choice{{ID: "30a"}, {ID: "50a"}}}}
	var needed *faulttree.Step
	for _, s := range f.Trees["tingle"].Steps {
		if s.Kind == faulttree.KindMeasure && needed == nil {
			needed = s
		}
	}
	needed.Measure[0].Quantity.Needs = faulttree.Needs{"service": {"30a", "50a"}}
	h := header()
	h.Start = needed.Ref()
	r, log := begin(t, h, f)
	if r.Walk().At() != faulttree.FactRef("service") {
		t.Fatalf("the visit asks %v", r.Walk().At())
	}
	r, err := r.Answer(minute(1), faulttree.Answer{Choice: "30a"})
	if err != nil {
		t.Fatal(err)
	}
	if r, err = r.Answer(minute(2), reply(t, r.Walk(), "3")); err != nil {
		t.Fatal(err)
	}
	v := read(t, log.text)
	if got := v.Records[0].Replies[0]; got.Step != faulttree.FactRef("service") || got.Choice != "30a" {
		t.Errorf("on record stands %+v", got)
	}
	p := v.Replay(f)[0]
	if p.Walk.Fact("service") != "30a" || len(p.Lapsed()) != 0 || p.Walk.At() != r.Walk().At() {
		t.Errorf("read again, the walk is at %v and knows %q; %v", p.Walk.At(), p.Walk.Fact("service"), p.Lapsed())
	}
	r, dropped, err := r.Change(minute(3), 0, faulttree.Answer{Choice: "50a"})
	if err != nil || len(dropped) != 0 || r.Walk().Fact("service") != "50a" || len(r.Walk().Trail()) != 2 {
		t.Errorf("changed: %v, %v, %q, %d answers", err, dropped, r.Walk().Fact("service"), len(r.Walk().Trail()))
	}
	if r, err = r.Back(minute(4)); err == nil {
		r, err = r.Back(minute(5))
	}
	if err != nil || r.Walk().At() != faulttree.FactRef("service") {
		t.Errorf("taken back, the visit asks %v, %v", r.Walk().At(), err)
	}
}

// A record whose first line is lost begins at the first step of a tree, not at
// a fact.
func TestALostFirstLineDoesNotBeginAtAFact(t *testing.T) {
	start, ok := firstStep([]Record{
		{Kind: Answered, Replies: []Reply{{Step: faulttree.FactRef("service"), Choice: "30a"}}},
		{Kind: Answered, Replies: []Reply{{Step: faulttree.Ref{Tree: "tingle", Step: "body"}}}},
	})
	if !ok || start.Step != "body" {
		t.Errorf("the visit begins at %v", start)
	}
}

// What was given before it is asked is known, until the reader takes the answer back.
func TestGivenFactsAreKnown(t *testing.T) {
	f := tingle()
	f.Facts = []faulttree.Fact{{ID: "service", Title: "Which plug?", Choices: []faulttree.Choice{{ID: "30a"}, {ID: "50a"}}}}
	last := f.Trees["tingle"].Steps[0]
	for _, s := range f.Trees["tingle"].Steps {
		if s.Kind == faulttree.KindMeasure {
			last = s
		}
	}
	last.Measure[0].Quantity.Needs = faulttree.Needs{"service": {"30a", "50a"}}
	h := header()
	h.Start, h.Vehicle = last.Ref(), "2026-05-03-willw"
	r, log := begin(t, h, f)
	r, _, err := r.Supply(minute(1), faulttree.Supplied{Facts: map[string]string{"service": "30a"}, Once: true})
	if err != nil || r.Known()["service"] != "30a" {
		t.Fatalf("%v, %v", err, r.Known())
	}
	if v := read(t, log.text); v.Header.Vehicle != h.Vehicle {
		t.Errorf("the visit is of %q", v.Header.Vehicle)
	}
	if r, err = r.Back(minute(2)); err != nil || r.Known()["service"] != "" {
		t.Errorf("taken back, it is known as %v, %v", r.Known(), err)
	}
}
