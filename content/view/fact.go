package view

import (
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
)

// FactOf is a fact as it is asked, and what is known of it.
type FactOf struct {
	ID       string
	Name     string // "Service"
	Question string
	Known    string   // the choice that holds, in few words; "" where nobody knows
	Choices  []Choice // the last one, without an id, is that it is not known
}

// FactsOf lists the facts that a handbook asks, by what is known of them.
func FactsOf(lib *content.Library, known map[string]string) []FactOf {
	var out []FactOf
	for i := range lib.Forest.Facts {
		f := &lib.Forest.Facts[i]
		v := FactOf{ID: f.ID, Name: Capital(f.ID), Question: f.Title}
		s := &faulttree.Step{Choices: f.Choices}
		for k, c := range f.Choices {
			v.Choices = append(v.Choices, Choice{ID: c.ID, Text: c.Text, Digit: digit(k)})
			if c.ID == known[f.ID] {
				short, _, _ := strings.Cut(shortChoice(s, c.ID), ":")
				v.Known = short
			}
		}
		v.Choices = append(v.Choices, Choice{Text: "I do not know", Digit: digit(len(f.Choices))})
		out = append(out, v)
	}
	return out
}

// digit is the one that chooses entry k of a list, from 0; 0 for none.
func digit(k int) int {
	if k < 9 {
		return k + 1
	}
	return 0
}
