package class

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"

	"faultwright/content"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"

	"github.com/google/go-cmp/cmp"
)

// by marks as a test says.
type by func(s *content.Scenario, a practice.Attempt) *Marks

func (m by) Mark(_ context.Context, all []Try, done func(int, *Marks, error)) error {
	for i, t := range all {
		done(i, m(t.Scenario, t.Attempt), nil)
	}
	return nil
}

// A word and a shape say all, and with names hidden nothing says who is who.
func TestTable(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step", "bright-over-the-sink")
	lark := handedIn(t, a, "Lark", 3e9)
	lark.Attempts[0].Conclusion = nil
	files := map[string][]byte{
		"wren":  written(t, handedIn(t, a, "Wren", 7e9)),
		"finch": changed(t, written(t, handedIn(t, a, "Finch", 8e9)), attemptEntry, `"120.0 V"`, `"12.0 V"`),
		"lark":  written(t, lark),
	}
	c := markedClass(t, folderOf(t, a, files), Options{}, by(func(s *content.Scenario, a practice.Attempt) *Marks {
		if !a.Ended() {
			return &Marks{}
		}
		if s.ID == "bright-over-the-sink" {
			return marked(100, "careful")
		}
		return marked(45, "partly", "went in with a hand on a body that had not been read")
	}))
	want := Table{Columns: []string{"Barefoot on the steel step", "Bright over the sink, brown in the bedroom"}, Rows: []Row{
		{"Finch", []Cell{{Shape: "≠", Word: "edited"}, {Shape: "●", Word: "careful", Total: "100"}}, false},
		{"Lark", []Cell{{Shape: "…", Word: "no conclusion"}, {Shape: "●", Word: "careful", Total: "100"}}, false},
		{"Wren", []Cell{{Shape: "◑", Word: "partly", Total: "45", Unsafe: "▲ 1 unsafe act"}, {Shape: "●", Word: "careful", Total: "100"}}, false},
	}}
	if diff := cmp.Diff(want, c.Table(false)); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
	seen := map[string]bool{}
	for _, r := range c.Table(true).Rows {
		seen[r.Name] = true
	}
	if len(seen) != 3 || !seen["Learner 1"] || !seen["Learner 3"] {
		t.Errorf("hidden they are %v", seen)
	}
	var csv strings.Builder
	must.Do(t, c.CSV(&csv, true))
	for _, name := range []string{"Wren", "wren", "Finch", "Lark"} {
		if strings.Contains(csv.String(), name) {
			t.Errorf("with names hidden the list says %s", name)
		}
	}
}

// What most learners missed comes first.
func TestGaps(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	held := practice.Act{Kind: practice.Read, Red: "panel.l1", Black: "panel.n", Setting: meter.Setting{Function: meter.VoltsAC, Hold: true}}
	files := map[string][]byte{}
	for i, name := range []string{"Wren", "Finch", "Lark"} {
		f := AttemptFile{Learner: name, Assignment: a.ID, Handbook: shipped.Fingerprint(), Saved: noon}
		f.Attempts = append(f.Attempts, playSet(t, a, name, i < 2, held))
		files[name] = written(t, f)
	}
	c := markedClass(t, folderOf(t, a, files), Options{}, by(func(_ *content.Scenario, a practice.Attempt) *Marks {
		m := marked(30, "not yet", "unsafe")
		m.Early = len(a.Acts) > 1
		return m
	}))
	g := c.Gaps(shipped)
	if len(g.Wrong) != 1 || len(g.Wrong[0].Learners) != 2 || g.Wrong[0].Text != "Panel: L1 to neutral · AC volts, hold: the hold is on, so it shows what stood there before" {
		t.Errorf("%+v", g.Wrong)
	}
	if len(g.Unsafe) != 1 || g.Unsafe[0].Times != 3 || g.Unsafe[0].Text != "Unread" || len(g.Missed) != 1 || len(g.Missed[0].Learners) != 3 || g.Missed[0].Text != "Place" {
		t.Errorf("%+v, %+v", g.Unsafe, g.Missed)
	}
	for _, l := range c.Learners {
		l.Tries[0].Attempt.Conclusion = nil
	}
	if g := c.Gaps(shipped); len(g.Missed) != 0 || len(g.Unsafe) != 1 {
		t.Errorf("of an attempt without a conclusion: %+v, %+v", g.Missed, g.Unsafe)
	}
	if len(g.Early) != 1 || len(g.Early[0].Learners) != 3 || g.Early[0].ID != "barefoot-on-the-steel-step" {
		t.Errorf("%+v", g.Early)
	}
}

// playSet is an attempt of two readings, the second perhaps as one should not.
func playSet(t *testing.T, a *Assignment, learner string, wrong bool, act practice.Act) practice.Attempt {
	t.Helper()
	if !wrong {
		act.Setting.Hold = false
	}
	return play(t, a, 0, learner, 4e9, practice.Act{Kind: practice.Prove}, act)
}

// marked is marks that a test makes up.
func marked(total int, word string, unsafe ...string) *Marks {
	m := &Marks{Marks: mark.Marks{Total: total, Word: word, Parts: []mark.Part{{ID: "place", Title: "Place", Points: 3, Of: 10, Card: "ghost-voltage"}}}, Rubric: rubric.Rubric{Caps: []rubric.Cap{{Rule: rubric.BodyUnknown, Title: "Unread"}}}}
	for _, text := range unsafe {
		m.Caps = append(m.Caps, mark.Cap{Rule: rubric.BodyUnknown, Text: text})
	}
	return m
}

// markedClass is the class of a folder, marked.
func markedClass(t testing.TB, folder fstest.MapFS, o Options, m Marker) *Class {
	t.Helper()
	c := collected(t, folder, o)
	must.Do(t, c.Mark(context.Background(), m, nil))
	return c
}

// A reading is wrong where the dial is on the kind of volts that the handbook does not read
// there, whatever the customer complains of: a vehicle that is looked at for its 12 V has
// 120 V, too, and its body is read in AC volts.
func TestTheKindOfVoltsThatIsThere(t *testing.T) {
	for _, x := range []struct {
		red, black string
		on         meter.Function
		want       string
	}{
		{"battery.pos", "battery.neg", meter.VoltsDC, ""},
		{"battery.pos", "battery.neg", meter.VoltsAC, "it is DC there"},
		{"battery.neg", "battery.pos", meter.LowZ, "it is DC there"},
		{"panel.l1", "panel.n", meter.VoltsAC, ""},
		{"panel.n", "panel.l1", meter.LowZ, ""},
		{"panel.l1", "panel.n", meter.VoltsDC, "it is AC there"},
		{"body", "earth", meter.VoltsAC, ""},
		{"dc.neg", "earth", meter.VoltsAC, ""}, // the handbook reads nothing there
	} {
		a := practice.Act{Kind: practice.Read, Red: x.red, Black: x.black, Setting: meter.Setting{Function: x.on}}
		if got := wrongReading(shipped, a); got != x.want {
			t.Errorf("%s to %s, dial %v: %q, not %q", x.red, x.black, x.on, got, x.want)
		}
	}
}

// From six scenarios on a table has numbers above its columns and signs in its cells.
func TestATableOfManyIsShort(t *testing.T) {
	few, many := Table{Columns: make([]string, mostWorded)}, Table{Columns: make([]string, mostWorded+1)}
	few.Columns[4] = "Barefoot"
	if !few.Worded() || few.Heads()[4] != "Barefoot" || many.Worded() || many.Heads()[5] != "6" {
		t.Errorf("above the columns stand %q and %q", few.Heads(), many.Heads())
	}
	for want, c := range map[string]Cell{
		"● 100":     {Shape: "●", Word: "thorough", Total: "100"},
		"◔ 20 ▲ =":  {Shape: "◔", Word: "not yet", Total: "20", Unsafe: "▲ 2 unsafe acts", Doubt: "= alike"},
		"≠ =":       {Shape: "≠", Word: "edited", Doubt: "= alike"},
		"handed in": {Word: "handed in"},
	} {
		if got := c.Short(); got != want {
			t.Errorf("%+v is %q, not %q", c, got, want)
		}
	}
}
