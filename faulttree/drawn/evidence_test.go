package drawn_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

// has reports whether a case has a fault in a place, "" for any.
func has(c suspect.Case, fault string, place faulttree.Place) bool {
	return slices.ContainsFunc(c.Faults, func(f suspect.PlacedFault) bool { return f.Fault == fault && (place == "" || f.Place == place) })
}

// Lamps are dark where there is nothing at the pedestal, and else burn: of a dead
// supply, where both choices are possible, one in four is called dark. A leak
// smells one time in two, 4 of 8; anything else one time in five.
func TestWhatIsSeen(t *testing.T) {
	p := population(t, shore)
	ctx := context.Background()
	dark := must.Have(p.Seen(ctx, "lamps", "dark"))(t)
	burnt := must.Have(p.Seen(ctx, "smell", "burnt"))(t)
	for i, c := range p.Cases() {
		lamps, smell := float32(0), float32(0.2)
		if has(c, "supply-dead", "") {
			lamps = 0.25
		}
		if has(c, "leak", "") {
			smell = 0.5
		}
		if dark[i] != lamps || burnt[i] != smell {
			t.Errorf("%v: dark %v, burnt %v; want %v and %v", c.Faults, dark[i], burnt[i], lamps, smell)
		}
	}
	for _, name := range [][2]string{{"lumps", "dark"}, {"lamps", "drak"}} {
		if _, err := p.Seen(ctx, name[0], name[1]); err == nil {
			t.Errorf("%s %s is known", name[0], name[1])
		}
	}
}

// The body tingles with a lost ground and a leak. Another cord mends a ground that
// is lost in the cord, a generator one that is lost in the feeder; with the main
// off nothing leaks; and whoever has no adapter learns nothing from another.
func TestWhatIsGone(t *testing.T) {
	p := population(t, shore)
	for name, gone := range map[string]func(suspect.Case) float32{
		"other-cord": func(c suspect.Case) float32 {
			if has(c, "open-ground", faulttree.Cord) {
				return 1
			}
			return 0
		},
		"main-off": func(suspect.Case) float32 { return 1 },
		"generator": func(c suspect.Case) float32 {
			if has(c, "open-ground", faulttree.Supply) {
				return 1
			}
			return 0
		},
		"elsewhere": func(c suspect.Case) float32 { return nan },
	} {
		got := must.Have(p.Gone(context.Background(), name, "tingle"))(t)
		met := 0
		for i, c := range p.Cases() {
			want := nan
			if has(c, "open-ground", "") && has(c, "leak", "") {
				want = gone(c)
				met++
			}
			if got[i] != want && !(math.IsNaN(float64(got[i])) && math.IsNaN(float64(want))) {
				t.Errorf("%s, %v: gone %v, want %v", name, c.Faults, got[i], want)
			}
		}
		if met == 0 {
			t.Errorf("%s: nobody has a tingle", name)
		}
	}
	if _, err := p.Gone(context.Background(), "prayer", "tingle"); err == nil {
		t.Error("an intervention that there is not is taken")
	}
}

// A tingle is what somebody with a lost ground and a leak comes with, and nobody
// else. Of a battery, which the vehicles have not, nothing is told.
func TestWhoHasTheComplaint(t *testing.T) {
	h, ctx := handbook(), context.Background()
	weak := faulttree.Choice{When: []faulttree.When{{Quantity: far, Span: faulttree.Span{From: 0, Below: 12 * faulttree.One}}}}
	h.Forest.Trees["weak"] = &faulttree.Tree{ID: "weak", Complaint: []faulttree.Choice{weak}}
	h.Forest.Trees["anybody"] = &faulttree.Tree{ID: "anybody"}
	p := must.Have(drawn.New(ctx, h, shore))(t)
	further := must.Have(p.More(ctx, []int{0, len(p.Cases()) - 1}, 20))(t)
	for _, of := range []suspect.Population{p, further} {
		tingles := must.Have(of.Seen(ctx, suspect.Complaint, "tingle"))(t)
		none := must.Have(of.Seen(ctx, suspect.Complaint, "weak"))(t)
		for i, c := range of.Cases() {
			want := float32(0)
			if has(c, "open-ground", "") && has(c, "leak", "") {
				want = 1
			}
			if tingles[i] != want {
				t.Errorf("%v: tingles %v, want %v", c.Faults, tingles[i], want)
			}
			if !math.IsNaN(float64(none[i])) {
				t.Errorf("%v: of a battery it tells %v", c.Faults, none[i])
			}
		}
	}
	for _, tree := range []string{"tangle", "anybody"} {
		if _, err := p.Seen(ctx, suspect.Complaint, tree); err == nil {
			t.Errorf("the complaint of %s is taken", tree)
		}
	}
}

// Whoever asks while all is solved ahead gets the same, with more draws as well.
func TestAskingWhileAllIsSolvedAhead(t *testing.T) {
	o := shore
	o.Tree = "tingle"
	p, alone := population(t, o), population(t, o)
	ctx := context.Background()
	ahead := make(chan error)
	go func() { ahead <- p.Warm(ctx) }()
	more := must.Have(p.More(ctx, []int{0, len(p.Cases()) - 1}, 20))(t)
	all := must.Have(more.Gone(ctx, "other-cord", "tingle"))(t)
	want := must.Have(alone.Gone(ctx, "other-cord", "tingle"))(t)
	same := func(a, b float32) bool { return a == b || math.IsNaN(float64(a)) && math.IsNaN(float64(b)) }
	if len(all) != len(want)+20 || !slices.EqualFunc(all[:len(want)], want, same) {
		t.Error("what is gone depends on when it is asked for")
	}
	if !slices.Equal(column(t, p, body), column(t, alone, body)) {
		t.Error("what is read depends on when it is asked for")
	}
	if err := <-ahead; err != nil {
		t.Error(err)
	}
}

func TestAskingIsCutShort(t *testing.T) {
	p := population(t, shore)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := p.Column(ctx, body); !errors.Is(err, context.Canceled) {
		t.Errorf("cut short: %v", err)
	}
	column(t, p, body) // and nothing half solved is kept
}

var nan = float32(math.NaN())

// What is solved together in one pass is to the bit what it is by itself, of further draws
// too; and what is not there is told.
func TestColumnsWithWhatIsSeen(t *testing.T) {
	ctx := context.Background()
	seen := []suspect.Seen{{Observation: "lamps", Choice: "dark"}, {Observation: suspect.Complaint, Choice: "tingle"}, {Observation: "lamps", Choice: "burn"}}
	together, alone := population(t, shore), population(t, shore)
	if err := together.ColumnsWith(ctx, seen, ground, hot); err != nil {
		t.Fatal(err)
	}
	near := []int{0, len(together.Cases()) - 1}
	further := must.Have(together.More(ctx, near, 20))(t).(*drawn.Population)
	if err := further.ColumnsWith(ctx, seen, ground, body); err != nil {
		t.Fatal(err)
	}
	same := func(name string, got, want []float32) {
		for i := range want {
			if math.Float32bits(got[i]) != math.Float32bits(want[i]) {
				t.Fatalf("%s of case %d is %v together, %v by itself", name, i, got[i], want[i])
			}
		}
	}
	for _, of := range [][2]suspect.Population{{together, alone}, {further, must.Have(alone.More(ctx, near, 20))(t)}} {
		for _, s := range seen {
			same(s.Choice, must.Have(of[0].Seen(ctx, s.Observation, s.Choice))(t), must.Have(of[1].Seen(ctx, s.Observation, s.Choice))(t))
		}
		for _, q := range []faulttree.Quantity{ground, hot, body} {
			same(q.ID, column(t, of[0], q), column(t, of[1], q))
		}
	}
	if err := together.ColumnsWith(ctx, []suspect.Seen{{Observation: "lumps", Choice: "dark"}}); err == nil {
		t.Error("lumps are seen")
	}
}
