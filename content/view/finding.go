package view

import (
	"fmt"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Finding is where a walk ended, or that it has not ended. It is composed here
// alone; window, terminal and sheet draw it.
type Finding struct {
	Ref        faulttree.Ref
	Ended      bool // false for a walk that goes on
	Signal     faulttree.Signal
	Title      string
	Stop       string   // that a reading called STOP, and where; "" if none did
	Above      string   // "Finding · 4 readings · none within the meter's error of a limit"
	Do         []string // what to do now, one sentence each
	DoNot      []string
	Sure       string
	Shows      []Line // the readings, and the sums of them that decided
	RepairBy   string
	NotExclude []NotExcluded
	Faults     []Link
	AtOnce     bool   // the faults hold together
	Clears     string // the places in which the readings show no fault, as sentences; "" if none
	Caution    Caution
	Prose      []document.Block
	Cards      []Link
	HandedOver bool
}

// FindingOf is the finding a walk ended in; false if it has not ended.
func FindingOf(lib *content.Library, w faulttree.Walk) (Finding, bool) {
	r, ok := w.Finding()
	if !ok {
		return Finding{}, false
	}
	v := ResultOf(lib, r)
	v.Stop = stopText(lib, w)
	for _, p := range Trail(lib, w) {
		for _, l := range p.Lines {
			if l.Read || len(p.Lines) > 1 {
				v.Shows = append(v.Shows, l)
			}
		}
	}
	v.Above = above(v, w)
	return v, true
}

// ResultOf is a finding by itself, without the walk that led to it.
func ResultOf(lib *content.Library, r faulttree.Result) Finding {
	f := r.Finding
	v := Finding{
		Ref: r.Ref, Ended: true, Signal: f.Signal, Title: r.Title, Sure: Sentence(f.Sure),
		Do: Sentences(f.FirstAction), DoNot: Sentences(f.DoNot), RepairBy: Capital(Sentence(f.RepairBy)),
		HandedOver: r.HandedOver, Prose: lib.Prose[r.Ref], AtOnce: f.AtOnce,
	}
	if v.RepairBy == "" && r.For == faulttree.Qualified {
		v.RepairBy = "A licensed electrician or otherwise qualified person."
	}
	if s := lib.Forest.Step(r.Ref); s != nil && !r.HandedOver {
		v.Caution, v.Cards = CautionsOf(lib, s.Cautions), linksTo(lib, s.Cards)
	}
	if r.HandedOver {
		v.Cards = linksTo(lib, []string{"who-may-repair", "the-sheet"})
	}
	for _, id := range f.Faults {
		v.Faults = append(v.Faults, FaultLink(lib, id))
	}
	if len(f.Clears) > 0 {
		v.Clears = "These readings show no fault in: " + placeNames(f.Clears) + ", then and there. They say nothing of what was not measured."
	}
	v.NotExclude = notExcluded(lib, f)
	return v
}

// Unfinished is what holds for a walk that has not ended, or that the handbook
// in use cannot take up.
func Unfinished(lib *content.Library, w faulttree.Walk) Finding {
	v := Finding{
		Signal: faulttree.Warning, Title: "This visit is not finished: no finding yet", Stop: stopText(lib, w),
		Do:   []string{"Treat supply and vehicle as faulty until there is a finding."},
		Sure: "The handbook in use cannot walk this visit; the answers are listed below.",
	}
	if v.Stop != "" {
		v.Signal = faulttree.Danger
	}
	if s := w.Step(); s != nil {
		v.Sure = "Nothing is found yet. Next to be answered: " + Sentence(s.Title)
		v.Caution = CautionsOf(lib, s.Cautions)
	}
	return v
}

func stopText(lib *content.Library, w faulttree.Walk) string {
	ref, stopped := w.Stop()
	if !stopped {
		return ""
	}
	return "An answer led to “" + strings.TrimSuffix(stepTitle(lib, ref), ".") + "”. From there on nothing live on the vehicle was asked for."
}

// Headline is the title behind the signal word.
func (v Finding) Headline() string { return headline(v.Signal, v.Title) }

// Fact is one thing a finding says, under its heading.
type Fact struct{ Heading, Text string }

// Facts lists what a finding says in words, in the order in which it matters.
func (v Finding) Facts() []Fact {
	faults := lists.Each(v.Faults, func(f Link) string { return strings.TrimSuffix(f.Title, ".") })
	var out []Fact
	for _, f := range []Fact{
		{DoHeading, strings.Join(v.Do, " ")}, {DoNotHeading, strings.Join(v.DoNot, " ")},
		{RepairHeading, v.RepairBy}, {"How sure", v.Sure}, {v.FaultsHeading(), strings.Join(faults, "; ")}, {"No fault shown", v.Clears},
	} {
		if f.Text != "" {
			out = append(out, f)
		}
	}
	return out
}

// Headings of what a finding says.
const (
	DoHeading         = "What to do now"
	DoNotHeading      = "What not to do"
	RepairHeading     = "Who may repair it"
	ShowsHeading      = "What shows it"
	NotExcludeHeading = "What these readings cannot exclude"
)

// FaultsHeading stands above the faults of the finding.
func (v Finding) FaultsHeading() string {
	if len(v.Faults) == 1 {
		return "Fault named by these readings"
	}
	if v.AtOnce {
		return "Faults that these readings show together"
	}
	return "Faults that fit these readings"
}

func above(v Finding, w faulttree.Walk) string {
	parts := []string{"Finding"}
	if v.HandedOver {
		parts[0] = "Handed over"
	}
	unsure, passed := 0, false
	for _, e := range w.Trail() {
		if !e.Outcome.Certain {
			unsure++
		}
		for _, g := range e.Passed {
			passed = passed || !g.Outcome.Certain
		}
	}
	const close = " within the meter's error of a limit"
	if w.Readings() > 0 {
		parts = append(parts, ReadingsTaken(w))
	}
	switch {
	case unsure == 1:
		parts = append(parts, "1 lies"+close+", and this finding rests on it")
	case unsure > 1:
		parts = append(parts, fmt.Sprintf("%d lie%s, and this finding rests on them", unsure, close))
	case w.Readings() > 0 && !passed:
		parts = append(parts, "none within the meter's error of a limit")
	}
	if passed {
		parts = append(parts, "readings taken together lie"+close+", and this finding rests on them")
	}
	return strings.Join(parts, " · ")
}
