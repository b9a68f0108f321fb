package faulttree

import "testing"

func TestExposureNamesGoThereAndBack(t *testing.T) {
	for _, name := range ExposureNames() {
		e, ok := ParseExposure(name)
		if !ok || e.String() != name {
			t.Errorf("ParseExposure(%q) = %v, %v", name, e, ok)
		}
	}
	for _, name := range []string{"", "live", "Dead"} {
		if e, ok := ParseExposure(name); ok {
			t.Errorf("ParseExposure(%q) = %v; it is none", name, e)
		}
	}
}

func TestAReadingCostsByItsExposure(t *testing.T) {
	w := DefaultWeights()
	for _, c := range []struct {
		q    Quantity
		want int
	}{
		{Quantity{Red: "plug.l1", Black: "plug.n", Exposure: DeadTest}, 1},
		{Quantity{Red: "pedestal.l1", Black: "pedestal.n", Exposure: AtSupply}, 3},
		{Quantity{Red: "body", Black: "earth", Exposure: AtBody}, 6},
		{Quantity{Red: "outlet.l", Black: "outlet.n", Exposure: InsideBody}, 8},
		{Quantity{Proves: ProvesVoltsAC, Exposure: InsideBody}, 1},
	} {
		if got := w.Of(c.q); got != c.want {
			t.Errorf("a reading of %s by %s costs %d, want %d", c.q.Red, c.q.Exposure, got, c.want)
		}
	}
	if got := (Weights{}).Of(Quantity{Exposure: AtBody}); got != 1 {
		t.Errorf("without weights a reading costs %d, want 1", got)
	}
}
