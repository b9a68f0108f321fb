package view_test

import (
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// On the shipped handbook an ordinary meter decides every limit in volts, which is what
// the check of the handbook demands of it, and not 0.3 Ω in steps of 0.1 Ω. A meter of
// coarse steps is told more, a bad one of the danger limits.
func TestLimitsOfTheHandbookThatAMeterCannotDecide(t *testing.T) {
	lib := load.Shipped()
	for _, l := range view.MeterLimits(lib, faulttree.DefaultMeter()) {
		if l.Danger || !strings.HasPrefix(l.Text, "0.3 Ω: it may be off by 0.11 Ω there") || len(l.Where) < 3 {
			t.Errorf("an ordinary meter: %+v", l)
		}
	}
	bad := faulttree.DefaultMeter()
	bad.ACVolts = faulttree.Accuracy{Percent: 40 * faulttree.One, Counts: 5}
	all := view.MeterLimits(lib, bad)
	if len(all) == 0 || !all[0].Danger {
		t.Fatalf("a meter that is off by 40 %%: %+v", all)
	}
	var touch string
	for _, l := range all {
		if strings.HasPrefix(l.Text, "30 V AC: ") && l.Danger {
			touch = l.Text + strings.Join(l.Where, "")
		}
	}
	for _, want := range []string{"may be off by 13 V", "Every reading from 21.4 V up counts as over it.", "A tingle or a shock: "} {
		if !strings.Contains(touch, want) {
			t.Errorf("30 V is told as %q, without %q", touch, want)
		}
	}
	short := faulttree.DefaultMeter()
	short.Ranges = must.Have(faulttree.NewRanges([]faulttree.Range{{Unit: faulttree.VoltsAC, Top: 60 * faulttree.One, Count: faulttree.One / 100, Accuracy: short.ACVolts}}))(t)
	says := func(l view.MeterLimit) bool {
		return strings.HasPrefix(l.Text, "104 V AC: by the lines of its booklet it shows OL from 60 V AC up")
	}
	if all := view.MeterLimits(lib, short); !slices.ContainsFunc(all, says) {
		t.Errorf("a meter whose ranges end at 60 V: %+v", all)
	}
	// 1.2 % and 5 counts of 0.01 V: 29.60 V may be 30.0052 V, 29.59 V at most 29.995 V.
	if text := view.MeterDangers(lib, faulttree.DefaultMeter()); !strings.Contains(text, "30 V AC from 29.6 V") {
		t.Errorf("danger limits count as %q", text)
	}
}

func BenchmarkMeterLimits(b *testing.B) {
	lib, m := load.Shipped(), faulttree.DefaultMeter()
	for b.Loop() {
		view.MeterLimits(lib, m)
		view.MeterDangers(lib, m)
	}
}
