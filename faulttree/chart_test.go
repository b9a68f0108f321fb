package faulttree

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// anyCell asks nothing.
var anyCell = Cell{}

// in is a cell with stretches in volts: pairs of from and below, -1 for no end.
func in(ends ...Amount) Cell {
	var c Cell
	for i := 0; i < len(ends); i += 2 {
		s := Everything()
		if ends[i] >= 0 {
			s.From = ends[i] * One
		}
		if ends[i+1] >= 0 {
			s.Below = ends[i+1] * One
		}
		c.Spans = append(c.Spans, s)
	}
	return c
}

func row(to string, s Signal, cells ...Cell) Row { return Row{Cells: cells, Exit: goTo(to, s)} }

// supplyChart reads ground to earth, two legs and the voltage across, with what
// the legs together lack of it; a measure step before it reads the first leg.
func supplyChart() *Forest {
	q := func(id string) Quantity {
		return Quantity{ID: id, Title: "Read " + id, Unit: VoltsAC, Range: 600 * One, Most: 1000 * One, Exposure: AtSupply}
	}
	chart := &Step{ID: "readings", Title: "The readings", Kind: KindChart,
		Measure: []Variable{{Name: "g", Quantity: q("g-earth")}, {Name: "a", Quantity: q("l1-n")}, {Name: "b", Quantity: q("l2-n")}, {Name: "c", Quantity: q("l1-l2")}},
		Derive:  []Derived{{Name: "lack", Unit: VoltsAC, Terms: []Term{{1, 3}, {-1, 1}, {-1, 2}}}},
		Chart: &Chart{Rows: []Row{
			row("live", Danger, in(30, -1), anyCell, anyCell, anyCell, anyCell),
			row("lost", Danger, anyCell, in(-1, 104, 127, -1), anyCell, in(200, -1), anyCell),
			row("lost", Danger, anyCell, anyCell, anyCell, anyCell, in(6, -1)),
			row("low", Warning, anyCell, in(-1, 104), anyCell, anyCell, anyCell),
			row("low", Warning, anyCell, anyCell, in(-1, 104), anyCell, anyCell),
			row("shown", Notice, anyCell, anyCell, anyCell, anyCell, anyCell),
		}, Pins: []int{0}},
		NotPossible: goTo("unknown", Warning)}
	before := &Step{ID: "before", Title: "Before", Kind: KindMeasure, Measure: []Variable{{Name: "v", Quantity: q("l1-n")}},
		Branches: []Branch{{Exit: goTo("readings", NoSignal)}}, OverRange: goTo("readings", NoSignal), NotPossible: goTo("readings", Warning)}
	steps := []*Step{before, chart}
	for _, id := range []string{"live", "lost", "low", "shown", "unknown"} {
		steps = append(steps, &Step{ID: id, Title: "Found " + id, Kind: KindFinding, Finding: Finding{Clears: []Place{Supply}}})
	}
	tree := &Tree{ID: "t", Start: "readings", Steps: steps, Limits: map[string]Limit{"touch": {Value: 30 * One, Unit: VoltsAC}}, Danger: map[string]string{"g-earth": "touch"}}
	for _, s := range steps {
		s.Tree = "t"
	}
	tree.Index()
	return &Forest{Trees: map[string]*Tree{"t": tree}}
}

// site is what the meter shows at a supply.
type site map[string]string

// asked answers a walk from a site until it ends, and lists what it asked.
func (s site) asked(t *testing.T, w Walk) (asked []string, end Walk) {
	t.Helper()
	for !w.Ended() {
		q := w.Step().Measure[0].Quantity
		r, err := ParseReading(s[q.ID], q)
		if err != nil {
			t.Fatal(err)
		}
		asked = append(asked, q.ID)
		if w, err = w.Answer(Answer{Readings: []Reading{r}}); err != nil {
			t.Fatal(err)
		}
	}
	return asked, w
}

var soundSite = site{"g-earth": "0.4", "l1-n": "120.1", "l2-n": "119.8", "l1-l2": "240.0"}

func (s site) but(id, shows string) site {
	out := site{id: shows}
	for k, v := range s {
		if k != id {
			out[k] = v
		}
	}
	return out
}

func TestAChartStopsAsSoonAsTheRowIsKnown(t *testing.T) {
	for _, c := range []struct {
		site  site
		asked int
		end   string
	}{
		{soundSite.but("g-earth", "58.0"), 1, "live"},
		{soundSite.but("g-earth", "OL"), 1, "live"},
		{soundSite.but("l1-n", "80.0").but("l2-n", "160.0"), 3, "lost"},
		{soundSite, 4, "shown"},
		{soundSite.but("l2-n", "100.0").but("l1-l2", "220.0"), 4, "low"},
	} {
		asked, end := c.site.asked(t, started(t, supplyChart()))
		if end.At().Step != c.end || len(asked) > c.asked || asked[0] != "g-earth" {
			t.Errorf("%v: asked %v, ends at %s; want at most %d, pinned first, and %s", c.site, asked, end.At().Step, c.asked, c.end)
		}
	}
}

func TestAChartIsAnOrdinaryMeasureStepToWhoeverAsks(t *testing.T) {
	w := started(t, supplyChart())
	s := w.Step()
	if s.Kind != KindMeasure || s.Ref() != (Ref{"t", "readings/g"}) || s.Title != "Read g-earth" || w.Wants() != "g-earth" {
		t.Fatalf("the walk asks %+v", s)
	}
	if found := w.Forest().Step(s.Ref()); found == nil || found.Title != s.Title {
		t.Error("the forest does not know the step by its name")
	}
	w = answered(t, w, Amount(1))
	e := w.Trail()[0]
	if e.Next != (Ref{"t", "readings"}) || e.Outcome.Signal != NoSignal || !e.Outcome.Certain {
		t.Errorf("the first answer leads to %v, %+v", e.Next, e.Outcome)
	}
	if back := w.Back(); back.At() != s.Ref() {
		t.Errorf("taken back, the walk asks %v", back.At())
	}
	if w, err := Begin(supplyChart(), Ref{"t", "readings/c"}, Owner, DefaultMeter()); err != nil || w.At() != s.Ref() {
		t.Errorf("begun at a column, the walk asks %v, %v", w.At(), err)
	}
}

func TestWhatIsKnownIsNotAskedAgain(t *testing.T) {
	f := supplyChart()
	f.Trees["t"].Start = "before"
	asked, end := soundSite.asked(t, started(t, f))
	if slices.Sort(asked); strings.Join(asked, " ") != "g-earth l1-l2 l1-n l2-n" || end.At().Step != "shown" {
		t.Errorf("asked %v, ends at %v", asked, end.At())
	}
	supply := func(given ...string) (Walk, string) {
		s := Supplied{Readings: map[string][]Reading{}}
		for _, id := range given {
			r := must.Have(ParseReading(soundSite[id], Quantity{ID: id, Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}))(t)
			s.Readings[id] = []Reading{r}
		}
		w, next, err := started(t, supplyChart()).Supply(s)
		if err != nil {
			t.Fatal(err)
		}
		return w, next
	}
	w, next := supply("l1-l2", "l2-n")
	if next != "g-earth" || len(w.Trail()) != 2 {
		t.Errorf("with two readings supplied the walk wants %q after %d answers", next, len(w.Trail()))
	}
	if asked, end := soundSite.asked(t, w); len(asked) != 2 || end.At().Step != "shown" {
		t.Errorf("then it asks %v and ends at %v", asked, end.At())
	}
}

func TestAfterAStopAChartReadsAnew(t *testing.T) {
	f := supplyChart()
	tree := f.Trees["t"]
	tree.Start = "before"
	tree.Step("before").Branches[0].Exit = goTo("stop", Danger)
	tree.Steps = append(tree.Steps, &Step{Tree: "t", ID: "stop", Kind: KindAct, Act: Act{Exit: goTo("readings", Danger)}})
	tree.Index()
	w := must.Have(answered(t, started(t, f), Amount(120)).Answer(Answer{Done: true}))(t)
	if asked, _ := soundSite.asked(t, w); !slices.Contains(asked, "l1-n") {
		t.Errorf("after the STOP it asks only %v", asked)
	}
}

// A reading over a danger limit ends all reasoning, whichever column it is of and
// whatever else is known.
func TestDangerOutranksTheOrderOfAChart(t *testing.T) {
	f := supplyChart()
	chart := f.Trees["t"].Step("readings").Chart
	chart.Pins = nil
	live := Reading{Text: "58", Low: 58 * One, High: 58 * One, Resolution: One}
	w, next, err := started(t, f).Supply(Supplied{Readings: map[string][]Reading{"g-earth": {live}, "l1-n": {volts(80)}, "l2-n": {volts(160)}, "l1-l2": {volts(240)}}})
	if err != nil || next != "" || w.At().Step != "live" || len(w.Trail()) != 1 {
		t.Errorf("at %v after %d answers, wants %q, %v", w.At(), len(w.Trail()), next, err)
	}
}

func TestOnlyADangerLimitTakesTheWorseSide(t *testing.T) {
	for _, c := range []struct {
		id, shows, end, says string
	}{
		{"g-earth", "29.8", "live", "29.8 V is within the meter's uncertainty of 30 V, so it counts as over it."},
		{"l2-n", "104.4", "lost", ""}, // the legs lack far more than the error
		{"l1-n", "126.6", "shown", "126.6 V is within the meter's uncertainty of 127 V, so the figure shown decides."},
		{"l1-l2", "245.5", "shown", "lack, worked out from readings, is within the meter's uncertainty of 6 V, so the figures shown decide."},
	} {
		s := soundSite.but(c.id, c.shows)
		if c.id == "l1-n" {
			s = s.but("l1-l2", "246.0")
		}
		_, end := s.asked(t, started(t, supplyChart()))
		out := end.Trail()[len(end.Trail())-1].Outcome
		if end.At().Step != c.end || !strings.HasPrefix(out.Advice, c.says) || (c.says == "") != out.Certain {
			t.Errorf("%s %s: ends at %s, certain %v, %q", c.id, c.shows, end.At().Step, out.Certain, out.Advice)
		}
		if !out.Certain && (len(out.Also) == 0 || !strings.Contains(out.Advice, "Read")) {
			t.Errorf("%s %s: it does not say what else it may be, or what would settle it: %+v", c.id, c.shows, out)
		}
	}
}

func TestWhatCannotBeTakenInAChart(t *testing.T) {
	cannot := Answer{Readings: []Reading{NotTaken("a lid in the way")}}
	w, err := started(t, supplyChart()).Answer(cannot)
	if err != nil || w.At().Step != "unknown" {
		t.Fatalf("the walk is at %v, %v", w.At(), err)
	}
	f := supplyChart()
	chart := f.Trees["t"].Step("readings").Chart
	chart.Rows = slices.Insert(chart.Rows, 1, row("low", Warning, Cell{NotTaken: true}, in(-1, 104), anyCell, anyCell, anyCell))
	if w, err = started(t, f).Answer(cannot); err != nil || w.Ended() {
		t.Fatalf("with a row for it the walk is at %v, %v", w.At(), err)
	}
	_, end := soundSite.asked(t, w)
	result, _ := end.Finding()
	if end.At().Step != "shown" || len(result.Finding.Clears) != 0 {
		t.Errorf("the walk ends at %v and clears %v, with a reading that was not taken", end.At(), result.Finding.Clears)
	}
	_, end = soundSite.asked(t, started(t, f))
	if result, _ = end.Finding(); len(result.Finding.Clears) == 0 {
		t.Error("with every reading taken nothing is cleared")
	}
}

// A changed reading may change the order of asking; what was read stands.
func TestAChangeKeepsWhatAChartHasRead(t *testing.T) {
	_, end := soundSite.asked(t, started(t, supplyChart()))
	for i := range end.Trail() {
		changed, dropped, err := end.Change(i, Answer{Readings: []Reading{volts(103)}})
		if err != nil || len(changed.Trail())+len(dropped) != 4 {
			t.Errorf("answer %d: %d answers and %d dropped, %v", i, len(changed.Trail()), len(dropped), err)
		}
		if i > 0 && len(dropped) > 0 && !changed.Ended() {
			t.Errorf("answer %d: the walk goes on without %d readings", i, len(dropped))
		}
	}
}

func TestARowThatAsksOfWhatIsNotThereIsLeftOut(t *testing.T) {
	f := supplyChart()
	f.Facts = plugs(nil).Facts
	s := f.Trees["t"].Step("readings")
	for _, i := range []int{2, 3} {
		s.Measure[i].Quantity.Needs = Needs{"service": {"50a"}}
	}
	w := started(t, f)
	if w.At() != FactRef("service") {
		t.Fatalf("the chart asks %v before its fact", w.At())
	}
	w = answered(t, w, "30a")
	asked, end := soundSite.asked(t, w)
	if len(asked) != 2 || end.At().Step != "shown" {
		t.Errorf("with a 30 A plug it asks %v and ends at %v", asked, end.At())
	}
	if _, end := soundSite.but("l1-n", "90.0").asked(t, w); end.At().Step != "low" {
		t.Errorf("a low leg ends at %v", end.At())
	}
}

// drawnChart is a chart of up to five columns, each with up to three stretches.
func drawnChart(r *rand.Rand, sums bool) *Step {
	n := 2 + r.IntN(4)
	s := &Step{Tree: "t", ID: "c", Kind: KindChart, Chart: &Chart{}, NotPossible: goTo("x", Warning)}
	for i := range n {
		s.Measure = append(s.Measure, Variable{Name: fmt.Sprint("v", i), Quantity: Quantity{ID: fmt.Sprint("q", i), Unit: VoltsAC, Range: 600 * One, Most: 1000 * One, Exposure: Exposure(1 + r.IntN(4))}})
	}
	if sums {
		s.Derive = []Derived{{Name: "apart", Unit: VoltsAC, Terms: []Term{{1, 0}, {-1, 1}}}}
	}
	for k := range 2 + r.IntN(5) {
		cells := make([]Cell, n+len(s.Derive))
		for c := range cells {
			switch edge := Amount(100 + 100*r.IntN(2)); {
			case r.IntN(2) == 0:
			case r.IntN(2) == 0:
				cells[c] = in(-1, edge)
			default:
				cells[c] = in(edge, -1)
			}
		}
		s.Chart.Rows = append(s.Chart.Rows, Row{Cells: cells, Exit: goTo(fmt.Sprint("r", k), NoSignal)})
	}
	s.Chart.Rows = append(s.Chart.Rows, Row{Cells: make([]Cell, n+len(s.Derive)), Exit: goTo("rest", NoSignal)})
	return s
}

// firstFit is the row that plain reading of the table gives.
func firstFit(s *Step, values []Amount) int {
	all := slices.Clone(values)
	for _, d := range s.Derive {
		sum := Amount(0)
		for _, t := range d.Terms {
			sum += Amount(t.Factor) * values[t.Var]
		}
		all = append(all, sum)
	}
rows:
	for i, r := range s.Chart.Rows {
		for c, cell := range r.Cells {
			if !cell.Any() && !slices.ContainsFunc(cell.Spans, func(s Span) bool { return s.Contains(all[c]) }) {
				continue rows
			}
		}
		return i
	}
	return -1
}

func noDanger(string) (Amount, bool) { return 0, false }

// Whatever a chart asks, and in which order, it comes to the row that the plain
// table gives for all readings.
func TestAChartEndsWhereItsTableDoes(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	for range 300 {
		s := drawnChart(r, r.IntN(2) == 0)
		for range 30 {
			var values []Amount
			for range s.Measure {
				values = append(values, Amount(r.IntN(300))*One)
				if r.IntN(8) == 0 {
					values[len(values)-1] = OverTop
				}
			}
			known := make([]*Reading, len(values))
			for steps := 0; ; steps++ {
				out, ask, err := s.evaluate(known, DefaultMeter(), noDanger)
				if err != nil || steps > len(values) {
					t.Fatalf("%v after %d readings", err, steps)
				}
				if ask >= 0 {
					shown := volts(values[ask] / One)
					if values[ask] == OverTop {
						shown = Reading{Text: "OL", Quality: OverRange}
					}
					known[ask] = &shown
					continue
				}
				if want := s.Chart.Rows[firstFit(s, values)].Exit; out.To != want.To {
					t.Fatalf("%v lead to %v, want %v", values, out.To, want.To)
				}
				break
			}
		}
	}
}

// A reading that wanders over a limit is never taken lighter than either end of
// what it showed.
func TestAWanderingReadingTakesTheWorseSide(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	open := 0
	for range 300 {
		s := drawnChart(r, r.IntN(2) == 0)
		for i := range s.Chart.Rows {
			s.Chart.Rows[i].Signal = Signal(r.IntN(5))
		}
		known := make([]*Reading, len(s.Measure))
		ends := [2][]Amount{}
		for c := range known {
			low := Amount(r.IntN(250))
			high := low + Amount(r.IntN(2)*r.IntN(100))
			known[c] = &Reading{Low: low * One, High: high * One, Resolution: One}
			if high > low {
				known[c].Quality = Wandering
			}
			ends[0], ends[1] = append(ends[0], low*One), append(ends[1], high*One)
		}
		out, ask, err := s.evaluate(known, DefaultMeter(), noDanger)
		if err != nil || ask >= 0 {
			t.Fatalf("asks %d, %v", ask, err)
		}
		for _, values := range ends {
			if row := s.Chart.Rows[firstFit(s, values)]; row.Signal > out.Signal {
				t.Fatalf("%v leads to %s, and one end of it to %s", known, out.Signal, row.Signal)
			} else if row.To != out.To {
				open++
				if out.Certain || out.Advice == "" {
					t.Fatalf("the other end leads to %s, and nothing is said", row.Text)
				}
			}
		}
	}
	if open == 0 {
		t.Error("no reading wandered over a limit")
	}
}

// The exact order costs what trying every order of asking finds, with the table
// read plainly and nothing shared with the code under test.
func TestTheOrderOfAChartIsTheCheapest(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 2))
	for n := range 1000 {
		s := drawnChart(r, false)
		plan := s.compiled().plan()
		if !plan.exact || plan.tree == nil {
			t.Fatalf("chart %d has no exact plan", n)
		}
		if got, want := plan.tree.Expected, cheapest(s); math.Abs(got-want) > 1e-9 {
			t.Fatalf("chart %d: the order costs %v, the cheapest %v", n, got, want)
		}
	}
}

// cheapest is the least expected cost of asking s, by brute force.
func cheapest(s *Step) float64 {
	type combination struct {
		values []Amount
		row    int
	}
	cuts := make([][]Amount, len(s.Measure)) // a value of each stretch
	for c := range cuts {
		cuts[c] = []Amount{0}
		for _, edge := range []Amount{100 * One, 200 * One} {
			if slices.ContainsFunc(s.Chart.Rows, func(r Row) bool {
				return slices.ContainsFunc(r.Cells[c].Spans, func(s Span) bool { return s.From == edge || s.Below == edge })
			}) {
				cuts[c] = append(cuts[c], edge)
			}
		}
	}
	var all []combination
	var fill func(values []Amount)
	fill = func(values []Amount) {
		if len(values) == len(cuts) {
			all = append(all, combination{slices.Clone(values), firstFit(s, values)})
			return
		}
		for _, v := range cuts[len(values)] {
			fill(append(slices.Clone(values), v))
		}
	}
	fill(nil)
	count := map[int]float64{}
	for _, c := range all {
		count[c.row]++
	}
	var least func(asked int, left []combination) float64
	least = func(asked int, left []combination) float64 {
		known, whole := true, 0.0
		for _, c := range left {
			known, whole = known && c.row == left[0].row, whole+1/count[c.row]
		}
		if known {
			return 0
		}
		best := math.Inf(1)
		for q := range cuts {
			if asked>>q&1 == 1 {
				continue
			}
			cost := float64(DefaultWeights().Of(s.Measure[q].Quantity))
			for _, v := range cuts[q] {
				var part []combination
				share := 0.0
				for _, c := range left {
					if c.values[q] == v {
						part, share = append(part, c), share+1/count[c.row]
					}
				}
				if len(part) > 0 {
					cost += share / whole * least(asked|1<<q, part)
				}
			}
			best = min(best, cost)
		}
		return best
	}
	return least(0, all)
}
