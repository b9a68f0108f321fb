package view

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
)

// visitWith is a visit of a day with readings, by quantity.
func visitWith(t *testing.T, lib *content.Library, day int, readings ...string) visit.Visit {
	t.Helper()
	at := time.Date(2026, 5, day, 9, 40, 0, 0, time.UTC)
	v := visit.Visit{Header: visit.Header{ID: fmt.Sprintf("2026-05-%02d-k7fqm", day), Meter: faulttree.DefaultMeter(), Started: at}}
	for i, text := range readings {
		id, figure, _ := strings.Cut(text, "=")
		if id == "" { // a repair
			v.Records = append(v.Records, visit.Record{Seq: i + 1, At: at, Kind: visit.Retested, Start: faulttree.Ref{Tree: "t", Step: "s"}})
			continue
		}
		q := lib.Forest.Quantities[id]
		taken := visit.Taken{Quantity: id, Unit: q.Unit, Reading: faulttree.NotTaken("wet")}
		if figure != "-" {
			taken.Reading = must.Have(faulttree.ParseReading(figure, q))(t)
		}
		v.Records = append(v.Records, visit.Record{Seq: i + 1, At: at, Kind: visit.Answered, Replies: []visit.Reply{{Step: faulttree.Ref{Tree: "t", Step: fmt.Sprint(i)}, Readings: []visit.Taken{taken}}}})
	}
	return v
}

// Readings of the same quantity stand side by side in time order, what has moved first,
// without what only one visit read, what could not be read, and the proofs of the meter.
func TestCompare(t *testing.T) {
	lib := load.Shipped()
	all := Compare(lib, []visit.Visit{
		visitWith(t, lib, 3, "meter.known-source=119.8", "pedestal.l1-n=120.1", "pedestal.n-g=0.3", "pedestal.n-g=0.4", "ohm:plug.n-cord.n@unplugged=0.2"),
		visitWith(t, lib, 10, "meter.known-source=119.8", "pedestal.l1-n=119.9", "pedestal.n-g=0.5", "pedestal.l1-g=-"),
		visitWith(t, lib, 24, "meter.known-source=119.8", "pedestal.l1-n=120.4", "pedestal.n-g=1.9", "pedestal.l1-g=120", "ohm:plug.n-cord.n@unplugged=OL"),
	})
	var got []string
	for _, c := range all {
		got = append(got, c.Line()+" | "+c.Change)
	}
	q := func(id string) string { return lib.Forest.Quantities[id].Title }
	want := []string{
		q("ohm:plug.n-cord.n@unplugged") + " 0.2 Ω, OL | The last is over the meter's range; the first was not.",
		q("pedestal.n-g") + " 0.4, 0.5, 1.9 V | It rose every time, and by more than the meters can be off.",
		q("pedestal.l1-n") + " 120.1, 119.9, 120.4 V | The first and the last differ by no more than the meters can be off.",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("compared:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if d := all[1].Course().Drawing(); !strings.Contains(d.Description, "3 May 26 0.4 V, 10 May 26 0.5 V, 24 May 26 1.9 V") {
		t.Errorf("in words the plot is %q", d.Description)
	}
}

// What was read again after a repair is marked, and two rounds of one visit alone are no
// comparison of visits.
func TestCompareAfterARepair(t *testing.T) {
	lib := load.Shipped()
	one := visitWith(t, lib, 3, "pedestal.n-g=3.9", "", "pedestal.n-g=0.4")
	if all := Compare(lib, []visit.Visit{one}); len(all) > 0 {
		t.Errorf("one visit is compared with itself: %v", all)
	}
	all := Compare(lib, []visit.Visit{one, visitWith(t, lib, 9, "pedestal.n-g=0.5")})
	if len(all) != 1 || all[0].Values[1].Day() != "3 May 26 *" || ComparedRepair(all) == "" {
		t.Fatalf("%+v", all)
	}
	if all[0].Change != "The last is lower than the first by more than the meters can be off." {
		t.Error(all[0].Change)
	}
}

// The meter's error is that of each visit: two readings that a good meter tells apart, a
// poor one does not.
func TestCompareByTheMeterOfEachVisit(t *testing.T) {
	lib := load.Shipped()
	visits := []visit.Visit{visitWith(t, lib, 3, "pedestal.l1-n=118.0"), visitWith(t, lib, 9, "pedestal.l1-n=121.0")}
	fine := faulttree.DefaultMeter()
	fine.ACVolts = faulttree.Accuracy{Percent: faulttree.One / 10, Counts: 2}
	for i := range visits { // ±1.9 V with the ordinary meter; ±0.3 V with the fine one
		if c := Compare(lib, visits); c[0].Moved {
			t.Errorf("with %d fine meters: %s", i, c[0].Change)
		}
		visits[i].Header.Meter = fine
		if i == 0 {
			visits[1].Header.Meter.ACVolts.Percent = 2 * faulttree.One
		}
	}
	if c := Compare(lib, visits); !c[0].Moved {
		t.Error(c[0].Change)
	}
}

// Visits of one day are told apart by the time.
func TestCompareOnOneDay(t *testing.T) {
	lib := load.Shipped()
	first, second := visitWith(t, lib, 3, "pedestal.n-g=0.4"), visitWith(t, lib, 3, "pedestal.n-g=0.5")
	second.Header.ID, second.Header.Started = "2026-05-03-later", second.Header.Started.Add(90*time.Minute)
	d := Compare(lib, []visit.Visit{first, second, visitWith(t, lib, 10, "pedestal.n-g=0.6")})[0].Course().Drawing()
	if !strings.Contains(d.Description, "3 May 09:40 0.4 V, 3 May 11:10 0.5 V, 10 May 26 0.6 V") {
		t.Errorf("in words the plot is %q", d.Description)
	}
}
