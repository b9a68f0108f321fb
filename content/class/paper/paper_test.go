package paper_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/content/load"
	"faultwright/content/sheet/sheettest"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"

	"golang.org/x/net/html"
)

// evil is a name that tries to be more than text.
const evil = `<script>alert(1)</script>"'& <b>Wren`

var shipped = load.Shipped()

// pages are all pages of a class of two.
func pages(t *testing.T) map[string][]byte {
	t.Helper()
	noon := time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC)
	scenarios := []*content.Scenario{shipped.Scenarios["barefoot-on-the-steel-step"], shipped.Scenarios["dead-says-the-meter"]}
	a := must.Have(class.NewAssignment(shipped, class.Assignment{Title: "Grounds " + evil, Note: evil + "\nsecond line", Made: noon, Due: "2026-12-04", Role: faulttree.Qualified}, scenarios, false, 0))(t)
	folder := fstest.MapFS{}
	for i, name := range []string{evil, "Finch"} {
		c := scenes.CaseOf(shipped, scenarios[0])
		v := must.Have(c.Begin(faulttree.DefaultMeter()))(t)
		done := must.Have(v.Do(practice.Act{Kind: practice.Read, Red: "body", Black: "earth", At: time.Minute}))(t)
		try := practice.Attempt{Case: c.ID, Role: a.Role, Meter: faulttree.DefaultMeter(), Rules: practice.Rules, Started: noon}.With(done...)
		try = try.Conclude(practice.Conclusion{Faults: []string{"open-ground"}, Tell: evil, At: 2 * time.Minute})
		f := class.AttemptFile{Learner: name, Assignment: a.ID, Saved: noon, Handbook: shipped.Fingerprint(), Attempts: []practice.Attempt{try}}
		raw := must.Have(f.Bytes())(t)
		folder[fmt.Sprint(i)] = &fstest.MapFile{Data: raw}
	}
	folder["<img src=x>.zip"] = &fstest.MapFile{Data: []byte("no")}
	c := must.Have(class.Collect(context.Background(), shipped, folder, class.Options{Assignment: a}))(t)
	must.Do(t, c.Mark(context.Background(), fixed{}, nil))
	out := map[string][]byte{}
	for name, write := range map[string]func(io.Writer) error{
		"handout":  func(w io.Writer) error { return paper.Handout(w, a, scenarios) },
		"key":      func(w io.Writer) error { return paper.Key(w, shipped, a, scenarios) },
		"class":    func(w io.Writer) error { return paper.Class(w, shipped, c, false) },
		"hidden":   func(w io.Writer) error { return paper.Class(w, shipped, c, true) },
		"feedback": func(w io.Writer) error { return paper.Feedback(w, shipped, c, c.Learners[0]) },
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(name, err)
		}
		out[name] = b.Bytes()
	}
	return out
}

// fixed gives everybody the same marks.
type fixed struct{}

func (fixed) Mark(_ context.Context, all []class.Try, done func(int, *class.Marks, error)) error {
	given := &class.Marks{Marks: mark.Marks{Total: 40, Word: "partly", Caps: []mark.Cap{{Rule: "proof", Text: "The meter was never proved."}},
		Parts: []mark.Part{{ID: "place", Title: "Place", Points: 2, Of: 10, Reason: "No place was said.", Card: "ghost-voltage"}}}}
	for i := range all {
		done(i, given, nil)
	}
	return nil
}

// Every page is well-formed HTML without scripts, and loads nothing: every element
// but the empty ones is closed, as a parser of HTML reads it.
func TestPagesAreHTMLThatRunsNothing(t *testing.T) {
	for name, page := range pages(t) {
		sheettest.WantStill(t, name, page)
		if text := string(page); strings.Contains(text, "http://") || strings.Contains(text, "https://") {
			t.Errorf("%s has an address", name)
		}
	}
}

// text is what a reader of the page sees.
func text(t *testing.T, page []byte) string {
	t.Helper()
	doc := must.Have(html.Parse(bytes.NewReader(page)))(t)
	var out strings.Builder
	for n := range doc.Descendants() {
		if n.Type == html.TextNode && n.Parent.Data != "style" {
			out.WriteString(n.Data + " ")
		}
	}
	return strings.Join(strings.Fields(out.String()), " ")
}

// Each page says what its reader needs, and nothing that he must not see.
func TestWhatThePagesSay(t *testing.T) {
	all := pages(t)
	answer := shipped.Scenarios["barefoot-on-the-steel-step"].Answer
	for _, x := range []struct {
		page  string
		wants []string
		never []string
	}{
		{"handout", []string{evil, "second line", "My boy came in from the creek", "Due on 2026-12-04.", paper.HonestLine, "NOTICE", "Practice, A class and Take part", "After a break, open the same file and type the same name", "hand in that one file, by 2026-12-04.", "for each VEHICLE of barefoot-on-the-steel-step, dead-says-the-meter"}, []string{"grounding conductor", answer}},
		{"key", []string{"Hidden The grounding conductor is open (in the cord)", "DANGER", "Who does it", strings.Join(strings.Fields(answer), " ")}, nil},
		{"class", []string{"2 learners handed in 2 attempts at 2 scenarios; 2 have a conclusion and verify. They worked as qualified people.", evil, "Finch", "◑ partly 40", "▲ 1 unsafe act", "not handed in", "2 of 2", "<img src=x>.zip: this is no assignment"}, []string{answer}},
		{"hidden", []string{"Learner 1", "Learner 2", "2 of 2"}, []string{"Finch", "img src"}},
		{"feedback", []string{"The meter was never proved.", "2 of 10", "1:00 Body to earth", strings.Join(strings.Fields(answer), " ")}, []string{"Finch"}},
	} {
		got := text(t, all[x.page])
		for _, want := range x.wants {
			if !strings.Contains(got, want) {
				t.Errorf("%s does not say %q:\n%s", x.page, want, got)
			}
		}
		for _, never := range x.never {
			if strings.Contains(got, never) {
				t.Errorf("%s says %q", x.page, never)
			}
		}
	}
}

// On paper a story stays with the lines for its conclusion, an answer in one piece, and
// a mark on its line.
func TestPagesBreakWhereNothingIsCut(t *testing.T) {
	all := pages(t)
	for name, whole := range map[string]string{"handout": `<section class="case whole">`, "key": `<section class="case whole">`, "feedback": `<div class="whole"><h3>What it was</h3>`} {
		if page := string(all[name]); !strings.Contains(page, whole) || !strings.Contains(page, ".whole { break-inside: avoid; }") {
			t.Errorf("%s may be cut anywhere", name)
		}
	}
	if !strings.Contains(string(all["feedback"]), `<td class="figure">2 of 10</td>`) {
		t.Error("points may stand on two lines")
	}
}

// A learner is told that the handbook is to be left closed wherever it is not open to him,
// also where something else is; nothing locks it, and he is not told that something does.
func TestTermsSayWhatIsClosed(t *testing.T) {
	for open, closed := range map[class.Open]bool{{}: true, {Hints: true}: true, {Tree: true}: true, {Handbook: true}: false} {
		said := paper.Terms(&class.Assignment{Open: open, Tasks: []class.Task{{}}})
		if strings.Contains(said, "Leave the handbook") != closed || strings.Contains(said, "stays closed") {
			t.Errorf("%+v: %s", open, said)
		}
	}
}

// A trainee is told in one sentence what he may do.
func TestTermsSayWhatATraineeMayDo(t *testing.T) {
	const want = "You work as a trainee: you may read what a qualified person may, with one beside you at everything live, and repair nothing."
	trainee := &class.Assignment{Role: faulttree.Qualified, Supervised: true, Tasks: []class.Task{{}}}
	if said := paper.Terms(trainee); !strings.Contains(said, want) {
		t.Error(said)
	}
	if said := paper.Summary(&class.Class{Assignment: trainee, Learners: []*class.Learner{{Name: "Wren"}}}); !strings.HasSuffix(said, "They worked as trainees, with somebody qualified beside them.") {
		t.Error(said)
	}
	if trainee.Supervised = false; !strings.Contains(paper.Terms(trainee), "You work as a qualified person.") {
		t.Error(paper.Terms(trainee))
	}
}
