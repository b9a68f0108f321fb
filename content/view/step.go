package view

import (
	"slices"
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
)

// Step is one step as it is asked.
type Step struct {
	Ref      faulttree.Ref
	Kind     faulttree.Kind
	Tree     string // title of the tree
	Number   int    // counts from 1 along the walk
	Question string
	Caution  Caution
	Prose    []document.Block
	Asked    []Asked  // one for each quantity measured
	Choices  []Choice // of an observe step
	Stop     bool     // an act that ends all live work
	Cards    []Link
}

// Asked is one quantity to be measured.
type Asked struct {
	Quantity faulttree.Quantity
	Title    string
	Unit     string
	Chips    []Chip
}

// Chip is one setting of the meter or the vehicle.
type Chip struct{ Name, Value string }

// Choice is one answer to an observe step, with the digit that chooses it.
type Choice struct {
	ID, Text string
	Digit    int // 1 to 9; 0 beyond
	Leads    string
	Signal   faulttree.Signal
}

// Caution is the line above a step: the worst signal word of its cautions and
// every sentence, each a link to its details.
type Caution struct {
	Signal    faulttree.Signal
	Sentences []Link
}

// Text is the sentences in one string.
func (c Caution) Text() string {
	var all []string
	for _, s := range c.Sentences {
		all = append(all, Sentence(s.Title))
	}
	return strings.Join(all, " ")
}

// Brief is the first few sentences, the worst first, and how many more there
// are among the cards.
func (c Caution) Brief(most int) string {
	first := Caution{Sentences: c.Sentences[:min(most, len(c.Sentences))]}
	text := first.Text()
	switch n := len(c.Sentences) - most; {
	case n == 1:
		text += " One more caution stands among the cards."
	case n > 1:
		text += " " + strconv.Itoa(n) + " more cautions stand among the cards."
	}
	return text
}

// Link is a document of the handbook that can be opened from here.
type Link struct {
	Kind  Kind
	ID    string
	Title string
}

// StepOf is the step s as the number'th of a walk.
func StepOf(lib *content.Library, s *faulttree.Step, number int) Step {
	v := Step{
		Ref:      s.Ref(),
		Kind:     s.Kind,
		Tree:     treeTitle(lib, s.Tree),
		Number:   number,
		Question: s.Title,
		Caution:  cautionsOf(lib, s.Cautions),
		Prose:    lib.Prose[s.Ref()],
		Stop:     s.Stop(),
		Cards:    cardsOf(lib, s),
	}
	for _, m := range s.Measure {
		if s.Kind == faulttree.KindMeasure {
			v.Asked = append(v.Asked, AskedOf(m.Quantity))
		}
	}
	for i, c := range s.Choices {
		choice := Choice{ID: c.ID, Text: c.Text, Signal: c.Signal, Leads: exitLabel(lib, c.Exit)}
		if i < 9 {
			choice.Digit = i + 1
		}
		v.Choices = append(v.Choices, choice)
	}
	return v
}

// AskedOf says how to set the meter and the vehicle for a quantity.
func AskedOf(q faulttree.Quantity) Asked {
	a := Asked{Quantity: q, Title: q.Title, Unit: q.Unit.Symbol()}
	a.Chips = append(a.Chips, Chip{"function", q.Unit.Function()})
	if q.Range > 0 {
		a.Chips = append(a.Chips, Chip{"range", q.Range.With(q.Unit) + " or the next above"})
	}
	a.Chips = append(a.Chips, Chip{"hold", "off"})
	for _, c := range q.Conditions {
		a.Chips = append(a.Chips, conditionChips[c])
	}
	return a
}

var conditionChips = map[faulttree.Condition]Chip{
	faulttree.Loaded:    {"loads", "switched on"},
	faulttree.LowZ:      {"meter", "low impedance"},
	faulttree.MainOff:   {"vehicle main", "off"},
	faulttree.Rest:      {"battery", "rested"},
	faulttree.Unplugged: {"plug", "pulled"},
}

func treeTitle(lib *content.Library, id string) string {
	if t := lib.Forest.Trees[id]; t != nil {
		return t.Title
	}
	return id
}

// exitLabel is the words of an exit: its own label, or the title of the step
// it leads to.
func exitLabel(lib *content.Library, e faulttree.Exit) string {
	if e.Label != "" {
		return e.Label
	}
	if s := lib.Forest.Step(e.To); s != nil {
		return s.Title
	}
	return e.Text
}

// cautionsOf gathers cautions, the worst signal word first.
func cautionsOf(lib *content.Library, ids []string) Caution {
	var v Caution
	ids = slices.Clone(ids)
	slices.SortStableFunc(ids, func(a, b string) int { return int(signalOf(lib, b)) - int(signalOf(lib, a)) })
	for _, id := range ids {
		c := lib.Cautions[id]
		if c == nil {
			continue
		}
		v.Signal = max(v.Signal, c.Signal)
		v.Sentences = append(v.Sentences, Link{KindCaution, id, c.Title})
	}
	return v
}

func signalOf(lib *content.Library, caution string) faulttree.Signal {
	if c := lib.Cautions[caution]; c != nil {
		return c.Signal
	}
	return faulttree.NoSignal
}

// cardsOf is what may be read beside a step: its cards, then its cautions,
// then for a finding the faults it names.
func cardsOf(lib *content.Library, s *faulttree.Step) []Link {
	var out []Link
	for _, id := range s.Finding.Faults {
		if f := lib.Faults[id]; f != nil {
			out = append(out, Link{KindFault, id, f.Title})
		}
	}
	for _, id := range s.Cards {
		if l, ok := LinkTo(lib, id); ok {
			out = append(out, l)
		}
	}
	for _, id := range s.Cautions {
		if c := lib.Cautions[id]; c != nil {
			out = append(out, Link{KindCaution, id, c.Title})
		}
	}
	return out
}

// Sentence ends text with a full stop if it ends with nothing of the kind.
func Sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.ContainsAny(text[len(text)-1:], ".?:") {
		return text
	}
	return text + "."
}
