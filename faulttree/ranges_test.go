package faulttree

import (
	"encoding/json"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// withRanges is the default meter with some ranges listed.
func withRanges(t *testing.T, of ...Range) Meter {
	t.Helper()
	m := DefaultMeter()
	m.Ranges = must.Have(NewRanges(of))(t)
	return m
}

// The worked example of JCGM 100:2008 (the GUM), 4.3.7 example 2, from memory: a
// voltmeter that is off by 14 parts in a million of the reading and 2 of its 1 V
// range shows 0.928 571 V, and is off by at most 15 µV. Its last digit is 1 µV.
func TestUncertaintyOfTheGuidesVoltmeter(t *testing.T) {
	m := withRanges(t, Range{VoltsDC, One, One / 1_000_000, Accuracy{14 * One / 10_000, 2}})
	m.FullScale = 1_000_000
	q := Quantity{ID: "v", Unit: VoltsDC, Range: One}
	if u := m.Uncertainty(asTyped(t, "0.928571", q), q); (u+500)/1000 != 15 { // whole microvolts
		t.Errorf("off by %s V, want 0.000015 V", u)
	}
}

// A figure of 1.4869 A with ±(0.5 % + 1 digit) is good to 0.5 % and 0.0001 A; one of
// 0.166 51 V with ±(0.1 % + 4 digits) to 0.1 % and 0.000 04 V: the digits are those of
// the range (from a university's text on the statistics of readings, for its
// laboratory meters of 20,000 counts).
func TestCountsAreOfTheRangeThatWasUsed(t *testing.T) {
	m := withRanges(t,
		Range{AmpsDC, 2 * One, One / 10_000, Accuracy{One / 2, 1}},
		Range{VoltsDC, One / 5, One / 100_000, Accuracy{One / 10, 4}})
	for _, c := range []struct {
		u          Unit
		text, want string
	}{{AmpsDC, "1.4869", "0.0075345"}, {VoltsDC, "0.16651", "0.00020651"}} {
		q := Quantity{ID: "x", Unit: c.u}
		if got := m.Uncertainty(asTyped(t, c.text, q), q).String(); got != c.want {
			t.Errorf("%s is uncertain by %s, want %s", c.text, got, c.want)
		}
	}
}

// The range is the one set first, or a smaller one where more digits were typed. Where
// the booklet's lines end, nothing is believed to be better than on the last.
func TestAccuracyIsOfTheRange(t *testing.T) {
	m := withRanges(t,
		Range{VoltsAC, 6 * One, One / 1000, Accuracy{3 * One, 40}},
		Range{VoltsAC, 60 * One, One / 100, Accuracy{2 * One, 10}},
		Range{VoltsAC, 600 * One, One / 10, Accuracy{One, 3}})
	for _, c := range []struct{ text, want string }{
		{"4.0", "0.34"},    // on the 600 V range: 0.04 + 0.3
		{"4.00", "0.18"},   // on the 60 V range: 0.08 + 0.1
		{"4.000", "0.16"},  // on the 6 V range: 0.12 + 0.04
		{"4.0000", "0.16"}, // no range shows that; the smallest that there is
		{"120.0", "1.5"},   // 1.2 + 0.3
		{"120", "2"},       // half a volt more
		{"700", "13.4"},    // beyond: 1.2 % + 5 counts of 1 V, as for the function
	} {
		if got := m.Uncertainty(asTyped(t, c.text, legVolts), legVolts).String(); got != c.want {
			t.Errorf("%s V is uncertain by %s V, want %s V", c.text, got, c.want)
		}
	}
	gap := withRanges(t, Range{VoltsAC, 6 * One, One / 1000, Accuracy{3 * One, 40}}, Range{VoltsAC, 600 * One, One / 10, Accuracy{One, 3}})
	if got := gap.Uncertainty(asTyped(t, "4.00", legVolts), legVolts).String(); got != "0.34" { // taken on 60 V, of which nothing is known
		t.Errorf("4.00 V, between two ranges, is uncertain by %s V, want 0.34 V", got)
	}
	feed := Quantity{ID: "f", Unit: VoltsDC, Range: 60 * One}
	if got, want := m.Uncertainty(asTyped(t, "12.60", feed), feed), DefaultMeter().Uncertainty(asTyped(t, "12.60", feed), feed); got != want {
		t.Errorf("DC volts, of which no range is listed, are uncertain by %s, want %s", got, want)
	}
}

// Beyond the highest range that the booklet gives of a function the display shows OL;
// where it gives none of it, where such meters commonly end.
func TestAMeterEndsWhereItsBookletDoes(t *testing.T) {
	m := withRanges(t, Range{Unit: Ohms, Top: 2_000_000 * One, Count: 1000 * One, Accuracy: Accuracy{Percent: One, Counts: 3}},
		Range{Unit: Ohms, Top: 200 * One, Count: One / 10, Accuracy: Accuracy{Percent: One, Counts: 3}},
		Range{Unit: VoltsAC, Top: 200 * One, Count: One / 10, Accuracy: Accuracy{Percent: One, Counts: 3}})
	for _, c := range []struct {
		value float64
		unit  Unit
		want  string
	}{
		{1.9e6, Ohms, "1.9 MΩ"}, {5e6, Ohms, "OL"},
		{199, VoltsAC, "199 V"}, {208, VoltsAC, "OL"},
		{208, VoltsDC, "208 V"}, {1001, VoltsDC, "OL"},
	} {
		if got := m.About(c.value, Quantity{Unit: c.unit}); got != c.want {
			t.Errorf("%v %s is shown as %s, want %s", c.value, c.unit, got, c.want)
		}
	}
}

func TestRangesThatCannotBe(t *testing.T) {
	good := Range{VoltsAC, 600 * One, One / 10, Accuracy{One, 3}}
	change := func(by func(*Range)) []Range {
		r := good
		by(&r)
		return []Range{r}
	}
	many := make([]Range, MostRanges+1)
	for i := range many {
		many[i] = good
		many[i].Top += Amount(i) * One
	}
	for _, c := range []struct {
		of   []Range
		says string
	}{
		{[]Range{good, good}, "given twice"},
		{many, "at most 48 ranges"},
		{change(func(r *Range) { r.Unit = 0 }), "no unit"},
		{change(func(r *Range) { r.Unit = 99 }), "no unit"},
		{change(func(r *Range) { r.Top = -r.Top }), "cannot end at"},
		{change(func(r *Range) { r.Top = Highest }), "cannot end at"},
		{change(func(r *Range) { r.Count = 0 }), "cannot show steps of"},
		{change(func(r *Range) { r.Count = 1 }), "cannot show steps of"},
		{change(func(r *Range) { r.Percent = 101 * One }), "not a percentage"},
		{change(func(r *Range) { r.Counts = 6001 }), "not a number of counts"},
	} {
		if _, err := NewRanges(c.of); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v: %v; want %q", c.of[0], err, c.says)
		}
	}
}

// A meter comes back from a record equal to what it was, and one of a record from
// before there were ranges has none.
func TestAMeterComesBack(t *testing.T) {
	m := withRanges(t,
		Range{Ohms, 600 * One, One / 10, Accuracy{One, 3}},
		Range{VoltsAC, 600 * One, One / 10, Accuracy{One, 3}})
	m.LowImpedance, m.Proved = true, "2026-05-30"
	for _, want := range []Meter{m, DefaultMeter()} {
		var got Meter
		must.Do(t, json.Unmarshal(must.Have(json.Marshal(want))(t), &got))
		if got != want {
			t.Errorf("%+v comes back as %+v", want, got)
		}
	}
	var old Meter
	must.Do(t, json.Unmarshal([]byte(`{"name":"ordinary 6000-count meter","counts":6000,"ac_volts":{"percent":"1.2","counts":5},
		"dc_volts":{"percent":"0.8","counts":3},"resistance":{"percent":"0.9","counts":1},"current":{"percent":"2.5","counts":5}}`), &old))
	if old != DefaultMeter() {
		t.Errorf("one of an old record is %+v", old)
	}
	if err := json.Unmarshal([]byte(`{"ranges":[{"unit":"V AC","top":"1","count":"5"}]}`), &old); err == nil {
		t.Error("a range that cannot be was taken from a record")
	}
	if text := string(must.Have(json.Marshal(DefaultMeter()))(t)); strings.Contains(text, "ranges") || strings.Contains(text, "proved") {
		t.Errorf("a meter without ranges is written as %s", text)
	}
	m.Proved = "yesterday"
	if m.Check() == nil {
		t.Error("yesterday was taken for a day")
	}
}

// Whatever a meter from a file says of itself, what it may be off is never less than
// nothing, and a reading never means less than it shows.
func TestAnAbsurdMeterIsNotTrusted(t *testing.T) {
	m := withRanges(t, Range{Ohms, mostTop, mostTop / 10, Accuracy{One, 1}})
	m.FullScale, m.Resistance, m.DCVolts = MostCounts, Accuracy{100 * One, MostCounts}, Accuracy{100 * One, MostCounts}
	must.Do(t, m.Check())
	for _, u := range []Unit{Ohms, VoltsDC} {
		q := Quantity{ID: "q", Unit: u}
		for _, text := range []string{"0", "1", "999999999", "3999999999"} {
			value := must.Have(ParseAmount(text))(t)
			r := Reading{Low: value, High: value, Resolution: One}
			if off, span := m.Uncertainty(r, q), m.Span(r, q); off < 0 || !span.Contains(value) {
				t.Errorf("%s is uncertain by %s and means %v", value.With(u), off, span)
			}
		}
	}
}
