package drawn_test

import (
	"context"
	"math"
	"testing"

	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

// Some cases by themselves read what they read among all, whether that is solved
// already or not.
func TestSomeCasesByThemselves(t *testing.T) {
	ctx := context.Background()
	all := population(t, shore)
	var some []int
	for i := 3; i < len(all.Cases()); i += 37 {
		some = append(some, i)
	}
	q := handbook().Forest.Quantities["body-earth"]
	before := all.Only(some)
	column := must.Have(all.Column(ctx, q))(t)
	for name, few := range map[string]suspect.Population{"solved for these alone": before, "taken from all": all.Only(some), "of more": more(t, all).Only(some)} {
		got, err := few.Column(ctx, q)
		if err != nil || len(got) != len(some) || len(few.Cases()) != len(some) {
			t.Fatalf("%s: %d figures of %d cases, %v", name, len(got), len(few.Cases()), err)
		}
		for k, i := range some {
			if want := float64(column[i]); !(math.Abs(float64(got[k])-want) <= 1e-6*math.Abs(want)) && !(got[k] != got[k] && want != want) {
				t.Errorf("%s: case %d reads %v, among all %v", name, i, got[k], want)
			}
			if few.Cases()[k].Rig != all.Cases()[i].Rig || len(few.Cases()[k].Faults) != len(all.Cases()[i].Faults) {
				t.Errorf("%s: case %d is another", name, i)
			}
		}
	}
}

func more(t *testing.T, p *drawn.Population) *drawn.Population {
	m := must.Have(p.More(context.Background(), []int{0}, 50))(t)
	return m.(*drawn.Population)
}
