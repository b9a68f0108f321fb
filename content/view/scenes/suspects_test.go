package scenes_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/content/shorthand"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

// told is an account made of a list of readings.
func told(t *testing.T, facts map[string]string, list string) view.Account {
	t.Helper()
	lib := load.Shipped()
	l := must.Have(shorthand.New(lib).Read(list))(t)
	a := view.Account{Facts: facts}
	for _, row := range l.Rows {
		if row.Kind != shorthand.Taken {
			t.Fatalf("%q is not read: %s", row.Text, row.Why)
		}
		a.Evidence = append(a.Evidence, suspect.Evidence{Quantity: lib.Forest.Quantities[row.Quantity], Reading: row.Reading})
	}
	return a
}

// Two legs that share 240 V as an open neutral makes them do: the shipped
// handbook's vehicles name it, with what is to be done, and leave dangers open
// that nothing looked at.
func TestAnOpenNeutralIsSuspected(t *testing.T) {
	lib, m := load.Shipped(), faulttree.DefaultMeter()
	a := told(t, map[string]string{"service": "50a", "source": "shore"}, "at the panel, loads on: L1-N 59, L2-N 177, L1-L2 236, N-G 59")
	r := scenes.NewReasoning(lib, m, nil)
	v := must.Have(r.Suspects(context.Background(), a))(t)
	k := slices.IndexFunc(v.Likely, func(s view.Suspect) bool { return slices.Contains(s.Of.Faults, "open-neutral") })
	if k < 0 {
		t.Fatalf("an open neutral is not among the likely:\n%s", v.Text())
	}
	if s := v.Likely[k]; s.Signal != faulttree.Danger || len(s.Do) == 0 || s.RepairBy == "" || s.Share == "" || len(s.Faults) == 0 {
		t.Errorf("it says %+v", s)
	}
	if len(v.Open) != view.MostTests || v.MoreOpen == "" || v.RestOpen == "" {
		t.Errorf("open are %d tests, %q", len(v.Open), v.MoreOpen)
	}
	for _, want := range []string{"A loop test of the supply, by an electrician, would show:", view.SharesRestOn, view.ClearsNone} {
		if !strings.Contains(v.Text(), want) {
			t.Errorf("the page does not say %q:\n%s", want, v.Text())
		}
	}
	if strings.Contains(strings.ToLower(v.Text()), "safe") {
		t.Errorf("the page says safe:\n%s", v.Text())
	}
}

func TestFactsOfNoVehicle(t *testing.T) {
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	_, err := r.Suspects(context.Background(), view.Account{Facts: map[string]string{"service": "50a", "source": "somewhere else"}})
	if !errors.Is(err, drawn.ErrNoRig) {
		t.Errorf("the error is %v; expected %v", err, drawn.ErrNoRig)
	}
	if err := r.Warm(context.Background(), view.Account{Facts: map[string]string{"source": "somewhere else"}}); !errors.Is(err, drawn.ErrNoRig) {
		t.Errorf("warmed up, the error is %v; expected %v", err, drawn.ErrNoRig)
	}
}
