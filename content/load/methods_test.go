package load

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"faultwright/content/document"
	"faultwright/faulttree"
)

// bodyMethod is how the base handbook's body is read.
const bodyMethod = `---
method: body
title: Body to earth
quantities: [body-earth]
exposure: body
effort: 2
take: highest of [frame, door frame, step]
cautions: [one-hand, rings-off]
cards: [spike]
---
Clip the spike at 2 m.
`

// A step shows the method of what it measures before its own words; the
// quantity carries what taking it costs, wherever the forest holds it.
func TestAStepShowsTheMethodOfItsQuantity(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	files["methods/body.md"] = bodyMethod
	files["cautions/rings-off.md"] = "---\ncaution: rings-off\ntitle: Take off rings.\nsignal: notice\n---\nThey conduct.\n"
	files["cards/spike.md"] = "---\ncard: spike\ntitle: The spike\n---\nIt stands in wet soil.\n"
	files["quantities.yaml"] = strings.Replace(files["quantities.yaml"], ", exposure: body", "", 1) + "exposures: {supply: 4, inside: 9}\n"
	l := FS(context.Background(), folder(files))
	for _, d := range l.Diagnostics {
		t.Error(d)
	}
	s := l.Forest.Trees["tingle"].Step("body")
	prose := strings.Join(strings.Fields(document.Plain(append(l.HowTaken(s, faulttree.Unknown), l.Prose[s.Ref()]...))), " ")
	if want := "Clip the spike at 2 m (7 ft). Read each, type the highest: frame, door frame, step. Anything from 30 V up can hurt."; prose != want {
		t.Errorf("the step says %q; want %q", prose, want)
	}
	if got := fmt.Sprint(s.Cautions, s.Cards); got != "[one-hand rings-off] [spike why-live]" {
		t.Errorf("beside it stand %s", got)
	}
	for _, q := range []faulttree.Quantity{s.Measure[0].Quantity, l.Forest.Quantities["body-earth"], l.Forest.Trees["tingle"].Step("felt").Choices[0].When[0].Quantity} {
		if q.Exposure != faulttree.AtBody || q.Effort != 2 {
			t.Errorf("%s has exposure %q and effort %d", q.ID, q.Exposure, q.Effort)
		}
	}
	if want := (faulttree.Weights{faulttree.Unexposed: 1, faulttree.DeadTest: 1, faulttree.AtSupply: 4, faulttree.AtBody: 6, faulttree.InsideBody: 9}); l.Forest.Weights != want {
		t.Errorf("the weights are %v; want %v", l.Forest.Weights, want)
	}
	if q := l.Forest.Quantities["pedestal.n-g"]; q.Exposure != faulttree.AtSupply || l.Methods["pedestal.n-g"] != nil {
		t.Errorf("a quantity without a method has exposure %q", q.Exposure)
	}
}

// A quantity without a method says itself which of several readings counts; it
// is said once.
func TestAQuantitySaysWhatCountsOfIt(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	files["quantities.yaml"] = strings.Replace(files["quantities.yaml"], `title: "Body to earth", `, `title: "Body to earth", take: "highest of [loads off, all loads]", `, 1)
	l := FS(context.Background(), folder(files))
	if q := l.Forest.Trees["tingle"].Step("body").Measure[0].Quantity; l.Diagnostics.HasErrors() || q.Take.Counts != faulttree.TakeHighest || len(q.Take.Loads) != 2 {
		t.Errorf("it is taken as %+v; %v", q.Take, l.Diagnostics)
	}
	files["methods/body.md"] = strings.NewReplacer("rings-off", "one-hand", "[spike]", "[why-live]").Replace(bodyMethod)
	if said := fmt.Sprint(FS(context.Background(), folder(files)).Diagnostics); !strings.Contains(said, "says what counts of body-earth as well") {
		t.Errorf("said twice: %s", said)
	}
}
