package class

import (
	"cmp"
	"fmt"
	"slices"

	"faultwright/content"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
)

// Gaps is what a class has yet to learn, the most common first.
type Gaps struct {
	Missed []Gap // concepts, by the card that explains them: of unsafe acts, and of parts of what was concluded with less than half of their points
	Unsafe []Gap // unsafe acts, by rule
	Wrong  []Gap // readings that told nothing, by where and how
	Early  []Gap // concluded before the readings held it, by scenario
}

// Gap is one thing and who has it.
type Gap struct {
	ID       string // of the card, the rule or the scenario; "" for a reading
	Text     string
	Learners []*Learner // each once
	Times    int
}

// Gaps gathers them from all attempts that were marked. What belongs between two points
// the handbook's quantities say.
func (c *Class) Gaps(lib *content.Library) Gaps {
	var missed, unsafe, wrong, early gathered
	for _, l := range c.Learners {
		for task, x := range l.Tries {
			if x == nil || x.Edited != "" {
				continue
			}
			for _, a := range x.Attempt.Acts {
				if why := wrongReading(lib, a); why != "" {
					wrong.add("", fmt.Sprintf("%s · %s: %s", scenes.Probed(a), scenes.SettingText(a.Setting), why), l)
				}
			}
			if x.Marks == nil {
				continue
			}
			for _, p := range x.Marks.Caps {
				title := x.Marks.Rubric.Cap(p.Rule).Title
				unsafe.add(string(p.Rule), title, l)
				if p.Card != "" {
					missed.add(p.Card, title, l)
				}
			}
			for _, p := range x.Marks.Parts {
				if p.Card != "" && x.Attempt.Ended() && 2*p.Points < p.Of { // nobody missed what he has not come to
					missed.add(p.Card, p.Title, l)
				}
			}
			if x.Marks.Early {
				early.add(c.Scenarios[task].ID, c.Scenarios[task].Title, l)
			}
		}
	}
	return Gaps{missed.sorted(), unsafe.sorted(), wrong.sorted(), early.sorted()}
}

// wrongReading says why a reading told nothing because of how it was taken, ""
// where it was taken as it should be.
func wrongReading(lib *content.Library, a practice.Act) string {
	if a.Kind != practice.Read {
		return ""
	}
	unit := a.Setting.Function.Unit()
	switch {
	case a.Hazard:
		return "it hurts or ruins"
	case a.Setting.Hold:
		return "the hold is on, so it shows what stood there before"
	case a.Setting.Jack == meter.AmpereJack && unit != faulttree.AmpsAC && unit != faulttree.AmpsDC:
		return "the lead is in the ampere jack"
	case unit == faulttree.VoltsAC && readIn(lib, a, faulttree.VoltsDC) && !readIn(lib, a, unit):
		return "it is DC there"
	case unit == faulttree.VoltsDC && readIn(lib, a, faulttree.VoltsAC) && !readIn(lib, a, unit):
		return "it is AC there"
	}
	return ""
}

// readIn reports whether the handbook reads in a unit where an act has its tips.
func readIn(lib *content.Library, a practice.Act, unit faulttree.Unit) bool {
	for _, q := range lib.Forest.Quantities {
		if q.Unit == unit && (q.Red == a.Red && q.Black == a.Black || q.Red == a.Black && q.Black == a.Red) {
			return true
		}
	}
	return false
}

// gathered counts gaps as they are met.
type gathered struct{ all []Gap }

func (g *gathered) add(id, text string, l *Learner) {
	i := slices.IndexFunc(g.all, func(o Gap) bool { return o.ID == id && (id != "" || o.Text == text) })
	if i < 0 {
		i = len(g.all)
		g.all = append(g.all, Gap{ID: id, Text: text})
	}
	one := &g.all[i]
	one.Times++
	one.Learners = lists.With(one.Learners, l)
}

// sorted is what was gathered, what most learners have first.
func (g *gathered) sorted() []Gap {
	slices.SortStableFunc(g.all, func(a, b Gap) int {
		return cmp.Or(len(b.Learners)-len(a.Learners), b.Times-a.Times, cmp.Compare(a.Text, b.Text))
	})
	return g.all
}
