package logbook

import (
	"testing"

	"faultwright/faulttree"

	"github.com/google/go-cmp/cmp"
)

// asking is a handbook that asks once whether a generator is aboard, and at every visit
// what feeds the vehicle.
func asking() *faulttree.Forest {
	return &faulttree.Forest{Facts: []faulttree.Fact{
		{ID: "service", Lasting: true, Choices: []faulttree.Choice{{ID: "30a"}, {ID: "50a"}}},
		{ID: "generator", Lasting: true, Choices: []faulttree.Choice{{ID: "no"}, {ID: "yes", Aboard: "generator"}}},
		{ID: "source", Choices: []faulttree.Choice{{ID: "shore"}, {ID: "inverter", Aboard: "inverter"}}},
	}}
}

// What is aboard answers a fact that lasts, and none that is asked at every visit; what is
// noted as a fact outranks it.
func TestWhatIsAboardIsKnown(t *testing.T) {
	v := Vehicle{Facts: map[string]string{"service": "50a", "source": "shore"}, Aboard: []string{"generator", "inverter", "solar"}}
	if diff := cmp.Diff(map[string]string{"service": "50a", "generator": "yes"}, v.Lasting(asking())); diff != "" {
		t.Error(diff)
	}
	v.Facts["generator"] = "no"
	if got := v.Lasting(asking())["generator"]; got != "no" {
		t.Errorf("noted is no, taken is %q", got)
	}
}

// A visit teaches what lasts and what is aboard; what is noted stays, and differs.
func TestLearn(t *testing.T) {
	v := Vehicle{Facts: map[string]string{"service": "30a"}}
	l := v.Learn(asking(), "half-dead", map[string]string{"service": "50a", "generator": "yes", "source": "inverter"})
	want := Learned{News: true, Differ: []string{"service"}, Vehicle: Vehicle{Facts: map[string]string{"service": "30a", "generator": "yes"}, Aboard: []string{"generator", "inverter"}}}
	if diff := cmp.Diff(want, l); diff != "" {
		t.Error(diff)
	}
	if again := l.Vehicle.Learn(asking(), "half-dead", map[string]string{"generator": "yes", "source": "shore"}); again.News || len(again.Differ) > 0 {
		t.Errorf("what is known is learned anew: %+v", again)
	}
}
