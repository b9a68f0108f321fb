package main

import (
	"encoding/json"
	"io"
	"strconv"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

func itoa(n int) string { return strconv.Itoa(n) }

// writeJSON writes v indented, with its characters as they are.
func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// jsonWalk is a walk as programs read it. Step, next and finding ids are
// tree#step; next is a quantity where a reading is missing.
type jsonWalk struct {
	Tree    string            `json:"tree"`
	Facts   map[string]string `json:"facts"` // what is known without a meter
	Path    []jsonEntry       `json:"path"`
	Asked   []string          `json:"asked"` // the quantities read, in order
	Finding *jsonFinding      `json:"finding"`
	Next    *string           `json:"next"`
	Stop    *faulttree.Ref    `json:"stop"`
	Parting *jsonParting      `json:"parting,omitempty"` // where the finding and what fits the readings part
	Reached []jsonReached     `json:"reached,omitempty"` // given, over a danger limit, and taken by no step
	Visit   string            `json:"visit,omitempty"`
}

// jsonReached is a figure given beside the walk that reaches a danger limit.
type jsonReached struct {
	Quantity string `json:"quantity"`
	Reading  string `json:"reading"` // as typed
	Walk     string `json:"walk"`    // whose danger limit it is
}

// jsonParting is where the finding of a walk and what fits its readings part. Where
// that is the graver, the signal of the finding is DANGER, and do is what to do.
type jsonParting struct {
	Text   string   `json:"text"`
	Danger bool     `json:"danger"`
	Do     []string `json:"do"`
}

type jsonEntry struct {
	Step     faulttree.Ref `json:"step"`
	Readings []string      `json:"readings"`           // as typed
	Exposure string        `json:"exposure,omitempty"` // the worst of its readings: dead, supply, body, inside
	Branch   string        `json:"branch"`             // the go target as written
	Certain  bool          `json:"certain"`
	Passed   []jsonPassed  `json:"passed,omitempty"`
}

// jsonPassed is a chart that was known after the answer.
type jsonPassed struct {
	Step    faulttree.Ref `json:"step"`
	Branch  string        `json:"branch"` // the go target as written
	Label   string        `json:"label"`
	Certain bool          `json:"certain"`
}

type jsonFinding struct {
	ID            faulttree.Ref `json:"id"`
	Faults        []string      `json:"faults"`
	Signal        string        `json:"signal"`
	Title         string        `json:"title"`
	For           string        `json:"for"` // who may do the repair step: anyone or qualified
	CannotExclude []string      `json:"cannot_exclude"`
	ExcludeTests  []jsonTest    `json:"exclude_tests"`
}

// jsonTest is the test that would exclude a fault.
type jsonTest struct {
	Fault string          `json:"fault"`
	Place faulttree.Place `json:"place,omitempty"`
	Test  string          `json:"test"`
}

// branchText is where an answer leads as its document writes it; the choice of a
// fact, which leads nowhere.
func branchText(e faulttree.Entry) string {
	if _, fact := e.Step.Fact(); fact {
		return e.Answer.Choice
	}
	return e.Outcome.Text
}

func walkOf(tree string, w faulttree.Walk, next string, parting view.Parting) jsonWalk {
	out := jsonWalk{Tree: tree, Facts: w.Facts(), Path: []jsonEntry{}, Asked: []string{}}
	for _, e := range w.Trail() {
		texts := []string{}
		var exposure faulttree.Exposure
		step := w.Asked(e.Step)
		for i, r := range e.Answer.Readings {
			texts = append(texts, r.Text)
			if i < len(step.Measure) {
				q := step.Measure[i].Quantity
				exposure = max(exposure, q.Exposure)
				out.Asked = append(out.Asked, q.ID)
			}
		}
		var passed []jsonPassed
		for _, g := range e.Passed {
			passed = append(passed, jsonPassed{g.Step, g.Outcome.Text, g.Outcome.Label, g.Outcome.Certain})
		}
		out.Path = append(out.Path, jsonEntry{e.Step, texts, exposure.String(), branchText(e), e.Outcome.Certain, passed})
	}
	for _, x := range w.Reached() {
		out.Reached = append(out.Reached, jsonReached{x.Quantity.ID, x.Reading.Text, x.Tree})
	}
	if next != "" {
		out.Next = &next
	}
	if ref, stopped := w.Stop(); stopped {
		out.Stop = &ref
	}
	result, ok := w.Finding()
	if !ok {
		return out
	}
	f := jsonFinding{
		ID: result.Ref, Signal: result.Finding.Signal.String(), Title: result.Title, For: "anyone",
		Faults: append([]string{}, result.Finding.Faults...), CannotExclude: []string{}, ExcludeTests: []jsonTest{},
	}
	if result.For == faulttree.Qualified {
		f.For = "qualified"
	}
	for _, n := range result.Finding.CannotExclude {
		f.CannotExclude = lists.With(f.CannotExclude, n.Fault)
		f.ExcludeTests = append(f.ExcludeTests, jsonTest{n.Fault, n.Place, n.Test})
	}
	out.Finding = &f
	if parting.Text != "" {
		out.Parting = &jsonParting{parting.Text, parting.Danger, append([]string{}, parting.Do...)}
	}
	if parting.Danger {
		f.Signal = faulttree.Danger.String()
	}
	return out
}
