package visit

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// journalOf walks the unchanged forest and gives the visit on record.
func journalOf(t *testing.T, typed ...string) Visit {
	t.Helper()
	r, log := begin(t, header(), tingle())
	walked(t, r, typed...)
	return read(t, log.text)
}

// replayed is the only round of v over a changed forest.
func replayed(t *testing.T, v Visit, change func(*faulttree.Forest)) Played {
	t.Helper()
	f := tingle()
	change(f)
	f.Trees["tingle"].Index()
	p := v.Replay(f)[0]
	if p.Err != nil {
		t.Fatal(p.Err)
	}
	if got, want := len(p.Answers), len(v.Rounds()[0].Items); got != want {
		t.Fatalf("%d of %d answers are accounted for", got, want)
	}
	return p
}

func TestRenamedStep(t *testing.T) {
	v := journalOf(t, "", "no", "118", "3 V")
	p := replayed(t, v, func(f *faulttree.Forest) {
		tree := f.Trees["tingle"]
		tree.Step("leg").ID = "legs"
		tree.Step("felt").Choices[1].To.Step = "legs"
	})
	if got := trail(p.Walk); got != "first= felt=no @legs" {
		t.Errorf("the walk stands at %s", got)
	}
	lapsed := p.Lapsed()
	if len(lapsed) != 2 || lapsed[0].Why != "The walk now asks step tingle#legs, not tingle#leg." {
		t.Errorf("lapsed: %v", lapsed)
	}
}

func TestChangedQuantity(t *testing.T) {
	v := journalOf(t, "", "no", "118")
	p := replayed(t, v, func(f *faulttree.Forest) {
		q := f.Quantities[panel]
		q.ID = panel + "@loaded"
		f.Trees["tingle"].Step("leg").Measure[0].Quantity = q
	})
	lapsed := p.Lapsed()
	if len(lapsed) != 1 || !strings.Contains(lapsed[0].Why, "now measures panel.l1-n@loaded in V AC; the record has panel.l1-n in V AC") {
		t.Errorf("lapsed: %v", lapsed)
	}
}

func TestReadingNoLongerTaken(t *testing.T) {
	v := journalOf(t, "", "no", "118")
	p := replayed(t, v, func(f *faulttree.Forest) {
		f.Trees["tingle"].Step("leg").Measure[0].Quantity.Most = 100 * faulttree.One
	})
	if lapsed := p.Lapsed(); len(lapsed) != 1 || !strings.Contains(lapsed[0].Why, "is no longer taken") {
		t.Errorf("lapsed: %v", lapsed)
	}
}

// The parsed fields are a check on the text: where they disagree the reading
// is asked again rather than believed.
func TestTextAndNumbersMustAgree(t *testing.T) {
	v := journalOf(t, "", "no", "118")
	v.Records[2].Replies[0].Readings[0].Reading.High = 119 * faulttree.One
	p := replayed(t, v, func(*faulttree.Forest) {})
	if lapsed := p.Lapsed(); len(lapsed) != 1 || !strings.Contains(lapsed[0].Why, "“118” of panel.l1-n is now read as 118 V") {
		t.Errorf("lapsed: %v", lapsed)
	}
}

// A body reading that can hurt is judged even if the handbook has moved its
// step out of the way: it must not wait while the walk heads for "no fault".
func TestDangerOutranksAChangedHandbook(t *testing.T) {
	v := journalOf(t, "", "no", "118", "58 V")
	moved := func(f *faulttree.Forest) {
		tree := f.Trees["tingle"]
		tree.Step("body").ID = "body-to-earth"
		for i := range tree.Step("leg").Branches {
			tree.Step("leg").Branches[i].To.Step = "low" // ends early, without a body reading
		}
		tree.Step("felt").Choices[0].To.Step = "body-to-earth"
	}
	p := replayed(t, v, moved)
	if at, stopped := p.Walk.Stop(); !stopped || at.Step != "stop" {
		t.Errorf("58 V on the body and the walk stands at %s", trail(p.Walk))
	}
	lapsed := p.Lapsed()
	if len(lapsed) != 1 || lapsed[0].Item.Reply.Step.Step != "leg" {
		t.Errorf("lapsed: %v", lapsed)
	}
}

// A supplied reading that can hurt stays in force when an earlier answer is
// changed.
func TestChangeKeepsDanger(t *testing.T) {
	f := tingle()
	r, _ := begin(t, header(), f)
	r = walked(t, r, "", "no")
	hurts, _ := faulttree.ParseReading("58 V", f.Quantities[body])
	r, want, err := r.Supply(minute(3), faulttree.Supplied{Readings: map[string][]faulttree.Reading{body: {hurts}}})
	if err != nil || want != "tingle#stop" {
		t.Fatalf("supplied 58 V on the body: wants %q, %v", want, err)
	}
	r, dropped, err := r.Change(minute(4), 1, faulttree.Answer{Choice: "yes"})
	if err != nil || len(dropped) > 0 {
		t.Fatalf("dropped %v, %v", dropped, err)
	}
	if _, stopped := r.Walk().Stop(); !stopped {
		t.Errorf("after the change the walk stands at %s, past a reading that can hurt", trail(r.Walk()))
	}
}

// A jumped-to reading corrected to a low one waits for its turn: the walk may
// not end at its step without having asked what comes before.
func TestCorrectedJumpWaits(t *testing.T) {
	f := tingle()
	r, _ := begin(t, header(), f)
	hurts, _ := faulttree.ParseReading("58 V", f.Quantities[body])
	r, _, err := r.Supply(minute(1), faulttree.Supplied{Readings: map[string][]faulttree.Reading{body: {hurts}}})
	if err != nil {
		t.Fatal(err)
	}
	low, _ := faulttree.ParseReading("0.4 V", f.Quantities[body])
	r, _, err = r.Change(minute(2), 0, faulttree.Answer{Readings: []faulttree.Reading{low}})
	if err != nil {
		t.Fatal(err)
	}
	if got := trail(r.Walk()); got != " @first" {
		t.Errorf("the walk stands at %s, want the first step", got)
	}
	if given := r.Current().Round.Unasked; len(given) != 1 || given[0].Text != "0.4 V" {
		t.Errorf("the corrected reading is not kept: %v", given)
	}
	if r = walked(t, r, "", "no", "118"); trail(r.Walk()) != "first= felt=no leg=118 body=0.4 V @low" {
		t.Errorf("where the body is asked, the corrected reading is not taken: %s", trail(r.Walk()))
	}
}

func TestTreeGone(t *testing.T) {
	v := journalOf(t, "", "no", "118")
	p := v.Replay(&faulttree.Forest{})[0]
	if p.Err == nil || len(p.Answers) != 3 || p.Answers[2].Stands() || p.Answers[2].Why == "" {
		t.Errorf("without its tree: %v, %v", p.Err, p.Answers)
	}
	if _, err := Resume(&lines{}, v, &faulttree.Forest{}); err == nil {
		t.Error("a visit resumes in a handbook without its tree")
	}
}

func TestRetestKeepsTheFirstRound(t *testing.T) {
	r, log := begin(t, header(), tingle())
	r = walked(t, r, "", "yes", "58 V", "", "OL")
	r = must.Have(r.Retest(minute(60), faulttree.Ref{Tree: "tingle", Step: "body"}))(t)
	r = walked(t, r, "1.2 V")
	rounds := read(t, log.text).Replay(tingle())
	if len(rounds) != 2 || trail(rounds[0].Walk) != "first= felt=yes body=58 V stop= ground=OL @open" || trail(rounds[1].Walk) != "body=1.2 V @low" {
		t.Errorf("rounds are %v", rounds)
	}
	if !rounds[1].Round.Began.Equal(minute(60)) {
		t.Errorf("the second round began %v", rounds[1].Round.Began)
	}
	if _, err := r.Retest(minute(61), faulttree.Ref{Tree: "tingle", Step: "nowhere"}); err == nil {
		t.Error("a test after repair begins at a step that is not there")
	}
}

// An answer taken back over a damaged line takes nothing else away.
func TestBackOverDamage(t *testing.T) {
	r, log := begin(t, header(), tingle())
	r = walked(t, r, "", "no", "118")
	r = must.Have(r.Back(minute(5)))(t)
	hurt := []byte(strings.Replace(string(log.text), `"118"`, `"117"`, 1))
	v, _, err := Read(hurt)
	if err != nil || len(v.Damage) != 1 {
		t.Fatal(err, v.Damage)
	}
	if got := trail(v.Replay(tingle())[0].Walk); got != "first= felt=no @leg" {
		t.Errorf("the walk is %s", got)
	}
}
