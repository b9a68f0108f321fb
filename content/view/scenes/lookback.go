package scenes

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/suspect"
)

// Compared is the readings of an attempt beside what would have been read elsewhere.
type Compared struct {
	Suspects []string // what there was to find first, each with the share that the readings give it
	Rows     []ComparedRow
	Note     string
}

// ComparedRow is a reading.
type ComparedRow struct {
	Name string // with the numbers of its acts: "4. Body to earth · AC volts"
	Read string // "58.2 V"
	// Shows is by suspect.
	Shows []ComparedCell
}

// ComparedCell is what the vehicles of a suspect show.
type ComparedCell struct {
	Text string // "54 V to 63 V"
	Off  bool   // what was read fits it badly
}

// mostBeside is how many suspects stand beside the readings.
const mostBeside = 4

// notShown stands where a suspect has nothing to show.
const notShown = "—"

// Compare puts the readings of an attempt up to its conclusion beside what the
// vehicles show in which there is to be done what there was to be done here, in which
// what was concluded is so, that are sound, and the likeliest others.
func Compare(ctx context.Context, lib *content.Library, c practice.Case, a practice.Attempt, b mark.Book) (Compared, error) {
	acts := len(a.Acts)
	if a.Repaired > 0 {
		acts = min(a.Repaired, acts)
	}
	k, err := mark.Know(ctx, c, a, acts, b)
	if err != nil {
		return Compared{}, err
	}
	var out Compared
	var beside [][]*suspect.Misfit
	for _, s := range comparable(lib, k, a) {
		title := s.Headline() + ", " + s.Share
		if k.True(s.Of) {
			title = "It was: " + title
		}
		out.Suspects, beside = append(out.Suspects, title), append(beside, k.Belief.Against(s.Of))
	}
	counted, told := map[int]bool{}, []string(nil)
	for i, e := range k.Belief.Evidence() {
		from := k.Acts(i)
		if len(from) == 0 {
			if o := lib.Forest.Observation(e.Seen.Observation); o != nil {
				told = append(told, "“"+o.Title+"” “"+o.Sight(e.Seen.Choice).Text+"”")
			}
			continue
		}
		row := ComparedRow{Name: readingName(a, from, e), Read: e.Reading.Show(e.Quantity.Unit)}
		if len(from) == 1 {
			row.Read = ShownText(a.Acts[from[0]])
		}
		for _, act := range from {
			counted[act] = true
		}
		for _, of := range beside {
			x := ComparedCell{Text: notShown}
			if m := of[i]; m != nil {
				x = ComparedCell{Text: m.Expected.Show(e.Quantity, a.Meter), Off: m.Fit < view.FitsBadly}
			}
			row.Shows = append(row.Shows, x)
		}
		out.Rows = append(out.Rows, row)
	}
	out.Note = "A share is what your readings give to vehicles in which this alone is to be done; marks count those as well in which more is. Nine tenths of them show what stands below it. ✗ marks where what you read fits badly."
	if len(told) > 0 {
		out.Note += " What the customer says counts as well, as told: " + strings.Join(told, "; ") + "."
	}
	if left := slices.ContainsFunc(a.ReadingsAt(), func(i int) bool { return i < acts && a.Acts[i].Kind == practice.Read && !counted[i] }); left {
		out.Note += " What the meter held, and what it did not measure, tells nothing of the vehicle and is left out."
	}
	return out, nil
}

// comparable lists the suspects that readings are compared with.
func comparable(lib *content.Library, k mark.Known, a practice.Attempt) []view.Suspect {
	v := view.SuspectsOf(lib, k.Belief, a.Meter)
	all := slices.Concat(v.Likely, v.Untested, v.Unlikely)
	var out []view.Suspect
	take := func(which func(view.Suspect) bool) {
		if i := slices.IndexFunc(all, which); i >= 0 && len(out) < mostBeside {
			out = append(out, all[i])
			all = slices.Delete(all, i, i+1)
		}
	}
	has := func(fault string) func(view.Suspect) bool {
		return func(s view.Suspect) bool { return slices.Contains(s.Of.Faults, fault) }
	}
	take(func(s view.Suspect) bool { return k.True(s.Of) })
	if !slices.ContainsFunc(out, has(a.Named())) {
		take(has(a.Named()))
	}
	take(has(suspect.NoFault))
	for range mostBeside {
		take(func(s view.Suspect) bool { return s.Of.Share >= worthTelling })
	}
	return out
}

// readingName names a piece of evidence by its acts.
func readingName(a practice.Attempt, acts []int, e suspect.Evidence) string {
	var numbers []string
	points := map[string]bool{}
	for _, i := range acts {
		numbers = append(numbers, ActNumber(i))
		points[Probed(a.Acts[i])] = true
	}
	last := a.Acts[acts[len(acts)-1]]
	name := Probed(last)
	if len(points) > 1 {
		name = view.Capital(e.Quantity.Title)
	}
	return strings.Join(numbers, " ") + " " + name + " · " + SettingText(last.Setting)
}

// Concluded words what became of a conclusion without marks: a headline, and a
// sentence or two. It praises nothing: whether the readings hold it, marks say.
func Concluded(lib *content.Library, c practice.Case, a practice.Attempt) (headline, text string) {
	titles := func(ids []string) string {
		out := lists.Each(ids, func(id string) string { return FaultTitle(lib, id) })
		return strings.Join(out, "; ")
	}
	truth := c.Truth()
	if !slices.Contains(truth, a.Named()) {
		return "It is something else", fmt.Sprintf("You named: %s. It was: %s.", FaultTitle(lib, a.Named()), titles(truth))
	}
	rest := slices.DeleteFunc(slices.Clone(truth), func(id string) bool { return slices.Contains(a.Conclusion.Faults, id) })
	text = titles(a.Conclusion.Faults) + "."
	if len(rest) > 0 {
		text += " There was more: " + titles(rest) + "."
	}
	return "It is what you named", text
}
