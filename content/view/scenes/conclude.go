package scenes

import (
	"cmp"
	"hash/fnv"
	"math"
	"slices"
	"strings"
	"unicode"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

// NothingToRepair is what is to be done, and NobodyRepairs who does it, where
// nothing was found wrong. All other choices are in the words of the faults'
// documents.
const (
	NothingToRepair = "Nothing is repaired. Say what was read, and what no reading can show."
	NobodyRepairs   = "nobody: there is nothing to repair"
)

// Conclude is what a learner can conclude about a case, as choices. What can be
// chosen depends on what is chosen already.
type Conclude struct {
	Faults   []view.Choice // by title and where they sit, that there is none first
	Means    []string      // what each fault that is named is, as its document begins
	Places   []view.Choice // where the fault may sit
	Readings []ReadAt      // his own
	Sure     []view.Choice
	Dangers  []view.Choice // that may be named as still open
	Do       []view.Choice
	RepairBy []view.Choice
	Missing  []string // what has to be said yet, each the part of a sentence
}

// ReadAt is a reading of an attempt: the index of its act, and a line with its
// number.
type ReadAt struct {
	Act  int
	Text string
}

// ConcludeOf is the choices while c is what is concluded so far. Truth is among
// what is to be done, and nothing tells which it is.
func ConcludeOf(lib *content.Library, s *content.Scenario, cs practice.Case, a practice.Attempt, c practice.Conclusion) Conclude {
	out := Conclude{Faults: []view.Choice{{ID: practice.NoFault, Text: FaultTitle(lib, practice.NoFault)}}}
	all := Nameable(lib, cs.Rig)
	for _, f := range all {
		out.Faults = append(out.Faults, view.Choice{ID: f.ID, Text: f.Title + " (" + strings.Join(lists.Each(placesIn(f, cs.Rig), faulttree.Place.Word), ", ") + ")"})
	}
	for _, id := range c.Faults {
		switch f := lib.Faults[id]; {
		case f == nil:
		case len(c.Faults) > 1: // which of them it is about
			out.Means = append(out.Means, f.Title+": "+wrongWith(f))
		default:
			out.Means = append(out.Means, wrongWith(f))
		}
	}
	for _, p := range placesOf(all, cs.Rig) {
		out.Places = append(out.Places, view.Choice{ID: string(p), Text: placeWord(p)})
	}
	for _, i := range a.ReadingsAt() {
		out.Readings = append(out.Readings, ReadAt{i, ReadingLine(a, i)})
	}
	for _, s := range []practice.Sureness{practice.Guess, practice.Likely, practice.Sure} {
		out.Sure = append(out.Sure, view.Choice{Text: sureWord(s)})
	}
	out.Dangers = dangersOf(lib, all, cs.Rig)
	out.Do, out.RepairBy = tasks(lib, s, cs, all, c)
	out.Missing = missing(a, c)
	return out
}

// wrongWith is the first paragraph of what is wrong, in the document of a fault.
func wrongWith(f *content.Fault) string {
	for i, block := range f.Body {
		if _, heads := block.(document.Heading); heads && i+1 < len(f.Body) {
			return document.Plain(f.Body[i+1 : i+2])
		}
	}
	return ""
}

// ReadingLine is a reading of an attempt in one line, with its number.
func ReadingLine(a practice.Attempt, i int) string {
	what, came := ActLine(a.Acts[i], nil)
	return ActNumber(i) + " " + what + ": " + came
}

// placesOf lists where some faults may sit in a rig.
func placesOf(all []*rig.Fault, r *rig.Rig) []faulttree.Place {
	var out []faulttree.Place
	for _, p := range faulttree.Places() {
		if slices.ContainsFunc(all, func(f *rig.Fault) bool { return slices.Contains(placesIn(f, r), p) }) {
			out = append(out, p)
		}
	}
	return out
}

// placesIn lists where a fault may sit in a rig, from the supply on.
func placesIn(f *rig.Fault, r *rig.Rig) []faulttree.Place {
	return lists.Where(faulttree.Places(), func(p faulttree.Place) bool {
		return slices.ContainsFunc(f.Variants, func(v rig.Variant) bool { return v.Place == p && v.FitsIn(r) })
	})
}

func placeWord(p faulttree.Place) string {
	switch p {
	case faulttree.Supply:
		return "The site's supply"
	case faulttree.Cord:
		return "Cord, plug or adapter"
	case faulttree.Vehicle:
		return "The vehicle"
	case faulttree.DC:
		return "The 12 V side"
	case faulttree.MeterOwn:
		return "The meter"
	}
	return string(p)
}

func sureWord(s practice.Sureness) string {
	switch s {
	case practice.Likely:
		return "Likely: the readings point to it"
	case practice.Sure:
		return "Sure: the readings leave nothing else"
	}
	return "A guess"
}

// dangersOf lists the dangerous faults that a rig can have, by title.
func dangersOf(lib *content.Library, all []*rig.Fault, r *rig.Rig) []view.Choice {
	var out []view.Choice
	for _, f := range all {
		if doc := lib.Faults[f.ID]; doc == nil || doc.Hazard != faulttree.Danger {
			continue
		}
		for _, p := range placesIn(f, r) {
			out = append(out, view.Choice{ID: faulttree.FaultAt{Fault: f.ID, Place: p}.String(), Text: f.Title + " (" + faulttree.InSentence(placeWord(p)) + ")"})
		}
	}
	return out
}

// mostTasks is how many choices of what is to be done are offered.
const mostTasks = 6

// tasks are what may be to be done and who may do it: of what is there, of what
// was named, and of other faults, sorted so that their order tells nothing.
func tasks(lib *content.Library, s *content.Scenario, cs practice.Case, all []*rig.Fault, c practice.Conclusion) (do, by []view.Choice) {
	dos, bys := []string{NothingToRepair}, []string{NobodyRepairs}
	if text := s.Expect.Do; text != "" {
		dos = append(dos, text)
	}
	if text := s.Expect.RepairBy; text != "" {
		bys = append(bys, text)
	}
	choose := func(of []string, text string, most int) []string {
		twin := func(other string) bool { return other == text || most < math.MaxInt && nearTwins(other, text) }
		if text == "" || len(of) >= most || slices.ContainsFunc(of, twin) {
			return of
		}
		return append(of, text)
	}
	add := func(fault string, p faulttree.Place, most int) {
		if f := lib.Faults[fault]; f != nil && f.At(p) != nil {
			dos, bys = choose(dos, f.At(p).FirstAction, most), choose(bys, f.At(p).RepairBy, most)
		}
	}
	for _, a := range cs.Faults {
		v := a.Fault.Variants[a.Variant]
		add(a.Fault.ID, v.Place, math.MaxInt)
		for _, id := range v.With {
			for _, p := range faulttree.Places() {
				if f := lib.Faults[id]; f != nil && f.Findings[p] != nil {
					add(id, p, math.MaxInt)
				}
			}
		}
	}
	for _, id := range c.Faults {
		add(id, c.Place, math.MaxInt)
	}
	shuffled := slices.Clone(all)
	key := func(f *rig.Fault) uint32 {
		h := fnv.New32a()
		h.Write([]byte(cs.ID + " " + f.ID))
		return h.Sum32()
	}
	slices.SortFunc(shuffled, func(a, b *rig.Fault) int { return cmp.Compare(key(a), key(b)) })
	for _, f := range shuffled {
		for _, p := range placesIn(f, cs.Rig) {
			add(f.ID, p, mostTasks)
		}
	}
	return choices(dos), choices(bys)
}

// nearTwins reports whether two choices say nearly the same before what they add behind
// a semicolon, so that nobody could know which of them is meant.
func nearTwins(a, b string) bool {
	words := func(text string) []string {
		head, _, _ := strings.Cut(strings.ToLower(text), ";")
		var out []string
		for _, w := range strings.FieldsFunc(head, func(r rune) bool { return !unicode.IsLetter(r) }) {
			out = lists.With(out, w)
		}
		return out
	}
	first, second := words(a), words(b)
	both := lists.Count(first, func(w string) bool { return slices.Contains(second, w) })
	return 4*both >= 3*(len(first)+len(second)-both)
}

// choices are texts as choices, sorted.
func choices(texts []string) []view.Choice {
	slices.Sort(texts)
	var out []view.Choice
	for _, t := range texts {
		if t != "" {
			out = append(out, view.Choice{ID: t, Text: view.Capital(t)})
		}
	}
	return out
}

// missing lists what has to be said before a conclusion can be taken.
func missing(a practice.Attempt, c practice.Conclusion) []string {
	var out []string
	sound := slices.Contains(c.Faults, practice.NoFault)
	if len(c.Faults) == 0 {
		out = append(out, "what is wrong")
	}
	if c.Place == "" && !sound {
		out = append(out, "where it sits")
	}
	if len(c.Deciding) == 0 && len(a.ReadingsAt()) > 0 {
		out = append(out, "which readings decided")
	}
	if c.Do == "" {
		out = append(out, "what is to be done")
	}
	if c.RepairBy == "" {
		out = append(out, "who repairs")
	}
	return out
}
