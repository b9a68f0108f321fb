package paper

import (
	"cmp"
	"io"
	"strings"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

// keyed is a scenario of the answer key.
type keyed struct {
	Title string
	Lines []keyLine
}

// keyLine is a line of it behind a signal word, "" for none.
type keyLine struct{ Signal, Heading, Text string }

// Key writes the answers, for the instructor.
func Key(w io.Writer, lib *content.Library, a *class.Assignment, scenarios []*content.Scenario) error {
	page := struct {
		Terms, Variants string
		Cases           []keyed
	}{Terms: Terms(a)}
	for _, s := range scenarios {
		page.Cases = append(page.Cases, keyed{s.Title, answers(lib, s)})
	}
	if a.Tasks[0].Own {
		page.Variants = "Every learner has a vehicle of his own. The fault and the lesson are the same; numbers, loads, places and legs may differ."
	}
	return write(w, "key.html", "Answer key", a.Title, page)
}

// answers is what there is to find at a scenario, and what a good conclusion says.
func answers(lib *content.Library, s *content.Scenario) []keyLine {
	var out []keyLine
	add := func(heading, text string) {
		if text = strings.TrimSpace(text); text != "" {
			out = append(out, keyLine{Heading: heading, Text: text})
		}
	}
	if len(s.Faults) == 0 && len(s.Meter) == 0 {
		add("Hidden", scenes.FaultTitle(lib, practice.NoFault))
	}
	var do, by []string
	for _, f := range s.Faults {
		place := f.Fault.Variants[f.Variant].Place
		out = append(out, keyLine{lib.WorstHazard([]string{f.Fault.ID}).Word(), "Hidden", placed(scenes.FaultTitle(lib, f.Fault.ID), f)})
		if doc := lib.Faults[f.Fault.ID]; doc != nil {
			if advice := doc.At(place); advice != nil {
				do, by = append(do, advice.FirstAction), append(by, view.Capital(advice.RepairBy))
			}
		}
	}
	for _, m := range s.Meter {
		if f, ok := practice.MeterFault(scenes.Book(lib, faulttree.DefaultMeter()).Faults, m); ok {
			out = append(out, keyLine{faulttree.Notice.Word(), "Hidden in the meter", scenes.FaultTitle(lib, f.Fault.ID)})
		}
	}
	add("Answer", s.Answer)
	add("Lesson", s.Lesson)
	add("What is to be done", cmp.Or(s.Expect.Do, strings.Join(do, " ")))
	add("Who does it", cmp.Or(view.Capital(s.Expect.RepairBy), strings.Join(by, "; ")))
	open := lists.Each(s.Expect.Open, func(at faulttree.FaultAt) string {
		return scenes.FaultTitle(lib, at.Fault) + " (" + string(at.Place) + ")"
	})
	add("To be named as open", strings.Join(open, "; "))
	return out
}

// placed is a fault's title with where it sits, unless the title says that.
func placed(title string, a rig.Applied) string {
	v := a.Fault.Variants[a.Variant]
	where := cmp.Or(v.Text, string(v.Place))
	if strings.Contains(strings.ToLower(title), strings.ToLower(where)) {
		return title
	}
	return title + " (" + where + ")"
}
