package view_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"faultwright/content/document"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
)

// A column of a chart that stands in a fragment is asked by the method of its
// quantity, and its rows lead to where the use sends the fragment's exits. The
// chart weighs exposures as the handbook says.
func TestAChartInAFragmentIsAskedByMethods(t *testing.T) {
	a := must.Have(txtar.ParseFile("../load/testdata/base.txtar"))(t)
	files := fstest.MapFS{}
	add := func(name, text string) { files[name] = &fstest.MapFile{Data: []byte(text)} }
	for _, f := range a.Files {
		add(f.Name, string(f.Data))
	}
	add("quantities.yaml", strings.Replace(string(files["quantities.yaml"].Data), ", exposure: body", "", 1)+"exposures: {supply: 5}\n")
	add("methods/body.md", "---\nmethod: body\ntitle: Body\nquantities: [body-earth]\nexposure: body\ncautions: [one-hand]\ncards: [why-live]\n---\nClip the spike.\n")
	add("fragments/read.md", "---\nfragment: read\ntitle: Read\nstart: all\nexits: [bad, fine]\nlimits: {touch: {value: 30 V, source: a-table}}\n---\n"+
		"## All {#all}\n\nTwo readings.\n\n| v | w | it is |\n| --- | --- | --- |\n| touch and more | | bad |\n| | touch and more | bad, warning |\n| rest | | fine |\n\n"+
		"```yaml step\nchart: {v: body-earth, w: pedestal.n-g}\nnot-possible: {go: fine}\n```\n")
	add("trees/other.md", "---\ntree: other\ntitle: Another\nsummary: Another tree.\nstart: read\nscope: [dc]\n---\n"+
		"## Read {#read}\n\n```yaml step\nuse: {fragment: read, exits: {bad: tingle#live, fine: found}}\n```\n\n## Found {#found}\n\n```yaml step\nfinding: {signal: notice}\n```\n")
	lib := load.FS(context.Background(), files)
	for _, d := range lib.Diagnostics {
		t.Error(d)
	}
	chart := lib.Forest.Trees["other"].Step("read")
	exits := lists.Each(chart.Exits(), func(e faulttree.Exit) string { return fmt.Sprintf("%s/%s", e.To, e.Signal) })
	if got, want := strings.Join(exits, " "), "tingle#live/danger tingle#live/warning other#found/notice other#found/warning"; got != want {
		t.Errorf("the chart leads to %s; want %s", got, want)
	}
	if chart.ID != "read.all" || chart.Chart.Cost[faulttree.AtSupply] != 5 {
		t.Errorf("the chart %s weighs exposures by %v", chart.ID, chart.Chart.Cost)
	}
	v := view.StepOf(lib, lib.Forest.Step(faulttree.Ref{Tree: "other", Step: "read.all/v"}), 1)
	if prose := document.Plain(v.Prose); !strings.HasPrefix(prose, "Clip the spike.\n") || !strings.Contains(prose, "Two readings.") {
		t.Errorf("the column is asked by %q", prose)
	}
	if v.Caution.Text() != "Keep one hand in a pocket." || len(v.Cards) != 1 {
		t.Errorf("beside the column stand %q and %v", v.Caution.Text(), v.Cards)
	}
}

// The next hot is asked for only where a hot is read: not of the neutral pin that
// the same method reads to the body, nor of a ground from end to end.
func TestTheOtherHotIsAskedForOnlyAtAHot(t *testing.T) {
	lib, asked := load.Shipped(), 0
	for _, q := range lib.Forest.Quantities {
		m := lib.Methods[q.ID]
		if m == nil || !strings.Contains(document.Plain(m.Prose(lib.Points, faulttree.Unknown, faulttree.Variable{Quantity: q})), "L2 if there is one") {
			continue
		}
		asked++
		if !strings.Contains(q.ID, "l1") {
			t.Errorf("%s is read at L1, then L2", q.ID)
		}
	}
	if asked < 5 {
		t.Errorf("%d quantities are read at both hots", asked)
	}
}

// At the second column of a chart its reader has read what stands there: he is told
// how this one is taken, and of the hots that his plug is known to have.
func TestWhatStandsAtAChartIsToldOnce(t *testing.T) {
	lib := load.Shipped()
	chart := faulttree.Ref{Tree: "half-dead", Step: "bright-neutral"}
	written := document.Plain(lib.Prose[chart])
	for plug, hots := range map[string]string{"30a": "", "50a": "L1, and L2."} {
		w, err := faulttree.Begin(lib.Forest, chart, faulttree.Owner, faulttree.DefaultMeter())
		told, asked := 0, 0
		for err == nil && !w.Ended() {
			v, _ := view.StepIn(lib, w, len(w.Trail()))
			a := faulttree.Answer{Choice: plug}
			switch prose := document.Plain(v.Prose); {
			case w.At() == faulttree.FactRef("adapter"):
				a.Choice = "none"
			case w.Step().Kind == faulttree.KindMeasure:
				if w.At().Tree != chart.Tree || !strings.HasPrefix(w.At().Step, chart.Step+"/") {
					t.Fatalf("%s is asked", w.At())
				}
				asked++
				told += strings.Count(prose, written)
				if strings.Contains(w.At().Step, "through") && (!strings.HasSuffix(prose, hots) || strings.Contains(prose, "L2") != (hots != "")) {
					t.Errorf("%s: %q", plug, prose)
				}
				r, _ := faulttree.ParseReading("0.1", v.Asked[0].Quantity)
				a = faulttree.Answer{Readings: []faulttree.Reading{r}}
			}
			w, err = w.Answer(a)
		}
		if err != nil || told != 1 || asked < 2 {
			t.Errorf("%s: of %d columns %d tell what stands at the chart, %v", plug, asked, told, err)
		}
	}
}

// What a reader meets before a reading is at most sixty words: how it is taken, what
// the step adds, and the caution in the line above. A chart's own words come with the
// column that it asks first.
func TestAtMostSixtyWordsBeforeAReading(t *testing.T) {
	lib, asked := load.Shipped(), 0
	words := func(text string) int { return len(strings.Fields(text)) }
	for id, tree := range lib.Forest.Trees {
		for _, s := range tree.Steps {
			_, order := view.OrderOf(lib, s)
			for _, at := range append(s.Columns(), s) {
				if at.Kind != faulttree.KindMeasure {
					continue
				}
				asked++
				v := view.StepOf(lib, at, 1)
				n := words(document.Plain(v.Prose)) + words(v.Caution.First())
				if len(order) > 0 && order[0].Title != at.Measure[0].Quantity.Title {
					n -= words(document.Plain(lib.Prose[s.Ref()]))
				}
				if n > 60 {
					t.Errorf("%s: %s has %d words before its reading", id, at.Ref(), n)
				}
			}
		}
	}
	if asked < 150 {
		t.Errorf("only %d readings were looked at", asked)
	}
}
