package sheet

import (
	"strings"
	"testing"
	"time"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
)

type forgetful struct{}

func (forgetful) Append([]byte) error { return nil }

func record(t *testing.T, lib *content.Library) visit.Recorder {
	t.Helper()
	v := visit.Visit{Header: visit.Header{ID: "2026-05-03-k7fqm", Start: faulttree.Ref{Tree: "tingle", Step: "read"}, Meter: faulttree.DefaultMeter(),
		Details: visit.Details{Site: "Quillback Hollow", Vehicle: "caravan", Note: "wet"}, Started: began}}
	return must.Have(visit.Resume(forgetful{}, v, lib.Forest))(t)
}

func read(t *testing.T, lib *content.Library, typed string) faulttree.Answer {
	t.Helper()
	r := must.Have(faulttree.ParseReading(typed, lib.Forest.Quantities["body-earth"]))(t)
	return faulttree.Answer{Readings: []faulttree.Reading{r}}
}

func TestFromVisitKeepsWhatWasChanged(t *testing.T) {
	lib := small(t)
	r := record(t, lib)
	must := func(next visit.Recorder, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		r = next
	}
	must(r.Answer(began.Add(time.Minute), read(t, lib, "12.0")))
	must(r.Back(began.Add(2 * time.Minute)))
	must(r.Answer(began.Add(3*time.Minute), read(t, lib, "58.0")))
	in := FromVisit(r.Visit(), lib, printed)
	for form, page := range both(in, lib) {
		for _, want := range []string{"Quillback Hollow", "caravan", "wet", "58.0 V", "DANGER", "Body to the earth spike: 12.0 V", "Taken back.", "3 May 2026, 15:02"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %q", form, want)
			}
		}
	}
}

// A visit whose tree is gone from the handbook still gives a sheet that holds
// every answer.
func TestFromVisitWithoutItsTree(t *testing.T) {
	lib := small(t)
	r := record(t, lib)
	next := must.Have(r.Answer(began, read(t, lib, "58.0")))(t)
	other := load.Shipped()
	for form, page := range both(FromVisit(next.Visit(), other, printed), other) {
		for _, want := range []string{"58.0 V", "cannot walk this visit", recordsLine} {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %q", form, want)
			}
		}
	}
}

func TestFromVisitKeepsReadingsNoStepAskedFor(t *testing.T) {
	lib := small(t)
	r := record(t, lib)
	one, two := read(t, lib, "58.0").Readings[0], read(t, lib, "57.1").Readings[0]
	next, _, err := r.Supply(began, faulttree.Supplied{Readings: map[string][]faulttree.Reading{"body-earth": {one, two}}})
	if err != nil {
		t.Fatal(err)
	}
	in := FromVisit(next.Visit(), lib, printed)
	if len(in.Unasked) != 1 || in.Unasked[0].Reading.Text != "57.1" {
		t.Fatalf("unasked: %v", in.Unasked)
	}
	for form, page := range both(in, lib) {
		if !strings.Contains(page, unaskedHeading) || !strings.Contains(page, "57.1 V") {
			t.Errorf("%s lacks the reading no step asked for", form)
		}
	}
}

func TestFromVisitAfterARepair(t *testing.T) {
	lib := small(t)
	r := record(t, lib)
	next, err := r.Answer(began, read(t, lib, "58.0"))
	if err == nil {
		next, err = next.Retest(began.Add(time.Hour), faulttree.Ref{Tree: "tingle", Step: "read"})
	}
	if err == nil {
		next, err = next.Answer(began.Add(2*time.Hour), read(t, lib, "0.4"))
	}
	if err != nil {
		t.Fatal(err)
	}
	in := FromVisit(next.Visit(), lib, printed)
	if !in.Again || len(in.Before) != 1 {
		t.Fatalf("%d rounds before, again %v", len(in.Before), in.Again)
	}
	for form, page := range both(in, lib) {
		for _, want := range []string{"Before the repair", "58.0 V", "0.4 V", "Test after repair"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %q", form, want)
			}
		}
	}
}

// A damaged line of the record is told on the sheet, not passed over.
func TestFromVisitTellsOfDamage(t *testing.T) {
	lib := small(t)
	v := record(t, lib).Visit()
	v.Damage = []visit.Damage{{Line: 4, Message: "this line was left out: its checksum does not agree with its text"}}
	for form, page := range both(FromVisit(v, lib, printed), lib) {
		if !strings.Contains(page, "Part of the record cannot be read") || !strings.Contains(page, "line 4 of the record") {
			t.Errorf("%s is silent about a damaged record", form)
		}
	}
}

// What a sheet of readings gave and no step had asked for yet is handed on
// later. It was read once.
func TestWhatIsHandedOnIsNotReadTwice(t *testing.T) {
	lib := small(t)
	r := record(t, lib)
	given := faulttree.Supplied{Once: true, Readings: map[string][]faulttree.Reading{"meter.known-source": read(t, lib, "119.8").Readings}}
	for range 2 {
		var err error
		if r, _, err = r.Supply(began, given); err != nil {
			t.Fatal(err)
		}
	}
	if in := FromVisit(r.Visit(), lib, printed); len(in.Unasked) != 1 {
		t.Errorf("given once, told as %d readings: %v", len(in.Unasked), in.Unasked)
	}
}

// A last line that was never finished is told on the sheet.
func TestFromVisitTellsOfATornLine(t *testing.T) {
	lib := small(t)
	v := record(t, lib).Visit()
	v.Torn = true
	for form, page := range both(FromVisit(v, lib, printed), lib) {
		if !strings.Contains(page, "The last line of the record is unfinished") {
			t.Errorf("%s is silent about an unfinished line", form)
		}
	}
}

// A test after repair that has only begun leaves the sheet of the finding as it
// was, and does not pass for a test.
func TestFromVisitKeepsTheFinding(t *testing.T) {
	lib := small(t)
	r, err := record(t, lib).Answer(began, read(t, lib, "58.0"))
	if err != nil {
		t.Fatal(err)
	}
	before := both(FromVisit(r.Visit(), lib, printed), lib)
	if r, err = r.Retest(began.Add(time.Hour), faulttree.Ref{}); err != nil {
		t.Fatal(err)
	}
	in := FromVisit(r.Visit(), lib, printed)
	if in.Again || len(in.Before) > 0 || in.Untested.IsZero() {
		t.Errorf("nothing was read again, and the sheet is one of a test: %+v", in)
	}
	told := "nothing has been read again yet"
	in.Untested = time.Time{}
	for form, page := range both(FromVisit(r.Visit(), lib, printed), lib) {
		if !strings.Contains(page, told) {
			t.Errorf("%s does not say %q", form, told)
		}
	}
	for form, page := range both(in, lib) {
		if page != before[form] {
			t.Errorf("%s: but for that it is not the sheet of the finding", form)
		}
	}
	again := must.Have(r.Answer(began.Add(2*time.Hour), read(t, lib, "0.4")))(t)
	for form, page := range both(FromVisit(again.Visit().Until(0), lib, printed), lib) {
		if page != before[form] {
			t.Errorf("%s: after the test the sheet of the finding cannot be had any more", form)
		}
	}
}
