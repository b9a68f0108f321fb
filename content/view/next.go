package view

import (
	"slices"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// Next is one thing worth finding out next.
type Next struct {
	Title   string // what to read, to look at or to try
	Why     string // a sentence
	Live    bool   // a live contact is touched for it
	Reads   *Asked // a reading: how it is set up; nil for what is seen or tried
	Before  string // what must be done before it is tried
	Choices []Choice
	Prose   []document.Block
	Caution Caution
	Plug    string // the configuration of the vehicle's plug, "" where it is not known
	Of      suspect.Next
}

// ToolsHeading stands above what a reader has beside a multimeter.
const ToolsHeading = "At hand beside a multimeter"

// ToolTitles names tools, each as the part of a sentence.
func ToolTitles(has suspect.Tools) []string {
	var out []string
	for _, t := range suspect.AllTools() {
		if has&t.Is != 0 {
			out = append(out, faulttree.InSentence(t.Title))
		}
	}
	return out
}

// OnceMore stands behind the title of a reading that was taken already.
const OnceMore = ", once more"

// FirstNext is the first of what is worth finding out; the last of them is a reading
// that too much rests on, where that comes later: it shows which of the others are
// worth their while.
func FirstNext(all []Next, most int) []Next {
	first := all[:min(len(all), most)]
	again := slices.IndexFunc(all, func(n Next) bool { return n.Of.Again })
	if again < len(first) {
		return first
	}
	return append(slices.Clone(first[:most-1]), all[again])
}

// NextOf words what is worth finding out next, in its order.
func NextOf(lib *content.Library, a Account, next []suspect.Next) []Next {
	var out []Next
	for _, n := range next {
		v := Next{Why: Sentence(Capital(n.Why())), Of: n, Plug: lib.Forest.Plug(a.Facts)}
		switch {
		case n.Observation != nil:
			v.Title = n.Observation.Title
			for i, s := range n.Observation.Choices {
				v.Choices = append(v.Choices, Choice{ID: s.ID, Text: s.Text, Digit: digit(i)})
			}
		case n.Intervention != nil:
			v.Title, v.Before, v.Live = n.Intervention.Title, n.Intervention.Before, n.Intervention.Exposure.Live()
			v.Choices = []Choice{{ID: Gone, Text: "Gone", Digit: 1}, {ID: StillThere, Text: "Still there", Digit: 2}}
		default:
			asked := AskedOf(lib, *n.Quantity)
			v.Title, v.Reads, v.Live = asked.Title, &asked, n.Quantity.Exposure.Live()
			if n.Again && n.For == nil {
				v.Title += OnceMore
			}
			if method := lib.Methods[n.Quantity.ID]; method != nil {
				v.Prose = method.Prose(lib.Points, a.Fact, faulttree.Variable{Quantity: *n.Quantity})
				v.Caution = CautionsOf(lib, method.Cautions)
			}
		}
		out = append(out, v)
	}
	return out
}
