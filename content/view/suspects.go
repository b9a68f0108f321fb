package view

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/suspect"
)

// Suspects is what fits an account, and what is still open. It is composed here
// alone; window, terminal and sheet draw it. What a reading calls for at once is
// [AlarmsOf], which stands above it and needs no vehicles worked out.
type Suspects struct {
	Open       []NotExcluded // dangers not ruled out, by the test for them, likeliest first; at most [MostTests]
	MoreOpen   string        // "And 3 more dangers"; "" for none
	RestOpen   string        // which they are
	None       *None         // that none of the suspects fits; nil where that is unlikely
	Likely     []Suspect     // most likely and also possible, the likeliest first
	Untested   []Suspect     // as likely as before anything was told: no reading was a test for them
	Unlikely   []Suspect
	Counted    int    // pieces of evidence that counted, beside the complaint
	TakenAs    string // the facts that the readings imply and nobody stated, with how to state them otherwise; "" for none
	NotWeighed string // the readings that no vehicle of these facts has, and what to leave open to weigh them; "" for none
	Dangers    []suspect.Open
}

// Suspect is all faults after which the same is to be done.
type Suspect struct {
	Word     string // "most likely", "also possible", "unlikely"
	Share    string // "94 %"
	Title    string // "The neutral is open"
	Where    string // "cord"; "" for a sound vehicle
	Side     string // "120 V", where suspects of several sides are listed, each with shares of its own
	Faults   []Link // none for a sound vehicle
	Signal   faulttree.Signal
	Do       []string // the first action, one sentence each
	RepairBy string
	Drawn    bool   // a circuit can show why it reads so
	Worst    string // the reading that fits it worst, expected against read; "" where all fit well
	Of       suspect.Suspect
}

// Headline is the suspect and where it sits: "The neutral is open (cord)".
func (s Suspect) Headline() string {
	parts := slices.Compact(slices.DeleteFunc([]string{s.Where, s.Side}, func(p string) bool { return p == "" })) // the 12 V side is a place too
	if len(parts) == 0 {
		return s.Title
	}
	return s.Title + " (" + strings.Join(parts, ", ") + ")"
}

// Text is the suspect as one line: "most likely, 94 %: The neutral is open (cord)".
func (s Suspect) Text() string { return s.Word + ", " + s.Share + ": " + s.Headline() }

// None says that a vehicle is unlike any that was worked out.
type None struct {
	Leads bool // it is likelier than any suspect
	Share string
	Title string
	Text  string
}

// Words that stand on every page of suspects.
const (
	NoneTitle    = "None of these fits"
	SharesRestOn = "How likely each is rests on our own weights: how common a fault is, how often a reading is wrong. The words count, the figures only order them."
	ClearsNone   = "Nothing here clears anything: what is unlikely is not excluded, and what was not measured was not looked at."
)

// FitsBadly is below what fit a reading is told to be the one that fits a suspect
// worst; better ones are within what loads and meters do.
const FitsBadly = 0.4

// noneListed is the share from which on it is told that none may fit, that of a
// suspect which is also possible.
const noneListed = 0.05

// SuspectsOf words a belief.
func SuspectsOf(lib *content.Library, b *suspect.Belief, m faulttree.Meter) Suspects {
	var v Suspects
	for _, e := range b.Evidence() {
		if e.Seen == nil || e.Seen.Observation != suspect.Complaint {
			v.Counted++
		}
	}
	all := b.Suspects()
	sides := map[string]bool{}
	for _, s := range all {
		if s.System != "" {
			sides[s.System] = true
		}
	}
	for _, s := range all {
		one := suspectOf(lib, s, m)
		if len(sides) > 1 {
			one.Side = s.System
		}
		switch s.Likely {
		case suspect.Unlikely:
			v.Unlikely = append(v.Unlikely, one)
		case suspect.NotTested:
			v.Untested = append(v.Untested, one)
		default:
			v.Likely = append(v.Likely, one)
		}
	}
	v.None = noneOf(lib, b, all, m)
	v.Dangers = b.Open()
	v.Open, v.MoreOpen, v.RestOpen = foremost(openByTest(lib, v.Dangers))
	return v
}

func suspectOf(lib *content.Library, s suspect.Suspect, m faulttree.Meter) Suspect {
	v := Suspect{
		Word: s.Likely.String(), Share: ShareText(s.Share), Title: titleOf(lib, s), Where: placeNames(s.Places),
		Signal: s.Hazard, Do: Sentences(s.Do), RepairBy: repairText(s.Repairs), Of: s,
	}
	for _, id := range s.Faults {
		if id != suspect.NoFault {
			v.Faults = append(v.Faults, FaultLink(lib, id))
		}
	}
	v.Drawn = len(v.Faults) > 0 && Drawn(lib, v.Faults[0].ID)
	if w := s.Worst; w != nil && w.Fit < FitsBadly {
		v.Worst = misfitText(lib, *w, m)
	}
	return v
}

// asLikely is the share of its likeliest fault from which another is named in the
// title of a suspect, which names at most so many.
const (
	asLikely   = 0.25
	mostTitled = 2
)

// titleOf names the faults of a suspect: those that are there at once, and those
// between which nothing decides. "The neutral is open, or the neutral has a bad
// contact".
func titleOf(lib *content.Library, s suspect.Suspect) string {
	title := Capital(strings.TrimSuffix(s.Title, "."))
	named := map[string]bool{}
	for i, p := range s.Parts {
		f := lib.Faults[p.At.Fault]
		if first := s.Parts[0].Share; i > 0 && f != nil && !named[f.ID] && len(named) < mostTitled && p.Share >= asLikely*first {
			word := ", or "
			if first+p.Share > s.Share*(1+asLikely) { // more than all there is: they come together
				word = ", and "
			}
			title += word + faulttree.InSentence(f.Title)
		}
		named[p.At.Fault] = true
	}
	return title
}

// repairText says who repairs: for each fault in a sentence of its own where that is
// not the same for all.
func repairText(all []suspect.Repair) string {
	if len(all) == 1 {
		return Capital(Sentence(all[0].By))
	}
	out := lists.Each(all, func(r suspect.Repair) string {
		return Capital(Sentence(strings.TrimSuffix(r.Title, ".") + ": " + r.By))
	})
	return strings.Join(out, " ")
}

// misfitText words a piece of evidence that does not fit: "Panel: L1 to neutral, read
// 59 V, expected 118 V to 121 V."
func misfitText(lib *content.Library, w suspect.Misfit, m faulttree.Meter) string {
	title, value := evidenceText(lib, w.Evidence, m)
	switch {
	case w.Evidence.Seen != nil:
		return fmt.Sprintf("Fits worst: “%s”, answered with “%s”.", strings.TrimSuffix(title, "."), faulttree.InSentence(value))
	case w.Evidence.Tried != nil:
		return fmt.Sprintf("Fits worst: %s after “%s”.", value, faulttree.InSentence(title))
	}
	return fmt.Sprintf("Fits worst: %s, read %s, expected %s.", title, w.Evidence.Reading.Show(w.Evidence.Quantity.Unit), w.Expected.Show(w.Evidence.Quantity, m))
}

// noneOf says that none of the suspects fits, where that is possible.
func noneOf(lib *content.Library, b *suspect.Belief, all []suspect.Suspect, m faulttree.Meter) *None {
	for _, s := range b.Systems() {
		if s.Pieces == 0 || s.NoneFits < noneListed {
			continue
		}
		first := slices.IndexFunc(all, func(o suspect.Suspect) bool { return o.System == s.Name || o.System == "" })
		n := &None{Share: ShareText(s.NoneFits), Title: NoneTitle, Leads: first < 0 || s.NoneFits > all[first].Share}
		n.Text = "These readings together are unlike any vehicle that was worked out. One of them may be wrong, or it is something that this handbook does not have."
		if first >= 0 && all[first].Worst != nil && all[first].Worst.Fit < FitsBadly {
			title, _ := evidenceText(lib, all[first].Worst.Evidence, m)
			n.Text += " First make sure of this one again: " + Sentence(title)
		}
		return n
	}
	return nil
}

// openByTest groups open dangers by the test that would show them, in their order.
func openByTest(lib *content.Library, open []suspect.Open) []NotExcluded {
	places := map[string]int{}
	for _, o := range open {
		places[o.Fault]++
	}
	var out []NotExcluded
	for _, o := range open {
		test := cmp.Or(strings.TrimSuffix(Capital(Sentence(o.Test)), "."), "No test of this handbook")
		link := FaultLink(lib, o.Fault)
		link.Title = strings.TrimSuffix(link.Title, ".")
		if places[o.Fault] > 1 {
			link.Title += " (" + placeNames([]faulttree.Place{o.Place}) + ")"
		}
		k := slices.IndexFunc(out, func(n NotExcluded) bool { return n.Test == test })
		if k < 0 {
			k = len(out)
			out = append(out, NotExcluded{Test: test})
		}
		out[k].Faults = lists.With(out[k].Faults, link) // it may be open on more than one side
	}
	return out
}

// mostNamed is how many dangers a line of [Suspects.Open] names.
const mostNamed = 2

// Brief is the titles of the likeliest dangers, and how many more there are.
func (n NotExcluded) Brief() string {
	some := n
	more := len(n.Faults) - mostNamed
	if more < 2 { // one more takes no more room than to say so
		return n.Titles()
	}
	some.Faults = n.Faults[:mostNamed]
	return fmt.Sprintf("%s; and %d more", some.Titles(), more)
}

// Ways lists the walks that can end at a finding that names one of the likely
// suspects, at most three: that of the account first, then those for more of the
// likeliest ones.
func Ways(lib *content.Library, a Account, v Suspects) []Link {
	worth := map[string]float64{}
	for id, t := range lib.Forest.Trees {
		for _, s := range t.Steps {
			for _, likely := range v.Likely {
				named := func(fault string) bool { return slices.Contains(likely.Of.Faults, fault) }
				if s.Kind == faulttree.KindFinding && slices.ContainsFunc(s.Finding.Faults, named) {
					worth[id] = max(worth[id], likely.Of.Share)
				}
			}
		}
		if worth[id] > 0 && (contradicts(t.Facts, a.Facts) || len(lib.TreeErrors(id)) > 0) {
			delete(worth, id)
		}
	}
	came := ""
	if t := lib.Forest.Tree(a.Tree); t != nil {
		came = t.Own()
	}
	ids := slices.SortedFunc(maps.Keys(worth), func(x, y string) int {
		return cmp.Or(cmp.Compare(asInt(y == came), asInt(x == came)), cmp.Compare(worth[y], worth[x]), cmp.Compare(x, y))
	})
	return lists.Each(ids[:min(len(ids), 3)], func(id string) Link { return Link{KindTree, id, TreeTitle(lib, id)} })
}

// contradicts reports whether two sets of facts say otherwise of one of them.
func contradicts(a, b map[string]string) bool {
	for id, choice := range a {
		if choice != "" && b[id] != "" && b[id] != choice {
			return true
		}
	}
	return false
}

func asInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// ShareText words a share: "94 %", "below 1 %", "above 99 %". No share is certain.
func ShareText(share float64) string {
	switch {
	case share < 0.01:
		return "below 1 %"
	case share > 0.99:
		return "above 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// Taken lists what is said of the facts before what fits.
func (v Suspects) Taken() []string {
	return slices.DeleteFunc([]string{v.TakenAs, v.NotWeighed}, func(said string) bool { return said == "" })
}

// Text is the suspects as plain text.
func (v Suspects) Text() string {
	var p copied
	for _, said := range v.Taken() {
		p.line("%s", said)
		p.blank()
	}
	if v.None != nil && v.None.Leads {
		p.line("%s, %s", v.None.Title, v.None.Share)
		p.line("%s", v.None.Text)
		p.blank()
	}
	for _, s := range v.Likely {
		p.line("%s", s.Text())
		p.line("  %s", strings.Join(s.Do, " "))
		if s.RepairBy != "" {
			p.line("  %s: %s", RepairHeading, s.RepairBy)
		}
		p.line("  %s", s.Worst)
	}
	if v.None != nil && !v.None.Leads {
		p.line("%s, %s", v.None.Title, v.None.Share)
	}
	p.blank()
	p.line("%s", OpenHeading)
	for _, n := range v.Open {
		p.line("- %s", n.Text())
	}
	if v.MoreOpen != "" {
		p.line("- %s: %s", v.MoreOpen, v.RestOpen)
	}
	p.blank()
	p.line("%s %s", SharesRestOn, ClearsNone)
	return p.String()
}

// OpenHeading stands above the dangers that are not ruled out.
const OpenHeading = "Dangers still open, by what would show them"
