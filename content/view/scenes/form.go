package scenes

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
	"faultwright/faulttree/vehicle"
)

// Form is a scenario as an instructor fills it in, who need not know how its file is
// written. Forms are values: methods return a new one. Begin with [FormOf], or with
// the zero value.
type Form struct {
	ID       string // of the scenario; "" is made of the title
	Title    string
	Rig      string // id
	Faults   []FormFault
	Meter    string            // the mistake with the meter, by the id of a choice; "" for none
	Loads    map[string]string // by leg, watts as they are typed; "" as the rig has them
	May      []string          // switches that may be thrown
	Tree     string
	Role     faulttree.Role
	Misleads bool              // the story points elsewhere
	Shock    bool              // somebody in the story was shocked, or felt a tingle
	Seen     map[string]string // by observation, the choice that the story makes
	Lesson   string
	Story    string // as it is typed, an empty line between paragraphs
	Answer   string

	from *content.Scenario // what the form does not show is kept: other numbers, what varies, sources
}

// FormFault is a fault of a form.
type FormFault struct {
	Fault    string  // id
	Variant  int     // index, where and how it sits
	Severity float64 // in the unit of the fault; 0 where it has none
}

// Problem is what is wrong with a field of a form, a sentence.
type Problem struct{ Field, Text string }

// FormOf is the form of a scenario.
func FormOf(s *content.Scenario) Form {
	f := Form{ID: s.ID, Title: s.Title, Rig: s.Rig.ID, May: slices.Clone(s.May), Tree: s.Tree, Role: s.Role, Misleads: s.Is(content.MisleadingStory), Shock: s.Shock,
		Lesson: s.Lesson, Story: s.Story, Answer: s.Answer, Loads: map[string]string{}, Seen: map[string]string{}, from: s}
	for _, x := range s.Seen {
		f.Seen[x.Observation] = x.Choice
	}
	for _, a := range s.Faults {
		f.Faults = append(f.Faults, FormFault{a.Fault.ID, a.Variant, a.Severity})
	}
	if len(s.Meter) > 0 {
		f.Meter = s.Meter[0].String()
	}
	values := s.Setup().Values
	for _, leg := range s.Rig.Legs() {
		f.Loads[leg] = load.NumberText(s.Rig.Watts(values, leg), rig.Watts)
	}
	return f
}

// FormChoices is what can be chosen in a form as it stands.
type FormChoices struct {
	Rigs, Faults, Meter, Trees, Roles []view.Choice
	Places                            [][]view.Choice // of each fault of the form: where it may sit, by the index of the variant
	Severity                          []*scene.Dial   // of each fault; nil where it has none
	Legs                              []view.Choice
	Switches                          []view.Choice
	Seen                              []FormSeen // what the story may say was seen
}

// FormSeen is an observation, and what may be said to it.
type FormSeen struct {
	ID, Title string
	Choices   []view.Choice // the first one is that nothing is said
}

// Choices lists what can be chosen, by title.
func (f Form) Choices(lib *content.Library) FormChoices {
	out := FormChoices{Roles: []view.Choice{{ID: faulttree.Owner.String(), Text: "An owner"}, {ID: faulttree.Qualified.String(), Text: "Somebody qualified"}}, Meter: []view.Choice{{Text: "None"}}}
	for _, r := range view.Rigs(lib) {
		out.Rigs = append(out.Rigs, view.Choice{ID: r.ID, Text: r.Title})
	}
	r := lib.Rigs[f.Rig]
	if r == nil {
		return out
	}
	for _, x := range Nameable(lib, r) {
		if slices.ContainsFunc(x.In(r), rig.Variant.Shows) {
			out.Faults = append(out.Faults, view.Choice{ID: x.ID, Text: x.Title})
			continue
		}
		for _, v := range x.In(r) {
			out.Meter = append(out.Meter, view.Choice{ID: v.Edits[0].Mistake.String(), Text: strings.TrimSuffix(x.Title+": "+v.Text, ": ")})
		}
	}
	for _, x := range f.Faults {
		places, dial := placesAndDial(lib, r, x)
		out.Places, out.Severity = append(out.Places, places), append(out.Severity, dial)
	}
	out.Trees = []view.Choice{{Text: "None"}}
	for _, id := range r.Trees {
		out.Trees = append(out.Trees, view.Choice{ID: id, Text: view.TreeTitle(lib, id)})
	}
	for _, leg := range r.Legs() {
		out.Legs = append(out.Legs, view.Choice{ID: leg, Text: LegTitle(leg)})
	}
	for _, s := range r.Switches {
		out.Switches = append(out.Switches, view.Choice{ID: s.Name, Text: view.Capital(s.Title)})
	}
	for _, o := range lib.Forest.Observations {
		if !vehicle.TellsOf(&o, r) {
			continue
		}
		seen := FormSeen{o.ID, o.Title, []view.Choice{{Text: "The story does not say"}}}
		for _, c := range o.Choices {
			seen.Choices = append(seen.Choices, view.Choice{ID: c.ID, Text: c.Text})
		}
		out.Seen = append(out.Seen, seen)
	}
	return out
}

// placesAndDial lists where a fault of a form may sit, and how bad it may be.
func placesAndDial(lib *content.Library, r *rig.Rig, x FormFault) (places []view.Choice, dial *scene.Dial) {
	f := lib.Faults[x.Fault]
	if f == nil || f.Edits == nil {
		return nil, nil
	}
	for i, v := range f.Edits.Variants {
		if v.FitsIn(r) && v.Shows() {
			text := cmp.Or(v.Text, string(v.Place))
			places = append(places, view.Choice{ID: fmt.Sprint(i), Text: view.Capital(text)})
		}
	}
	if s := f.Edits.Severity; s != nil {
		dial = &scene.Dial{Name: "severity", Title: "How bad it is", Unit: s.Unit, From: s.From, To: s.To, Value: x.Severity, Log: s.Log}
	}
	return places, dial
}

// WithSeen is the form in which the story makes a choice of an observation; "" for none.
func (f Form) WithSeen(observation, choice string) Form {
	f.Seen = maps.Clone(f.Seen)
	if f.Seen == nil {
		f.Seen = map[string]string{}
	}
	if f.Seen[observation] = choice; choice == "" {
		delete(f.Seen, observation)
	}
	return f
}

// WithRig is the form for another rig. Faults that this one cannot have, its
// switches, loads and trees go.
func (f Form) WithRig(lib *content.Library, id string) Form {
	f.Rig, f.from, f.Loads, f.May, f.Tree = id, nil, map[string]string{}, nil, ""
	r := lib.Rigs[id]
	f.Faults = slices.DeleteFunc(slices.Clone(f.Faults), func(x FormFault) bool {
		fault := lib.Faults[x.Fault]
		return r == nil || fault == nil || fault.Edits == nil || x.Variant >= len(fault.Edits.Variants) || !fault.Edits.Variants[x.Variant].FitsIn(r)
	})
	if r != nil {
		for _, s := range r.Switches {
			f.May = append(f.May, s.Name)
		}
	}
	return f
}

// WithFault is the form with one fault more, in the first place where it can sit, as
// bad as it ordinarily is.
func (f Form) WithFault(lib *content.Library, id string) Form {
	r, fault := lib.Rigs[f.Rig], lib.Faults[id]
	if r == nil || fault == nil || fault.Edits == nil || slices.ContainsFunc(f.Faults, func(x FormFault) bool { return x.Fault == id }) {
		return f
	}
	for i, v := range fault.Edits.Variants {
		if v.FitsIn(r) {
			a := fault.Edits.Ordinary(i)
			f.Faults = append(slices.Clone(f.Faults), FormFault{id, i, a.Severity})
			break
		}
	}
	return f
}

// Turned is the form with the dial of a fault turned to a share of its way, 0 to 1, in
// three digits.
func (f Form) Turned(lib *content.Library, fault int, share float64) Form {
	if fault < 0 || fault >= len(f.Faults) {
		return f
	}
	x := f.Faults[fault]
	if doc := lib.Faults[x.Fault]; doc != nil && doc.Edits != nil && doc.Edits.Severity != nil {
		s := doc.Edits.Severity
		dial := scene.Dial{From: s.From, To: s.To, Log: s.Log}
		x.Severity = min(max(rounded(dial.At(share), 3), s.From), s.To)
		f.Faults = slices.Clone(f.Faults)
		f.Faults[fault] = x
	}
	return f
}
