package main

import (
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
)

// stop writes the title of a STOP behind its signal word.
func (g page) stop(s *faulttree.Step) {
	title := s.Title
	if !strings.HasPrefix(title, "STOP") {
		title = "STOP. " + title
	}
	g.signal(faulttree.Danger, title)
}

// cautions writes the cautions of a step, the worst first.
func (g page) cautions(lib *content.Library, ids []string) {
	var found []*content.Caution
	for _, id := range ids {
		if c := lib.Cautions[id]; c != nil {
			found = append(found, c)
		}
	}
	slices.SortStableFunc(found, func(a, b *content.Caution) int { return int(b.Signal) - int(a.Signal) })
	for _, c := range found {
		g.signal(c.Signal, c.Title+" ["+c.ID+"]")
	}
	if len(found) > 0 {
		g.blank()
	}
}

// step writes what a step asks: the danger first, then the question, then the
// text, then where the probes go.
func (g page) step(lib *content.Library, s *faulttree.Step) {
	if s.Stop() {
		g.stop(s)
		g.blank()
	}
	g.cautions(lib, s.Cautions)
	if !s.Stop() {
		g.title(s.Title)
	}
	g.blocks("", lib.Prose[s.Ref()])
	if len(lib.Prose[s.Ref()]) > 0 {
		g.blank()
	}
	for _, v := range s.Measure {
		if s.Kind == faulttree.KindWeigh {
			g.hanging("Looks again at: ", "  ", v.Quantity.Title)
			continue
		}
		g.quantity(lib, v.Quantity)
	}
	for i, c := range s.Choices {
		g.hanging("  "+itoa(i+1)+"  ", "     ", c.Text+" ("+c.ID+")")
	}
	if len(s.Cards) > 0 {
		g.labelled("Explained in", list(s.Cards))
	}
}

var conditionWords = map[faulttree.Condition]string{
	faulttree.Loaded:    "with the loads in question switched on",
	faulttree.LowZ:      "with a low-impedance meter",
	faulttree.MainOff:   "with the vehicle's main breaker off",
	faulttree.Rest:      "hours after the last charge or load",
	faulttree.Unplugged: "with the plug pulled, generator and inverter off",
}

// quantity writes what to measure and how the meter stands.
func (g page) quantity(lib *content.Library, q faulttree.Quantity) {
	title := q.Title
	if title == "" {
		title = q.ID
	}
	for _, c := range q.Conditions {
		title += ", " + conditionWords[c]
	}
	g.hanging("Measure: ", "  ", title)
	dial := q.Unit.Function()
	if q.Range > 0 {
		dial += ", range " + q.Range.With(q.Unit) + " or the next above"
	}
	g.hanging("  Dial: ", "    ", dial)
	point := func(label, id string) {
		if p, ok := lib.Points[id]; ok {
			g.hanging("  "+label+": ", "    ", p.Title)
		}
	}
	if q.Black == "" {
		point("At", q.Red)
		return
	}
	point("Red probe", q.Red)
	point("Black probe", q.Black)
}

// limits writes where the readings of a step lead.
func (g page) limits(s *faulttree.Step) {
	for _, segment := range s.Ruler() {
		label := segment.Label
		if label == "" {
			label = segment.To.Step
		}
		if w := segment.Signal.Word(); w != "" {
			label += ", " + w
		}
		g.hanging("  "+segment.Span.Format(s.Measure[0].Quantity.Unit)+": ", "    ", label)
	}
}

// finding writes where a walk ended: signal first, what to do, what not, how
// sure, what is wrong and why, the readings, and what is not excluded.
func (g page) finding(lib *content.Library, w faulttree.Walk, r faulttree.Result) {
	f := r.Finding
	g.signal(f.Signal, r.Title)
	if s := lib.Forest.Step(r.Ref); s != nil {
		g.cautions(lib, s.Cautions)
	}
	g.labelled("Now", f.FirstAction)
	g.labelled("Do not", f.DoNot)
	g.labelled("How sure", f.Sure)
	g.labelled("Who may repair it", f.RepairBy)
	for _, id := range f.Faults {
		title := id
		if c := lib.Faults[id]; c != nil {
			title = c.Title + " [" + id + "]"
		}
		g.labelled("Fault", title)
	}
	if prose := lib.Prose[r.Ref]; len(prose) > 0 {
		g.blank()
		g.blocks("", prose)
	}
	g.readings(lib, w)
	g.excludes(lib, f)
}

// readings lists what was measured, with what each can mean.
func (g page) readings(lib *content.Library, w faulttree.Walk) {
	first := true
	for _, e := range w.Trail() {
		s := lib.Forest.Step(e.Step)
		for i, r := range e.Answer.Readings {
			if first {
				g.blank()
				g.para("", "Readings:")
				first = false
			}
			q := s.Measure[i].Quantity
			text := q.ID + ": " + r.Show(q.Unit)
			if r.Numeric() {
				text += " ± " + w.Meter().Uncertainty(r, q).RoundUp(r.Resolution/10).With(q.Unit)
			}
			if r.Note != "" {
				text += " (" + r.Note + ")"
			}
			g.hanging("  ", "    ", text)
		}
	}
}

// excludes tells what the readings do not show.
func (g page) excludes(lib *content.Library, f faulttree.Finding) {
	if len(f.Clears) > 0 {
		var places []string
		for _, p := range f.Clears {
			places = append(places, string(p))
		}
		g.blank()
		g.para("", "These readings show no fault in: "+strings.Join(places, ", ")+". They speak of now, and of nothing that was not measured.")
	}
	if len(f.CannotExclude) == 0 {
		return
	}
	g.blank()
	g.para("", "These readings can not exclude:")
	for _, n := range f.CannotExclude {
		name := n.Fault
		if c := lib.Faults[n.Fault]; c != nil {
			name = c.Title
		}
		g.hanging("  - ", "    ", name+" ["+n.Fault+"]. To exclude it: "+n.Test)
	}
}
