package scenes

import (
	"fmt"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
)

// Said is something that was told or said between the acts of an attempt.
type Said struct {
	At   time.Duration
	What string
	More string // "" for nothing
}

// SaidBefore is what was told and said before an act, or after the last one: hints,
// what was expected of a reading, the conclusion, and that it was repaired.
func SaidBefore(lib *content.Library, a practice.Attempt, act int) []Said {
	var out []Said
	for _, h := range a.Hints {
		if h.After == act {
			out = append(out, Said{At: h.At, What: "A hint: " + h.Text})
		}
	}
	for _, p := range a.Predictions {
		if p.Before == act {
			out = append(out, Said{At: p.At, What: fmt.Sprintf("Expected: %s. It would tell: %s", p.Expects, p.Tells)})
		}
	}
	ended := len(a.Acts)
	if a.Repaired > 0 {
		ended = min(a.Repaired, ended)
	}
	if act == ended && a.Conclusion != nil {
		out = append(out, concluded(lib, a)...)
	}
	return out
}

// concluded is the conclusion in words, and that it was repaired.
func concluded(lib *content.Library, a practice.Attempt) []Said {
	c := a.Conclusion
	var faults, open, acts []string
	for _, id := range c.Faults {
		faults = append(faults, FaultTitle(lib, id))
	}
	for _, at := range c.Open {
		open = append(open, FaultTitle(lib, at.Fault)+" ("+at.Place.Word()+")")
	}
	for _, i := range c.Deciding {
		acts = append(acts, fmt.Sprint(practice.Number(i)))
	}
	var said []string
	for _, part := range []view.Fact{
		{Heading: "place", Text: c.Place.Word()}, {Heading: "sureness", Text: c.Sure.String()}, {Heading: "decided by act", Text: strings.Join(acts, ", ")}, {Heading: "still open", Text: strings.Join(open, "; ")},
		{Heading: "to be done", Text: adviceText(lib, c.Do, func(a *content.Advice) string { return a.FirstAction })}, {Heading: "by", Text: adviceText(lib, c.RepairBy, func(a *content.Advice) string { return a.RepairBy })}, {Heading: "to the customer", Text: c.Tell},
	} {
		if text := part.Text; text != "" {
			said = append(said, part.Heading+": "+text)
		}
	}
	out := []Said{{At: c.At, What: "Concluded: " + strings.Join(faults, "; "), More: "(" + strings.Join(said, " · ") + ")"}}
	if a.Repaired > 0 {
		out = append(out, Said{At: c.At, What: "What was concluded is put right; what follows is read after it"})
	}
	return out
}

// adviceText is what was chosen, in the words of a fault's document where the choice
// only names it: "open-neutral@cord".
func adviceText(lib *content.Library, said string, of func(*content.Advice) string) string {
	at := faulttree.ParseFaultAt(said)
	if f := lib.Faults[at.Fault]; f != nil {
		if advice := f.At(at.Place); advice != nil {
			return of(advice)
		}
	}
	return said
}
