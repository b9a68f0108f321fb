package load

import (
	"context"
	"strings"
	"testing"

	"faultwright/content/document"
	"faultwright/faulttree"
)

// Nothing that the handbook tells a reader has metres without feet.
func TestMetresHaveFeet(t *testing.T) {
	l := Shipped()
	told := map[string]string{}
	for id, c := range l.Cautions {
		told["caution "+id] = c.Title + "\n" + document.Plain(c.Body)
	}
	for id, c := range l.Cards {
		told["card "+id] = c.Title + "\n" + document.Plain(c.Body)
	}
	for id, f := range l.Faults {
		told["fault "+id] = f.Title + "\n" + document.Plain(f.Body)
	}
	for id, s := range l.Scenarios {
		told["scenario "+id] = document.Plain(s.Body)
	}
	for _, tree := range l.Forest.Trees {
		for _, s := range tree.Steps {
			told[s.Ref().String()] = strings.Join([]string{s.Title, document.Plain(l.Prose[s.Ref()]), s.Finding.FirstAction, s.Finding.DoNot, s.Finding.Sure}, "\n")
		}
	}
	for where, text := range told {
		if want := faulttree.WithFeet(text); text != want {
			t.Errorf("%s has metres without feet", where)
		}
	}
	if title := l.Cautions["stay-off-body"].Title; !strings.Contains(title, "3 m (10 ft) off") {
		t.Errorf("the danger line says %q", title)
	}
}

// A handed-out scenario is told in the same way; links, lists and tables too,
// and what is verbatim stays.
func TestFeetInEveryKindOfBlock(t *testing.T) {
	blocks := []document.Block{
		document.Paragraph{Text: []document.Inline{document.Link{Text: []document.Inline{document.Text{Value: "a cord of 30 m"}}}, document.Text{Value: "`30 m`", Code: true}}},
		document.List{Items: [][]document.Block{{document.Paragraph{Text: []document.Inline{document.Text{Value: "2 m off"}}}}}},
		document.Table{Header: [][]document.Inline{{document.Text{Value: "at 3 m"}}}},
		document.Callout{Body: []document.Block{document.Quote{Body: []document.Block{document.Heading{Text: []document.Inline{document.Text{Value: "5 m away"}}}}}}},
		document.Figure{Alt: "a spike, 2 m off"},
		document.Code{Text: "length: 2 m\n"},
	}
	document.EditText(blocks, faulttree.WithFeet)
	text := document.Plain(blocks)
	for _, want := range []string{"a cord of 30 m (98 ft)", "`30 m`\n", "2 m (7 ft) off", "at 3 m (10 ft)", "5 m (16 ft) away", "a spike, 2 m (7 ft) off", "length: 2 m\n"} {
		if !strings.Contains(text+"\n", want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
}

// What is asked and tried without a meter is told in feet too.
func TestEvidenceHasFeet(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	files["evidence.yaml"] = `observations: [{id: far, title: "How far, 3 m?", choices: [{id: near, title: 2 m}, {id: away, title: 5 m}]}]
interventions: [{id: step, title: A step of 2 m, before: Stand 3 m off., off: plug, exposure: dead}]
`
	f := FS(context.Background(), folder(files)).Forest
	o, i := f.Observation("far"), f.Intervention("step")
	if o == nil || i == nil {
		t.Fatal("nothing is read")
	}
	got := strings.Join([]string{o.Title, o.Choices[0].Text, o.Choices[1].Text, i.Title, i.Before}, "\n")
	if want := "How far, 3 m (10 ft)?\n2 m (7 ft)\n5 m (16 ft)\nA step of 2 m (7 ft)\nStand 3 m (10 ft) off."; got != want {
		t.Errorf("it says\n%s\nexpected\n%s", got, want)
	}
}
