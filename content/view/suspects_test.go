package view_test

import (
	"context"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

// three is a sound vehicle, one whose cord's neutral is open, and one whose
// ground is.
type three struct{}

func (three) Cases() []suspect.Case {
	with := func(fault string, place faulttree.Place) []suspect.PlacedFault {
		return []suspect.PlacedFault{{Fault: fault, Place: place}}
	}
	return []suspect.Case{
		{Rig: "coach", System: "120 V", Weight: 0.2},
		{Rig: "coach", System: "120 V", Faults: with("open-neutral", faulttree.Cord), Weight: 0.4},
		{Rig: "coach", System: "120 V", Faults: with("open-ground", faulttree.Supply), Weight: 0.4},
	}
}

func (three) Column(_ context.Context, q faulttree.Quantity) ([]float32, error) {
	switch q.ID {
	case "panel.l1-n@loaded":
		return []float32{118, 59, 118}, nil
	case "panel.l2-n@loaded":
		return []float32{118, 177, 118}, nil
	case "panel.l1-n", "panel.l2-n", "outlet.h-n", "outlet.h-g", "outlet.h-n@loaded":
		return []float32{118, 118, 118}, nil
	}
	return blank, nil
}

var blank = []float32{float32(math.NaN()), float32(math.NaN()), float32(math.NaN())}

func (three) Seen(context.Context, string, string) ([]float32, error) { return blank, nil }
func (three) Gone(context.Context, string, string) ([]float32, error) { return blank, nil }
func (p three) More(context.Context, []int, int) (suspect.Population, error) {
	return p, nil
}

func describe(fault string, place faulttree.Place) suspect.Described {
	switch fault {
	case "open-neutral":
		return suspect.Described{Title: "The neutral is open", Hazard: faulttree.Danger, Do: "Keep it unplugged. Replace the whole cord.", RepairBy: "the owner", Test: "Ohms of the cord"}
	case "open-ground":
		return suspect.Described{Title: "The grounding conductor is open", Hazard: faulttree.Danger, Do: "Do not plug in here.", RepairBy: "the site's electrician", Test: "A loop test"}
	}
	return suspect.Described{}
}

// account is readings by their quantities, as typed.
func account(t *testing.T, pairs ...string) view.Account {
	t.Helper()
	a := view.Account{Facts: map[string]string{"service": "50a"}}
	for i := 0; i < len(pairs); i += 2 {
		q := load.Shipped().Forest.Quantities[pairs[i]]
		if q.ID == "" {
			t.Fatalf("there is no quantity %s", pairs[i])
		}
		r := must.Have(faulttree.ParseReading(pairs[i+1], q))(t)
		a.Evidence = append(a.Evidence, suspect.Evidence{Quantity: q, Reading: r})
	}
	return a
}

func suspectsOf(t *testing.T, a view.Account) view.Suspects {
	t.Helper()
	lib, m := load.Shipped(), faulttree.DefaultMeter()
	b := must.Have(suspect.New(three{}, m, describe).Belief(context.Background(), a.Evidence))(t)
	return view.SuspectsOf(lib, b, m)
}

func TestSuspectsInWordsFirst(t *testing.T) {
	v := suspectsOf(t, account(t, "panel.l1-n@loaded", "59", "panel.l2-n@loaded", "177"))
	if len(v.Likely) != 1 || v.Likely[0].Text() != "most likely, above 99 %: The neutral is open (cord)" || v.Likely[0].Worst != "" {
		t.Errorf("likely are %+v", v.Likely)
	}
	if v.None != nil {
		t.Errorf("none fits: %+v", v.None)
	}
	if len(v.Unlikely) != 2 || v.Unlikely[0].Worst == "" {
		t.Errorf("unlikely are %+v", v.Unlikely)
	}
	if want := "Fits worst: Panel: "; !strings.HasPrefix(v.Unlikely[0].Worst, want) || !strings.Contains(v.Unlikely[0].Worst, "expected 118 V.") {
		t.Errorf("it says %q", v.Unlikely[0].Worst)
	}
	if len(v.Open) != 2 || v.Open[0].Text() != "Ohms of the cord would show: The neutral is open." {
		t.Errorf("open are %+v; expected that of the ground too, which nothing read could have shown", v.Open)
	}
}

// cordAndSite is one vehicle whose cord and whose site are both at fault.
type cordAndSite struct{ three }

func (cordAndSite) Cases() []suspect.Case {
	return []suspect.Case{{System: "120 V", Weight: 1, Faults: []suspect.PlacedFault{{Fault: "open-neutral", Place: faulttree.Cord}, {Fault: "open-ground", Place: faulttree.Supply}}}, {System: "120 V"}, {System: "120 V"}}
}

// Where several people repair it is said who repairs which, each once.
func TestWhoRepairsWhat(t *testing.T) {
	for _, c := range []struct{ cord, site, want string }{
		{"the owner; a qualified person fits an end", "the site's electrician", "The grounding conductor is open: the site's electrician. The neutral is open: the owner; a qualified person fits an end."},
		{"a qualified person; the joint", "a qualified person; the joint", "A qualified person; the joint."},
	} {
		by := func(fault string, place faulttree.Place) suspect.Described {
			d := describe(fault, place)
			d.RepairBy = map[faulttree.Place]string{faulttree.Cord: c.cord, faulttree.Supply: c.site}[place]
			return d
		}
		b := must.Have(suspect.New(cordAndSite{}, faulttree.DefaultMeter(), by).Belief(context.Background(), nil))(t)
		if got := view.SuspectsOf(load.Shipped(), b, faulttree.DefaultMeter()).Likely[0].RepairBy; got != c.want {
			t.Errorf("it says %q; expected %q", got, c.want)
		}
	}
}

// Readings that no vehicle has: that none fits stands first, with what to make
// sure of.
func TestNoneOfTheseLeads(t *testing.T) {
	v := suspectsOf(t, account(t, "panel.l1-n", "30", "panel.l2-n", "41", "outlet.h-n", "52", "outlet.h-g", "63", "outlet.h-n@loaded", "74"))
	if v.None == nil || !v.None.Leads || !strings.HasPrefix(v.Text(), view.NoneTitle) || !strings.Contains(v.None.Text, "make sure") {
		t.Errorf("none is %+v:\n%s", v.None, v.Text())
	}
}

// A danger limit of whatever tree, whoever read it: what the STOP of that tree
// says comes back, once for all readings that call for it.
func TestDangerLimitsAlarm(t *testing.T) {
	lib, m := load.Shipped(), faulttree.DefaultMeter()
	a := account(t, "panel.l1-n@loaded", "118", "body-earth", "58", "body-earth", "57")
	a.Evidence[1].Doubtful, a.Evidence[1].Told = true, true
	all := view.AlarmsOf(lib, a, m)
	if len(all) != 1 || len(all[0].Texts) != 2 || all[0].Title != "STOP: the body is live. It can kill." || len(all[0].Do) != 3 || all[0].Walk.ID != "body-voltage" {
		t.Fatalf("alarms are %+v", all)
	}
	rows := view.RowsOf(lib, a, m)
	if want := "reaches the danger limit of 30 V"; rows[1].Danger != want || !strings.Contains(rows[1].Text(), "not sure, told by somebody else, "+want) || rows[0].Danger != "" {
		t.Errorf("rows are %+v", rows)
	}
	// After a repair it stands until the same was read again.
	later := account(t, "panel.l1-n@loaded", "118")
	later.Evidence[0].Round = 1
	a.Evidence = append(a.Evidence, later.Evidence...)
	if len(view.AlarmsOf(lib, a, m)) != 1 {
		t.Error("a reading after a repair silences the STOP of another quantity")
	}
	later = account(t, "body-earth", "0.4")
	later.Evidence[0].Round = 1
	a.Evidence = append(a.Evidence, later.Evidence...)
	if all := view.AlarmsOf(lib, a, m); len(all) != 0 {
		t.Errorf("read again after the repair, alarms are %+v", all)
	}
}

// A danger limit of what no walk asks for: the step that its tree names says what
// to do at once.
func TestDangerLimitsNobodyAsksFor(t *testing.T) {
	lib, m := load.Shipped(), faulttree.DefaultMeter()
	all := view.AlarmsOf(lib, account(t, "panel.l1-n@loaded", "59", "panel.l2-n@loaded", "177", "panel.n-g@loaded", "59"), m)
	if len(all) != 1 || len(all[0].Texts) != 2 || all[0].Title != "Breaker off, plug out, now" || len(all[0].Do) != 3 || all[0].Walk.ID != "half-dead" {
		t.Fatalf("alarms are %+v", all)
	}
	if all := view.AlarmsOf(lib, account(t, "panel.l2-n@loaded", "177", "body-earth", "58"), m); len(all) != 2 || all[0].Walk.ID != "body-voltage" || all[1].Walk.ID != "half-dead" {
		t.Errorf("what forbids to touch anything does not come first: %+v", all)
	}
	if all := view.AlarmsOf(lib, account(t, "pedestal.n-g", "119"), m); len(all) != 1 || all[0].Title != "Plug nothing in here" || all[0].Walk.ID != "pedestal" {
		t.Errorf("119 V from neutral to ground at a pedestal: %+v", all)
	}
	// 131 V is above service range B of ANSI C84.1 (127 V), and passes with the hour; 180 V does not.
	for _, c := range []struct {
		read []string
		told string
	}{
		{[]string{"pedestal.l1-n", "131"}, "is above 127 V, too much to plug in"},
		{[]string{"pedestal.l1-n", "131", "pedestal.l1-n", "121"}, ""},
		{[]string{"pedestal.l1-n", "180", "pedestal.l1-n", "121"}, "reaches the danger limit of 140 V"},
		{[]string{"pedestal.l1-n", "126", "pedestal.l2-n", "126", "pedestal.l1-l2", "252"}, ""},
	} {
		all := view.AlarmsOf(lib, account(t, c.read...), m)
		if len(all) > 0 != (c.told != "") || len(all) > 0 && (all[0].Title != "Plug nothing in here" || !strings.Contains(all[0].Texts[0], c.told)) {
			t.Errorf("%v: %+v; want told that it %s", c.read, all, c.told)
		}
	}
	if all := view.AlarmsOf(lib, account(t, "panel.l1-n@loaded", "118", "panel.l2-n@loaded", "121", "panel.n-g@loaded", "1.2"), m); len(all) != 0 {
		t.Errorf("a sound panel alarms: %+v", all)
	}
}

// A step that says nothing but its title is told by that alone, beside a walk as in an alarm.
func TestWhatIsDoneAtOnceMayBeATitle(t *testing.T) {
	shipped := load.Shipped()
	lib := *shipped
	lib.Prose = maps.Clone(shipped.Prose)
	delete(lib.Prose, faulttree.Ref{Tree: "half-dead", Step: "too-bright"})
	a, m := account(t, "panel.l2-n@loaded", "177"), faulttree.DefaultMeter()
	if all := view.AlarmsOf(&lib, a, m); len(all) != 1 || all[0].Title != "Breaker off, plug out, now" || len(all[0].Do) != 0 {
		t.Errorf("alarms are %+v", all)
	}
	w := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "half-dead"}, faulttree.Owner, m))(t).Beside(a.Readings())
	if all := view.GivenOf(&lib, w); len(all) != 1 || !strings.HasSuffix(all[0].Text, "140 V. Breaker off, plug out, now.") {
		t.Errorf("beside a walk it is told as %+v", all)
	}
}

// What the handbook does not know is kept, and counts for nothing.
func TestAccountKeepsWhatTheHandbookLacks(t *testing.T) {
	lib := load.Shipped()
	a := account(t, "panel.l1-n@loaded", "118", "panel.l2-n@loaded", "177")
	a.Facts = map[string]string{"service": "30a"} // it has no L2
	a.Evidence = append(a.Evidence,
		suspect.Evidence{Quantity: faulttree.Quantity{ID: "nowhere", Unit: faulttree.VoltsAC}},
		suspect.Evidence{Seen: &suspect.Seen{Observation: "aura", Choice: "blue"}},
		suspect.Evidence{Tried: &suspect.Tried{Intervention: "another-cord"}})
	known, unknown := a.In(lib)
	if len(known.Evidence) != 1 || len(unknown) != 4 {
		t.Errorf("%d are known, %v are not", len(known.Evidence), unknown)
	}
	for i, row := range view.RowsOf(lib, a, faulttree.DefaultMeter()) {
		if (row.WhyNot != "") != (i > 0) || row.Title == "" {
			t.Errorf("row %d is %+v", i, row)
		}
	}
	if len(a.Without(0).Evidence) != 4 || len(a.Without(9).Evidence) != 5 || len(a.Evidence) != 5 {
		t.Error("taking back one takes back something else")
	}
}

// A line of open dangers names few of many; the walks offered are those that can
// name what is likely.
func TestBriefDangersAndWays(t *testing.T) {
	links := func(n int) (out []view.Link) {
		for range n {
			out = append(out, view.Link{Title: "one"})
		}
		return out
	}
	for n, want := range map[int]string{3: "one; one; one", 4: "one; one; and 2 more"} {
		if got := (view.NotExcluded{Test: "A test", Faults: links(n)}).Brief(); got != want {
			t.Errorf("%d faults are %q; expected %q", n, got, want)
		}
	}
	a := account(t, "panel.l1-n@loaded", "59", "panel.l2-n@loaded", "177")
	ways := view.Ways(load.Shipped(), a, suspectsOf(t, a))
	if len(ways) == 0 || len(ways) > 3 {
		t.Fatalf("ways are %+v", ways)
	}
	a.Tree = ways[len(ways)-1].ID
	if again := view.Ways(load.Shipped(), a, suspectsOf(t, a)); again[0].ID != a.Tree {
		t.Errorf("who came with %s is offered %+v", a.Tree, again)
	}
}

// What is seen takes the place of what was said of it; a reading stands beside
// those before it.
func TestAccountWith(t *testing.T) {
	seen := func(choice string) suspect.Evidence {
		return suspect.Evidence{Seen: &suspect.Seen{Observation: "lamps-50a", Choice: choice}}
	}
	one := account(t, "body-earth", "5")
	a := one.With(seen("half-dead")).With(seen("all-dim")).With(one.Evidence[0])
	if len(a.Evidence) != 3 || a.Evidence[1].Seen.Choice != "all-dim" {
		t.Errorf("told is %+v", a.Evidence)
	}
	a.Repairs = 1
	if a = a.With(seen("as-ever")); len(a.Evidence) != 4 || a.Evidence[3].Round != 1 || len(one.Evidence) != 1 {
		t.Errorf("after a repair, told is %+v", a.Evidence)
	}
	if b := a.Knowing("source", "shore").Knowing("service", ""); b.Fact("source") != "shore" || b.Fact("service") != "" || a.Fact("service") != "50a" {
		t.Errorf("facts are %v, of %v", b.Facts, a.Facts)
	}
}

// A walk does not rest on a doubt, but for what may be a danger.
func TestAccountForWalk(t *testing.T) {
	lib, m := load.Shipped(), faulttree.DefaultMeter()
	a := account(t, "panel.l1-n@loaded", "118", "panel.l2-n@loaded", "117", "body-earth", "58", "body-earth", "2")
	a.Evidence[1].Doubtful, a.Evidence[2].Doubtful, a.Evidence[3].Told = true, true, true
	given, left := a.ForWalk(lib, m)
	if r := given.Readings(); left != 2 || len(r["panel.l2-n@loaded"]) != 0 || len(r["body-earth"]) != 1 || r["body-earth"][0].Text != "58" {
		t.Errorf("%d are left out of %+v", left, given)
	}
}

// Where finding and suspects part it is said, and the safer is followed; where the
// finding names one of them, declares the danger, or speaks of nothing, they do not.
func TestParting(t *testing.T) {
	lib := load.Shipped()
	open := suspectsOf(t, account(t, "panel.l1-n@loaded", "59", "panel.l2-n@loaded", "177"))
	sound := suspectsOf(t, account(t, "panel.l1-n@loaded", "118", "panel.l2-n@loaded", "118"))
	for name, c := range map[string]struct {
		finding faulttree.Finding
		fits    view.Suspects
		text    string // a part of it; "" where they agree
		danger  bool
	}{
		"named":           {faulttree.Finding{Faults: []string{"open-neutral"}, Signal: faulttree.Danger}, open, "", false},
		"named elsewhere": {faulttree.Finding{Faults: []string{"open-neutral"}, Place: faulttree.Supply, Signal: faulttree.Danger}, open, "hardly fits all of its readings together", false},
		"all-clear":       {faulttree.Finding{Clears: []faulttree.Place{faulttree.Cord}}, open, "leave open a danger that is graver than this finding: “The neutral is open” (cord)", true},
		"clears another":  {faulttree.Finding{Clears: []faulttree.Place{faulttree.Supply}}, open, "fit “The neutral is open (cord)” (most likely)", true},
		"declared":        {faulttree.Finding{Faults: []string{"high-supply"}, Signal: faulttree.Warning, CannotExclude: []faulttree.NotExcluded{{Fault: "open-neutral"}}}, open, "fit “The neutral is open (cord)” (most likely)", true},
		"milder":          {faulttree.Finding{Faults: []string{"high-supply"}, Signal: faulttree.Warning}, open, "Keep it unplugged", true},
		"of the meter":    {faulttree.Finding{Faults: []string{"meter-weak", "meter-amp-jack"}, Signal: faulttree.Danger}, open, "", false},
		"best sound":      {faulttree.Finding{Faults: []string{"high-resistance-hot"}, Signal: faulttree.Danger}, sound, "That clears nothing: do what the finding says", false},
		"nothing found": {faulttree.Finding{Signal: faulttree.Warning, CannotExclude: []faulttree.NotExcluded{{Fault: "open-neutral"}, {Fault: "high-resistance-neutral"}, {Fault: "transfer-pole-open"}}}, open,
			"This finding names no fault; its readings together fit “The neutral is open (cord)” (most likely). That is the graver", true},
		"nothing read": {faulttree.Finding{Signal: faulttree.Warning}, sound, "", false},
		"not judged":   {faulttree.Finding{Signal: faulttree.Danger}, open, "", false},
		"sound":        {faulttree.Finding{Clears: []faulttree.Place{faulttree.Cord}}, sound, "", false},
	} {
		r := faulttree.Result{Finding: c.finding}
		p := view.PartingOf(lib, r, c.fits)
		all := p.Text + strings.Join(p.Do, " ")
		if (p.Text != "") != (c.text != "") || !strings.Contains(all, c.text) || p.Danger != c.danger {
			t.Errorf("%s: %+v; expected %q, danger %v", name, p, c.text, c.danger)
		}
		r.Title, r.Finding.FirstAction, r.Finding.DoNot, r.Finding.RepairBy = "Nothing is wrong", "Plug in again.", "Do not bridge it.", "nobody"
		f := view.ResultOf(lib, r).After(p)
		if told := f.Text(); c.danger && (strings.Contains(told, "Plug in again") || strings.HasPrefix(told, "Nothing is wrong") || !strings.Contains(told, "ended at “Nothing is wrong”")) {
			t.Errorf("%s: followed, it still says:\n%s", name, told)
		}
		if c.danger && (f.RepairBy == "Nobody." || !slices.ContainsFunc(f.Faults, func(l view.Link) bool { return l.ID == "open-neutral" }) || len(f.DoNot) > 0 || !strings.Contains(f.Sure, "“Nothing is wrong”. Do not bridge it.")) {
			t.Errorf("%s: followed, the finding speaks of what it ended at: %+v", name, f)
		}
		if c.danger && (f.Signal != faulttree.Danger || f.Clears != "" || len(f.Do) == 0) {
			t.Errorf("%s: followed, the finding says %+v", name, f)
		}
	}
}

// Of what is shown the last place is kept for a reading that too much rests on.
func TestFirstNext(t *testing.T) {
	next := func(ids ...string) (out []view.Next) {
		for _, id := range ids {
			again := strings.HasSuffix(id, "!")
			out = append(out, view.Next{Title: id, Of: suspect.Next{Again: again}})
		}
		return out
	}
	for _, c := range []struct{ all, want []view.Next }{
		{next("a", "b", "c", "d"), next("a", "b")}, {next("a", "b", "c", "d!", "e!"), next("a", "d!")},
		{next("a!", "b", "c"), next("a!", "b")}, {next("a"), next("a")}, {nil, nil},
	} {
		if got := view.FirstNext(c.all, 2); !slices.EqualFunc(got, c.want, func(a, b view.Next) bool { return a.Title == b.Title }) {
			t.Errorf("of %v it is %v, want %v", c.all, got, c.want)
		}
	}
}
