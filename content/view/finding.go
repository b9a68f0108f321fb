package view

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
)

// Finding is where a walk ended, as it is shown.
type Finding struct {
	Ref        faulttree.Ref
	Signal     faulttree.Signal
	Title      string
	Above      string   // "Finding · 4 readings · none within the meter's error of a limit"
	Do         []string // what to do now, one sentence each
	DoNot      []string
	Sure       string
	Shows      []Evidence
	RepairBy   string
	NotExclude []NotExcluded
	Faults     []Link
	Caution    Caution
	Prose      []document.Block
	Cards      []Link
	HandedOver bool
	Again      string // id of the tree to walk after a repair
}

// Evidence is one reading that led here.
type Evidence struct {
	Index       int // into Walk.Trail
	Title       string
	Value       string
	Uncertainty string
	Range       string // the branch taken, in words: "30 V and more"
	Signal      faulttree.Signal
	Certain     bool
}

// NotExcluded is a dangerous fault that stays possible and what would tell.
type NotExcluded struct {
	Fault Link
	Test  string
}

// FindingOf is the finding a walk ended in; false if it has not ended.
func FindingOf(lib *content.Library, w faulttree.Walk) (Finding, bool) {
	r, ok := w.Finding()
	if !ok {
		return Finding{}, false
	}
	f := r.Finding
	v := Finding{
		Ref: r.Ref, Signal: f.Signal, Title: r.Title, Sure: Sentence(f.Sure),
		Do: Sentences(f.FirstAction), DoNot: Sentences(f.DoNot), RepairBy: capital(Sentence(f.RepairBy)),
		HandedOver: r.HandedOver, Again: w.Start().Tree, Prose: lib.Prose[r.Ref],
	}
	if s := lib.Forest.Step(r.Ref); s != nil && !r.HandedOver {
		v.Caution, v.Cards = cautionsOf(lib, s.Cautions), cardsOf(lib, s)
	}
	if r.HandedOver {
		v.Cards = linksTo(lib, []string{"who-may-repair", "the-sheet"})
	}
	for _, id := range f.Faults {
		if fault := lib.Faults[id]; fault != nil {
			v.Faults = append(v.Faults, Link{KindFault, id, fault.Title})
		}
	}
	for _, n := range f.CannotExclude {
		l, ok := LinkTo(lib, n.Fault)
		if !ok {
			l = Link{KindFault, n.Fault, n.Fault}
		}
		v.NotExclude = append(v.NotExclude, NotExcluded{l, Sentence(n.Test)})
	}
	v.Shows = evidence(lib, w)
	v.Above = above(v, unsureWeighed(w))
	return v, true
}

// unsureWeighed reports whether something weighed on the way lay within the
// meter's error of a limit.
func unsureWeighed(w faulttree.Walk) bool {
	for _, e := range w.Trail() {
		for _, g := range e.Weighed {
			if !g.Outcome.Certain {
				return true
			}
		}
	}
	return false
}

func above(v Finding, unsureWeighed bool) string {
	word := "Finding"
	if v.HandedOver {
		word = "Handed over"
	}
	unsure := 0
	for _, e := range v.Shows {
		if !e.Certain {
			unsure++
		}
	}
	parts := []string{word}
	switch len(v.Shows) {
	case 0:
	case 1:
		parts = append(parts, "1 reading")
	default:
		parts = append(parts, fmt.Sprintf("%d readings", len(v.Shows)))
	}
	switch {
	case unsure == 1:
		parts = append(parts, "1 lies within the meter's error of a limit; where one side is worse, it was taken")
	case unsure > 1:
		parts = append(parts, fmt.Sprintf("%d lie within the meter's error of a limit; where one side is worse, it was taken", unsure))
	case len(v.Shows) > 0 && !unsureWeighed:
		parts = append(parts, "none within the meter's error of a limit")
	}
	if unsureWeighed {
		parts = append(parts, "what was weighed lies within the meter's error of a limit; where one side is worse, it was taken")
	}
	return strings.Join(parts, " · ")
}

// evidence lists every reading of the walk with the branch it took.
func evidence(lib *content.Library, w faulttree.Walk) []Evidence {
	var out []Evidence
	for i, e := range w.Trail() {
		s := lib.Forest.Step(e.Step)
		if s == nil {
			continue
		}
		for j, r := range e.Answer.Readings {
			if j >= len(s.Measure) {
				break
			}
			q := s.Measure[j].Quantity
			out = append(out, Evidence{
				Index: i, Title: q.Title, Value: ReadingText(r, q), Uncertainty: Uncertainty(r, q, w.Meter()),
				Range: branchText(s, e.Outcome, j), Signal: e.Outcome.Signal, Certain: e.Outcome.Certain,
			})
		}
	}
	return out
}

// branchText words the bound that the branch taken sets on variable j.
func branchText(s *faulttree.Step, o faulttree.Outcome, j int) string {
	if o.Branch < 0 || o.Branch >= len(s.Branches) {
		return ""
	}
	for _, b := range s.Branches[o.Branch].Bounds {
		if b.Var == j {
			return b.Span.Format(s.Measure[j].Quantity.Unit)
		}
	}
	return ""
}

// Sentences splits advice into its sentences, so that it can be numbered.
func Sentences(text string) []string {
	var out []string
	rest := strings.TrimSpace(text)
	for rest != "" {
		end := len(rest)
		for i := 0; i+1 < len(rest); i++ {
			if (rest[i] == '.' || rest[i] == ';') && rest[i+1] == ' ' && !abbreviated(rest[:i]) {
				end = i + 1
				break
			}
		}
		part := strings.TrimSuffix(strings.TrimSpace(rest[:end]), ";")
		out = append(out, capital(Sentence(part)))
		rest = strings.TrimSpace(rest[end:])
	}
	return out
}

// capital begins text with a capital letter.
func capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(r)) + text[n:]
}

// abbreviated reports whether text ends in a single letter or a digit, after
// which a full stop ends no sentence.
func abbreviated(text string) bool {
	i := strings.LastIndexByte(text, ' ')
	last := text[i+1:]
	return len(last) == 1 && last != "V" && last != "A" && last != "m"
}
