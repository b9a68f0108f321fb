package gui

import (
	"context"
	"image/color"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/content/figure"
	"faultwright/content/matrix"
	"faultwright/faulttree/trial"
	"faultwright/gui/look"
)

// An author tries a shipped tree from the handbook, with the keyboard, and
// looks at a rig, a finding and the table in words.
func TestStoryOfATrial(t *testing.T) {
	d := desk(t, wide, func(o *Options) { o.ContentDir = "" })
	d.Go(Location{Page: pageHandbook})
	d.press(t, "Try the trees on drawn rigs")
	d.wantShown(t, "Trial of a tree", "has not been tried yet")
	d.press(t, d.treeTitle("pedestal-30a"))
	d.press(t, "Walks only")
	d.trials.rigs, d.trials.seed = "many", "5"
	d.key(fyne.KeyReturn)
	d.wantShown(t, "“many”; expected a whole number")
	d.trials.rigs = "6 00"
	d.key(fyne.KeyReturn)
	d.wantShown(t, "What 600 rigs of seed 5 showed", "Where the walks end", "The worst cells", "The findings")

	// What is shown is what the trial itself says.
	r, err := trial.Run(context.Background(), d.book.Trial(), "pedestal-30a", trial.Options{Rigs: 600, Seed: 5, WalkOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	d.wantShown(t, percentOf(r.Isolation), percentOf(r.HealthyRate), "What would be possible was left out")
	if r.FalseAllClears == 0 {
		d.wantShown(t, "False all-clears: none in")
	}

	m := d.toMatrix(t)
	for range 3 {
		d.key(fyne.KeyDown)
	}
	c := m.table.cells[m.at]
	if c.row != 3 {
		t.Fatalf("the cursor is in row %d, want 3", c.row)
	}
	d.key(fyne.KeyReturn)
	fault := m.table.rows[c.row].fault
	if at := d.Here(); at.Page != pageDrawn || at.Step != c.draw {
		t.Fatalf("Enter on a cell leads to %+v", at)
	}
	d.wantShown(t, "of the trial of “"+d.treeTitle("pedestal-30a")+"”", "with: "+d.faultName(fault), "THE WALK OF THIS RIG", "Loads on L1")
	if f := d.bench.scene.Fault(); f == nil || f.ID != fault {
		t.Errorf("the circuit shows %v, want %s", f, fault)
	}
	seen, err := trial.See(d.book.Trial(), "pedestal-30a", trial.Options{Rigs: 600, Seed: 5, WalkOnly: true}, c.draw, m.table.columns[c.column].id)
	if err != nil {
		t.Fatal(err)
	}
	v, err := d.bench.scene.Look()
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range seen.Setup.Values {
		if got := v.Values[i]; got < want*(1-1e-12)-1e-12 || got > want*(1+1e-12)+1e-12 {
			t.Errorf("%s is %v on show, drawn was %v", seen.Rig.Params[i].Name, got, want)
		}
	}

	d.press(t, m.table.columns[c.column].title)
	d.wantShown(t, "Ambiguity group", "What it can not exclude", d.faultName(fault))
	d.press(t, "Read this finding")
	if d.Here().Page != pageStep {
		t.Errorf("the finding is read at %+v", d.Here())
	}
	for d.Here().Page != pageTrial {
		d.Back()
	}
	d.press(t, "As a table in words")
	d.wantShown(t, "Ends at", d.faultName(fault), gradeWords(c.grade))
}

// In the circuit another fault can be chosen; the page is then an ordinary
// circuit.
func TestDrawnRigBecomesAnOrdinaryCircuit(t *testing.T) {
	d := desk(t, wide, func(o *Options) { o.ContentDir = "" })
	d.tryTree(t, "pedestal-30a", "300", "2", true)
	m := d.toMatrix(t)
	d.key(fyne.KeyReturn)
	d.moveTo(func(l *Location) { l.ID, l.Query = "coach-50a", "open-neutral" }, "")
	if at := d.Here(); at.Page != pageCircuit || at.Step != 0 {
		t.Fatalf("the place is %+v", at)
	}
	if f := d.bench.scene.Fault(); f == nil || f.ID != "open-neutral" {
		t.Errorf("the circuit shows %v", f)
	}
	d.Back()
	if d.Here().Page != pageTrial || m == nil {
		t.Errorf("back leads to %+v", d.Here())
	}
}

// A trial that was stopped, or made of a handbook that was read again, leaves
// nothing behind, and a place in it says so.
func TestStaleTrialsAreDropped(t *testing.T) {
	d := desk(t, small, func(o *Options) { o.ContentDir = "" })
	d.tryTree(t, "pedestal-30a", "200", "2", true)
	d.openTried(d.Here(), findingWith(d.trials.done["pedestal-30a"].report))
	d.wantShown(t, "Ambiguity group")
	d.load()
	d.wantShown(t, "This trial is not there any more", "The same number of rigs and the same seed give the same report")
	d.press(t, "To the trial")
	d.wantShown(t, "has not been tried yet")

	// Stopped while it walks: the Runner drops the result.
	dropped := false
	told := 0
	RunTelling(&d.runner, jobTrial, func(ctx context.Context, tell func(done, total int)) int {
		tell(1, 10)
		d.stopTrial()
		if ctx.Err() == nil {
			t.Error("the work was not told that it was stopped")
		}
		tell(2, 10)
		return 1
	}, func(done, total int) { told++ }, func(int) { dropped = true })
	if told != 1 || dropped {
		t.Errorf("told %d times, result used: %v", told, dropped)
	}
	d.wantShown(t, "The trial was stopped.")
}

// Progress reaches the window once for each percent, and never goes back.
func TestRunTelling(t *testing.T) {
	r := Runner{Inline: true}
	var told []int
	got := 0
	RunTelling(&r, "walk", func(_ context.Context, tell func(done, total int)) int {
		for _, done := range []int{0, 1, 500, 499, 505, 510, 1000, 1000} {
			tell(done, 1000)
		}
		return 7
	}, func(done, _ int) { told = append(told, done) }, func(v int) { got = v })
	if want := []int{0, 500, 510, 1000}; len(told) != len(want) || told[1] != 500 || told[2] != 510 || told[3] != 1000 {
		t.Errorf("told %v, want %v", told, want)
	}
	if got != 7 {
		t.Errorf("done got %d", got)
	}
}

// sample is a report with a cell of every grade: faults a to e, findings f#1
// to f#3, where f#1 names a, f#2 declares b and lacks c, and f#3 clears falsely.
func sample() *trial.Report {
	cell := func(role, fault, finding string, walks, wrong, draw int) trial.Cell {
		return trial.Cell{Role: role, Fault: fault, Finding: finding, Walks: walks, False: wrong, Draw: draw}
	}
	sound := cell("owner", trial.NoFault, "f#3", 10, 0, 1)
	sound.Credit = 1
	out := cell("owner", "c", "f#2", 4, 0, 90)
	out.Outside = true
	return &trial.Report{Tree: "f", Rigs: 100, Findings: []trial.Finding{
		{ID: "f#1", Title: "one", Names: []string{"a"}},
		{ID: "f#2", Title: "two", Declared: []string{"b"}, Missing: []trial.Gap{{Fault: "c"}}},
		{ID: "f#3", Title: "three.", Clears: []string{"supply"}},
		{ID: "f#4", Title: "never reached"},
	}, Cells: []trial.Cell{
		sound,
		cell("owner", "a", "f#1", 30, 0, 5), cell("qualified", "a", "f#1", 9, 0, 4), cell("owner", "a", "f#2", 1, 0, 6),
		cell("owner", "b", "f#2", 10, 0, 20), cell("owner", "c", "f#2", 2, 0, 30), cell("owner", "d", "f#3", 1, 1, 40),
		cell("owner", "d", "f#2", 299, 0, 41), out,
	}}
}

func TestTabulate(t *testing.T) {
	both := tabulate(sample(), "")
	var rows []string
	for _, r := range both.rows {
		rows = append(rows, r.name())
	}
	if got := strings.Join(rows, " "); got != "no-fault a b c d c *" {
		t.Errorf("rows %q", got)
	}
	if len(both.columns) != 3 {
		t.Errorf("%d columns; a finding that no walk reached has none", len(both.columns))
	}
	want := []struct {
		label string
		grade matrix.Grade
		draw  int
	}{
		{"100", matrix.Named, 1}, {"98", matrix.Named, 4}, {"3", matrix.Absent, 6}, {"(100)", matrix.Declared, 20},
		{"?100", matrix.Silent, 30}, {"100", matrix.Absent, 41}, {"!<1", matrix.False, 40}, {"100", matrix.Absent, 90},
	}
	if len(both.cells) != len(want) {
		t.Fatalf("%d cells, want %d", len(both.cells), len(want))
	}
	for i, w := range want {
		if c := both.cells[i]; c.label() != w.label || c.grade != w.grade || c.draw != w.draw {
			t.Errorf("cell %d: %q grade %d draw %d, want %+v", i, c.label(), c.grade, c.draw, w)
		}
	}
	worst := both.worst()
	if len(worst) != 4 || worst[0].grade != matrix.False || worst[1].grade != matrix.Silent || worst[2].walks != 299 {
		t.Errorf("worst cells %+v", worst)
	}
	owner := tabulate(sample(), "owner")
	if c := owner.cells[1]; c.walks != 30 || c.draw != 5 {
		t.Errorf("the owner's cell is %+v", c)
	}
	name := func(id string) string { return "fault " + id }
	if got, want := both.cellWords(both.cells[1], name), "fault a: 39 of its 40 walks (98 %) ended at 1, “one”. Named by the finding."; got != want {
		t.Errorf("words %q, want %q", got, want)
	}
}

func TestBandsKeepEveryCell(t *testing.T) {
	whole := tabulate(sample(), "")
	for most := 1; most < 5; most++ {
		n, seen := 0, map[string]bool{}
		for _, b := range whole.bands(most) {
			if len(b.columns) > most {
				t.Errorf("%d columns in a band of %d", len(b.columns), most)
			}
			for _, c := range b.cells {
				n++
				seen[b.rows[c.row].name()+" at "+b.columns[c.column].id] = true
			}
		}
		if n != len(whole.cells) || len(seen) != n {
			t.Errorf("bands of %d have %d cells, want %d", most, n, len(whole.cells))
		}
	}
}

func TestPercents(t *testing.T) {
	for share, want := range map[float64]string{0: "0 %", 0.0004: "less than 0.1 %", 0.031: "3.1 %", 0.5: "50 %", 0.9996: "99.9 %", 1: "100 %"} {
		if got := percentOf(share); got != want {
			t.Errorf("%v is written %q, want %q", share, got, want)
		}
	}
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1,000", 1234567: "1,234,567"} {
		if got := thousands(n); got != want {
			t.Errorf("%d is written %q, want %q", n, got, want)
		}
	}
}

// Every cell is reached by arrow keys, opened by Enter and by a tap; the head
// of a column opens its finding.
func TestMatrixByKeyAndTap(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light, 1))
	whole := tabulate(sample(), "")
	var opened []trialCell
	heads := 0
	m := newTrialMatrix(whole, func(c trialCell) string { return c.label() })
	m.onOpen = func(c trialCell) { opened = append(opened, c) }
	m.onFinding = func(c trialColumn) { heads += c.number }
	w := test.NewTempWindow(t, m)
	w.Resize(fyne.NewSize(600, 400))
	w.Canvas().Focus(m)
	press := func(name fyne.KeyName) { m.TypedKey(&fyne.KeyEvent{Name: name}) }
	press(fyne.KeyHome)
	for range whole.cells {
		press(fyne.KeyReturn)
		press(fyne.KeyRight)
	}
	if len(opened) != len(whole.cells) {
		t.Fatalf("%d cells opened by key, want %d", len(opened), len(whole.cells))
	}
	press(fyne.KeyHome)
	press(fyne.KeyDown)
	if c := whole.cells[m.at]; c.row != 1 || c.column != 1 {
		t.Errorf("down leads to row %d column %d; the nearest cell is in column 1", c.row, c.column)
	}
	g := m.grid(m.Size().Width)
	opened = nil
	for _, c := range whole.cells {
		at := fyne.NewPos(g.names+(float32(c.column)+0.5)*g.col, g.head+(float32(c.row)+0.5)*g.row)
		m.Tapped(&fyne.PointEvent{Position: at})
		if n := len(opened); n == 0 || opened[n-1] != c {
			t.Errorf("a tap on row %d column %d opens another cell", c.row, c.column)
		}
	}
	for k := range whole.columns {
		m.Tapped(&fyne.PointEvent{Position: fyne.NewPos(g.names+(float32(k)+0.5)*g.col, g.head/2)})
	}
	if heads != 1+2+3 {
		t.Errorf("the heads open findings that sum up to %d", heads)
	}
	n := len(opened)
	m.Tapped(&fyne.PointEvent{Position: fyne.NewPos(g.names/2, g.head+g.row/2)}) // a name
	if len(opened) != n {
		t.Error("a tap on a name opens something")
	}
}

// Numbers in cells can be read in every mode, 4.5 to 1 as everywhere, and no
// cell is green.
func TestMatrixContrast(t *testing.T) {
	a := test.NewTempApp(t)
	for _, mode := range []look.Mode{look.Light, look.Dark, look.HighContrast} {
		a.Settings().SetTheme(look.NewTheme(mode, 1))
		r := newTrialMatrix(tabulate(sample(), ""), func(trialCell) string { return "" }).CreateRenderer().(*matrixRenderer)
		for grade := matrix.Named; grade <= matrix.False; grade++ {
			for share := 0.0; share <= 1; share += 0.05 {
				ground, ink := r.colors(trialCell{grade: grade, share: share})
				g, i := color.NRGBAModel.Convert(ground).(color.NRGBA), color.NRGBAModel.Convert(ink).(color.NRGBA)
				if c := figure.Contrast(g, i); c < 4.5 {
					t.Errorf("%s, grade %d, share %.2f: %.2f to 1", mode, grade, share, c)
				}
				if int(g.G) > int(g.R)+16 && int(g.G) > int(g.B)+16 {
					t.Errorf("%s, grade %d: green %v", mode, grade, g)
				}
			}
		}
	}
}
