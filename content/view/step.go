package view

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Step is one step as it is asked.
type Step struct {
	Tree     string // title of the walk
	Number   int    // counts from 1 along the walk; 0 outside of one
	Of       int    // about how many steps the walk has; 0 where nobody knows
	Above    string // what stands above the question: "A tingle · step 4 of about 14"
	Question string
	Caution  Caution
	Prose    []document.Block
	Asked    []Asked  // one for each quantity measured
	Why      string   // why a chart asks this reading next; "" elsewhere
	Columns  []string // titles of what a chart asks for
	Choices  []Choice // of an observe step
	Stop     bool     // an act that ends all live work
	Cards    []Link
	Plug     string // the configuration of the vehicle's plug, "" where it is not known
}

// Asked is one quantity to be measured.
type Asked struct {
	Quantity   faulttree.Quantity
	Title      string
	Unit       string
	Chips      []Chip
	Red, Black string // where the probes go; Black is "" for a clamp or a meter proof
}

// Chip is one setting of the meter or the vehicle.
type Chip struct{ Name, Value string }

// Choice is one answer to an observe step, with the digit that chooses it.
type Choice struct {
	ID, Text string
	Digit    int // 1 to 9; 0 beyond
}

// Caution is the line above a step: the worst signal word of its cautions and
// every sentence, each a link to its details.
type Caution struct {
	Signal faulttree.Signal
	Each   []Warned // the worst first
}

// Warned is one caution with its signal word.
type Warned struct {
	Signal faulttree.Signal
	Link
}

// Text is the sentences in one string.
func (c Caution) Text() string {
	all := lists.Each(c.Each, func(s Warned) string { return Sentence(s.Title) })
	return strings.Join(all, " ")
}

// First is the caution that matters most as a sentence, the gravest and of these
// the first; "" if there is none.
func (c Caution) First() string {
	if len(c.Each) == 0 {
		return ""
	}
	return Sentence(c.Each[0].Title)
}

// More is how many more there are: "and 2 more"; "" if there are none.
func (c Caution) More() string {
	if len(c.Each) < 2 {
		return ""
	}
	return fmt.Sprintf("and %d more", len(c.Each)-1)
}

// Link is a document of the handbook that can be opened from here.
type Link struct {
	Kind  Kind
	ID    string
	Title string
}

// StepIn is step number i of a walk, from 0: one that was answered, or the one
// at which the walk stands. It says about how many there will be.
func StepIn(lib *content.Library, w faulttree.Walk, i int) (Step, bool) {
	at := w.At()
	trail := w.Trail()
	if i < len(trail) {
		at = trail[i].Step
	}
	s := w.Asked(at)
	if s == nil {
		return Step{}, false
	}
	v := stepOf(lib, s, i+1, w.Start().Tree, w.Fact)
	if sameChart(trail, i, at) && len(lib.MethodsOf(s)) > 0 {
		v.Prose = lib.HowTaken(s, w.Fact)
	}
	v.Plug = lib.Forest.Plug(w.Facts())
	if i >= len(trail) {
		v.Why = Why(lib, w)
	}
	v.Of = len(trail) + w.Ahead()
	if v.Of >= v.Number {
		v.Above += fmt.Sprintf(" of about %d", v.Of)
	}
	if i < len(trail) {
		v.Above += ", answered"
	}
	return v, true
}

// sameChart reports whether the step at, number i from 0, asks a column of the
// chart that the answer before it told of. Its reader has read what stands there.
func sameChart(trail []faulttree.Entry, i int, at faulttree.Ref) bool {
	if i == 0 {
		return false
	}
	before, _, ok := trail[i-1].Step.Chart()
	chart, _, asks := at.Chart()
	return ok && asks && before == chart
}

// StepOf is the step s as the number'th of a walk, 0 for one outside of a walk.
func StepOf(lib *content.Library, s *faulttree.Step, number int) Step {
	return stepOf(lib, s, number, s.Tree, faulttree.Unknown)
}

// stepOf is StepOf on a walk that began in a tree. A fact is of no tree; it is
// called after the walk that asks it, and a step of that tree by the name under
// which the walk began.
func stepOf(lib *content.Library, s *faulttree.Step, number int, began string, known faulttree.Known) Step {
	written, _, _ := s.Ref().Chart() // a column of a chart is told what stands there
	tree := s.Tree
	if t := lib.Forest.Tree(began); s.Kind == faulttree.KindFact || t != nil && t.Own() == tree {
		tree = began
	}
	v := Step{
		Tree:     TreeTitle(lib, tree),
		Number:   number,
		Question: s.Title,
		Caution:  CautionsOf(lib, s.Cautions),
		Prose:    append(lib.HowTaken(s, known), lib.Prose[written]...),
		Stop:     s.Stop(),
		Cards:    linksTo(lib, s.Cards),
	}
	if written != s.Ref() {
		v.byMethod(lib, s)
	}
	v.Above = v.Tree + " · one of its steps"
	if number > 0 {
		v.Above = fmt.Sprintf("%s · step %d", v.Tree, number)
	}
	for _, m := range s.Measure {
		if s.Kind == faulttree.KindMeasure {
			v.Asked = append(v.Asked, AskedOf(lib, m.Quantity))
		} else {
			v.Columns = append(v.Columns, m.Quantity.Title)
		}
	}
	for i, c := range s.Choices {
		choice := Choice{ID: c.ID, Text: c.Text}
		if i < 9 {
			choice.Digit = i + 1
		}
		v.Choices = append(v.Choices, choice)
	}
	return v
}

// byMethod puts the cautions and cards of the methods by which a chart's column is
// read before those of the chart. A measure step has them from the loader.
func (v *Step) byMethod(lib *content.Library, column *faulttree.Step) {
	var cautions, cards []string
	for _, m := range lib.MethodsOf(column) {
		cautions, cards = content.Union(cautions, m.Cautions), content.Union(cards, m.Cards)
	}
	s := *column
	s.Cautions, s.Cards = content.Union(cautions, s.Cautions), content.Union(cards, s.Cards)
	v.Caution, v.Cards = CautionsOf(lib, s.Cautions), linksTo(lib, s.Cards)
}

// Beginning is the first sentence of what the reader is told, and whether there
// is more.
func (v Step) Beginning() (first string, more bool) {
	all := Sentences(strings.Join(strings.Fields(document.Plain(v.Prose)), " "))
	if len(all) == 0 {
		return "", false
	}
	return all[0], len(all) > 1
}

// AskedOf says how to set the meter and the vehicle for a quantity.
func AskedOf(lib *content.Library, q faulttree.Quantity) Asked {
	a := Asked{Quantity: q, Title: q.Title, Unit: q.Unit.Symbol(), Red: lib.Points[q.Red].Title, Black: lib.Points[q.Black].Title}
	a.Title = cmp.Or(a.Title, q.ID)
	a.Chips = append(a.Chips, Chip{"function", q.Unit.Function()})
	if q.Range > 0 {
		a.Chips = append(a.Chips, Chip{"range", q.Range.With(q.Unit) + " or the next above"})
	}
	a.Chips = append(a.Chips, Chip{"hold", "off"})
	for _, p := range q.Prepare() {
		a.Chips = append(a.Chips, Chip{p.What, p.How})
	}
	return a
}

// TreeTitle is the title of a walk, or its id where there is none.
func TreeTitle(lib *content.Library, id string) string {
	if t := lib.Forest.Tree(id); t != nil {
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

// CautionsOf gathers cautions, the worst signal word first.
func CautionsOf(lib *content.Library, ids []string) Caution {
	var v Caution
	var found []*content.Caution
	for _, id := range ids {
		if c := lib.Cautions[id]; c != nil {
			found = append(found, c)
			v.Signal = max(v.Signal, c.Signal)
		}
	}
	slices.SortStableFunc(found, func(a, b *content.Caution) int { return int(b.Signal) - int(a.Signal) })
	for _, c := range found {
		v.Each = append(v.Each, Warned{c.Signal, Link{KindCaution, c.ID, c.Title}})
	}
	return v
}
