package scenes

import (
	"fmt"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
)

// Implied lists the facts that the readings of an account say although nobody stated
// them. One that somebody is not sure of says none, nor does one that was not
// possible.
func (r *Reasoning) Implied(a view.Account) []drawn.Implied {
	a, _ = a.In(r.lib)
	var read []faulttree.Quantity
	for _, e := range a.Evidence {
		if e.Quantity.ID != "" && !e.Doubtful && e.Reading.Quality != faulttree.NotPossible {
			read = append(read, e.Quantity)
		}
	}
	return drawn.ImpliedBy(DrawnFrom(r.lib), a.Facts, read)
}

// takenAs says which facts were taken from which readings; "" for none.
func takenAs(lib *content.Library, all []drawn.Implied) string {
	choices, by := map[string]string{}, map[string]string{}
	for _, i := range all {
		choices[i.Fact], by[i.Fact] = i.Choice, "the readings together"
		if i.By.ID != "" {
			by[i.Fact] = "“" + i.By.Title + "”"
		}
	}
	var taken []string
	for _, f := range view.FactsOf(lib, choices) {
		if f.Known != "" {
			taken = append(taken, fmt.Sprintf("%s: %s (by %s)", f.Name, f.Known, by[f.ID]))
		}
	}
	if len(taken) == 0 {
		return ""
	}
	return "Taken as " + strings.Join(taken, ", ") + ". Say it if that is wrong."
}
