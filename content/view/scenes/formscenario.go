package scenes

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// Scenario is the scenario of a form, and the file that says it; the problems say what
// is still to be filled in or mended, and then there is neither.
func (f Form) Scenario(ctx context.Context, lib *content.Library) (*content.Scenario, string, []Problem) {
	s, problems := f.made(lib)
	if len(problems) > 0 {
		return nil, "", problems
	}
	text := load.ScenarioText(lib, s)
	front := strings.Count(text[:strings.Index(text[3:], "\n---\n")+3], "\n") + 2
	back, diags := load.Scenario(ctx, lib, s.ID+".md", strings.NewReader(text), nil)
	if back == nil {
		for _, d := range diags {
			if d.Severity != source.Error {
				continue
			}
			field := "Title"
			if d.Pos.Line > front {
				field = "Story"
			}
			problems = append(problems, Problem{field, view.Capital(view.Sentence(d.Message))})
		}
		return nil, "", problems
	}
	return back, text, nil
}

// made makes the scenario, as far as its fields can be read.
func (f Form) made(lib *content.Library) (*content.Scenario, []Problem) {
	var problems []Problem
	wrong := func(field, format string, args ...any) {
		problems = append(problems, Problem{field, fmt.Sprintf(format, args...)})
	}
	s := &content.Scenario{}
	if f.from != nil {
		*s = *f.from
	}
	f.texts(s, wrong)
	s.Rig = lib.Rigs[f.Rig]
	if s.Rig == nil {
		wrong("Rig", "Choose the vehicle and its supply.")
		return s, problems
	}
	s.Seen = nil
	for _, o := range lib.Forest.Observations {
		if choice := f.Seen[o.ID]; o.Sight(choice) != nil && vehicle.TellsOf(&o, s.Rig) {
			s.Seen = append(s.Seen, suspect.Seen{Observation: o.ID, Choice: choice})
		}
	}
	f.hidden(lib, s, wrong)
	f.loads(s, wrong)
	s.Vary = varyOf(s)
	s.May = nil
	for _, x := range s.Rig.Switches {
		if slices.Contains(f.May, x.Name) {
			s.May = append(s.May, x.Name)
		}
	}
	if len(s.May) == 0 {
		wrong("May", "Let the learner throw at least one switch, or nothing can be tested dead.")
	}
	return s, problems
}

// texts puts what is typed into a scenario, and whom and what it is for.
func (f Form) texts(s *content.Scenario, wrong func(field, format string, args ...any)) {
	s.ID, s.Title, s.Tree, s.Role, s.Lesson, s.Answer = f.ID, oneLine(f.Title), f.Tree, f.Role, oneLine(f.Lesson), oneLine(f.Answer)
	s.Shock = f.Shock
	s.Story = strings.Trim(strings.ReplaceAll(f.Story, "\r\n", "\n"), "\n ")
	if s.ID == "" {
		s.ID = idOf(s.Title)
	}
	for _, field := range []struct{ name, text, ask string }{
		{"Title", s.Title, "Give the scenario a title."}, {"Story", s.Story, "Tell what the customer says."},
		{"Answer", s.Answer, "Say what it was and which readings show it; that is shown in the end."},
	} {
		if field.text == "" {
			wrong(field.name, "%s", field.ask)
		}
	}
	if s.Title != "" && s.ID == "" {
		wrong("Title", "The title needs a word of letters, from which the file gets its name.")
	}
}

// hidden puts the faults into a scenario, and what follows from them.
func (f Form) hidden(lib *content.Library, s *content.Scenario, wrong func(field, format string, args ...any)) {
	s.Faults, s.Meter = nil, nil
	for _, x := range f.Faults {
		a, why := applied(lib, s.Rig, x)
		if why != "" {
			wrong("Faults", "%s", why)
			continue
		}
		s.Faults = append(s.Faults, a)
	}
	for m := rig.HoldLeftOn; m <= rig.BrokenLead; m++ {
		if m.String() == f.Meter {
			s.Meter = []rig.Mistake{m}
		}
	}
	s.Kinds, s.Hazard = []content.ScenarioKind{s.HiddenKind()}, lib.HiddenHazard(s)
	if f.Misleads {
		s.Kinds = append(s.Kinds, content.MisleadingStory)
	}
	if f.from != nil && f.from.Hazard != lib.HiddenHazard(f.from) {
		s.Hazard = f.from.Hazard
	}
}

// loads puts the numbers of a form into a scenario: of loads that were not changed
// those that the scenario had, and all others of the rig that it sets.
func (f Form) loads(s *content.Scenario, wrong func(field, format string, args ...any)) {
	had, before := map[int]float64{}, Form{}
	if f.from != nil {
		had, before = f.from.Values, FormOf(f.from)
	}
	s.Values = map[int]float64{}
	maps.Copy(s.Values, had)
	for _, leg := range s.Rig.Legs() {
		typed := strings.TrimSpace(f.Loads[leg])
		if typed == before.Loads[leg] {
			continue
		}
		for _, i := range s.Rig.LegWatts(leg) {
			delete(s.Values, i)
		}
		watts, err := load.ParseValue(typed, rig.Watts)
		switch {
		case typed == "": // as the rig has them
		case err != nil:
			wrong("Loads", "%s: %s. Type the watts, such as 1500.", LegTitle(leg), strings.TrimSuffix(err.Error(), "."))
		case watts > mostWatts:
			wrong("Loads", "%s: %s is more than any vehicle has.", LegTitle(leg), rig.Watts.Format(watts))
		default:
			maps.Copy(s.Values, s.Rig.Shared(leg, watts))
		}
	}
}

// varyOf is what varies of a scenario without what speaks of faults that it no longer
// has.
func varyOf(s *content.Scenario) content.Vary {
	v := s.Vary
	gone := func(id string) bool {
		return !slices.ContainsFunc(s.Faults, func(a rig.Applied) bool { return a.Fault.ID == id })
	}
	v.Severity = maps.Clone(v.Severity)
	maps.DeleteFunc(v.Severity, func(id string, _ content.Range) bool { return gone(id) })
	v.Places = slices.DeleteFunc(slices.Clone(v.Places), func(of content.PlacesOf) bool { return gone(of.Fault) })
	return v
}

// mostWatts is more than the loads of any leg take.
const mostWatts = 20_000

// applied is a fault of a form in force, or why it cannot be.
func applied(lib *content.Library, r *rig.Rig, x FormFault) (a rig.Applied, why string) {
	f := lib.Faults[x.Fault]
	switch {
	case x.Fault == "" || f == nil || f.Edits == nil:
		return a, "Choose which fault is hidden, or take it out."
	case x.Variant < 0 || x.Variant >= len(f.Edits.Variants) || !f.Edits.Variants[x.Variant].FitsIn(r):
		return a, fmt.Sprintf("%s: choose where it sits in this vehicle.", f.Title)
	}
	a = f.Edits.Ordinary(x.Variant)
	if s := f.Edits.Severity; s != nil {
		if !(x.Severity >= s.From && x.Severity <= s.To) {
			return a, fmt.Sprintf("%s: it is between %s and %s bad, not %s.", f.Title, s.Unit.Format(s.From), s.Unit.Format(s.To), s.Unit.Format(x.Severity))
		}
		a.Severity = x.Severity
	}
	return a, ""
}

// oneLine is a text as one paragraph.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// idOf makes an id of a title: its letters and digits, hyphens between.
func idOf(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	id := strings.Join(words, "-")
	if len(id) > 60 {
		id = strings.TrimRight(id[:60], "-")
	}
	if id != "" && (id[0] < 'a' || id[0] > 'z') {
		id = "case-" + id
	}
	return id
}
