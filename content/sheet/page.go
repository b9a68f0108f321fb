package sheet

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/faulttree"
)

// page is the sheet before it is written in one of its two forms.
type page struct {
	title    string
	facts    [][2]string
	note     string
	verdict  verdict
	rows     []row
	aside    []Aside
	unasked  []row
	before   []earlier
	pictures []figure.Drawing
	limits   []limit
	after    []retest
}

// verdict is what the walk ended in, or that it has not ended.
type verdict struct {
	signal      faulttree.Signal
	title       string
	stop        string
	facts       [][2]string // how sure, what to do now, what not to do, who may repair
	faults      []string
	clears      string
	notExcluded []excluded
	cautions    []caution
	why         []document.Block
}

type excluded struct{ fault, test string }

type caution struct {
	signal faulttree.Signal
	title  string
}

// row is one line of the table of readings.
type row struct {
	number  string
	what    string
	shown   string
	within  string // "± 0.9 V"
	met     string // the branch it met, by its limits
	leads   string
	signal  faulttree.Signal
	remarks []string
}

// limit is a named limit that a branch of the walk used.
type limit struct{ words, source string }

// retest is one line of the table for the test after repair.
type retest struct{ what, before, wanted string }

// earlier is the short account of a walk before the repair.
type earlier struct {
	title   string
	verdict string
	rows    []row
	aside   []Aside
}

// compose gathers the sheet.
func compose(in Input, lib *content.Library) page {
	w := in.Walk
	p := page{title: "Sheet of a visit", note: strings.TrimSpace(in.Note), aside: in.Aside}
	if t := tree(w); t != nil {
		p.title = t.Title
	}
	p.facts = facts(in)
	p.verdict = judge(w, lib)
	if len(in.Aside) > 0 {
		p.verdict.facts = append(p.verdict.facts, [2]string{"Answers set aside", "Some answers of this visit do not count in this result. They are listed below; none was thrown away."})
	}
	p.rows = rows(w)
	for _, m := range in.Unasked {
		p.unasked = append(p.unasked, unaskedRow(w, m))
	}
	p.pictures = pictures(w)
	p.limits = limits(w, lib)
	p.after = retests(w)
	for _, b := range in.Before {
		e := earlier{title: "Before the repair", rows: rows(b.Walk), aside: b.Aside}
		if !b.Began.IsZero() {
			e.title += ", " + when(b.Began)
		}
		v := judge(b.Walk, lib)
		e.verdict = v.title
		if word := v.signal.Word(); word != "" {
			e.verdict = word + ": " + v.title
		}
		p.before = append(p.before, e)
	}
	return p
}

func tree(w faulttree.Walk) *faulttree.Tree {
	if w.Forest() == nil {
		return nil
	}
	return w.Forest().Trees[w.Start().Tree]
}

func facts(in Input) [][2]string {
	out := [][2]string{{"Site", in.Site}, {"Vehicle", in.Vehicle}, {"Date", when(in.Started)}}
	if in.Again {
		out = append(out, [2]string{"Test after repair", when(in.Began)})
	}
	if in.Walk.Forest() == nil {
		return append(out, [2]string{"Visit", in.ID}, [2]string{"Printed", when(in.Printed)})
	}
	role := "an owner, without access to enclosures"
	if in.Walk.Role() == faulttree.Qualified {
		role = "a qualified person"
	}
	m := in.Walk.Meter()
	name := m.Name
	if name == "" {
		name = "not named"
	}
	out = append(out, [2]string{"Read by", role}, [2]string{"Meter", name + "; " + accuracy(in.Walk)})
	if in.ID != "" {
		out = append(out, [2]string{"Visit", in.ID})
	}
	return append(out, [2]string{"Printed", when(in.Printed)})
}

// accuracy words the meter's accuracy for the functions that were used.
func accuracy(w faulttree.Walk) string {
	m := w.Meter()
	var used []faulttree.Unit
	for _, e := range w.Trail() {
		if s := w.Forest().Step(e.Step); s != nil {
			for _, v := range s.Measure {
				if !slices.Contains(used, v.Quantity.Unit) {
					used = append(used, v.Quantity.Unit)
				}
			}
		}
	}
	if len(used) == 0 {
		used = []faulttree.Unit{faulttree.VoltsAC}
	}
	slices.Sort(used)
	var words []string
	for _, u := range used {
		a := m.Accuracy(u)
		counts := "counts"
		if a.Counts == 1 {
			counts = "count"
		}
		words = append(words, fmt.Sprintf("%s ±(%s %% + %d %s)", u.Function(), a.Percent, a.Counts, counts))
	}
	return strings.Join(words, ", ") + fmt.Sprintf(", display of %d counts", m.FullScale)
}

// judge words what a walk ended in.
func judge(w faulttree.Walk, lib *content.Library) verdict {
	var v verdict
	if ref, stopped := w.Stop(); stopped {
		v.stop = "A reading called STOP at “" + title(w, ref) + "”. From there on nothing live on the vehicle was touched."
	}
	r, ended := w.Finding()
	if !ended {
		v.signal, v.title = faulttree.Warning, "This visit is not finished: no finding yet"
		if v.stop != "" {
			v.signal = faulttree.Danger
		}
		next := "The handbook in use can not walk this visit; the answers are listed below."
		if s := w.Step(); s != nil {
			next = "Next to be answered: " + s.Title + "."
			v.cautions = cautions(s.Cautions, lib)
		}
		v.facts = [][2]string{{"Where it stands", next}, {"Until then", "Treat supply and vehicle as faulty."}}
		return v
	}
	f := r.Finding
	v.signal, v.title = f.Signal, r.Title
	repair := f.RepairBy
	if repair == "" && r.For == faulttree.Qualified {
		repair = "a licensed electrician or otherwise qualified person"
	}
	for _, fact := range [][2]string{{"What to do now", f.FirstAction}, {"What not to do", f.DoNot}, {"Who may repair it", repair}, {"How sure", f.Sure}} {
		if fact[1] != "" {
			v.facts = append(v.facts, fact)
		}
	}
	for _, id := range f.Faults {
		v.faults = append(v.faults, faultTitle(id, lib))
	}
	if len(f.Clears) > 0 {
		var places []string
		for _, place := range f.Clears {
			places = append(places, string(place))
		}
		v.clears = "These readings show no fault in: " + strings.Join(places, ", ") + ", then and there. What they can not show is listed for the electrician."
	}
	for _, n := range f.CannotExclude {
		v.notExcluded = append(v.notExcluded, excluded{faultTitle(n.Fault, lib), n.Test})
	}
	if s := w.Forest().Step(r.Ref); s != nil {
		v.cautions = cautions(s.Cautions, lib)
	}
	v.why = lib.Prose[r.Ref]
	return v
}

func title(w faulttree.Walk, r faulttree.Ref) string {
	if w.Forest() != nil {
		if s := w.Forest().Step(r); s != nil {
			return s.Title
		}
	}
	return r.String()
}

func faultTitle(id string, lib *content.Library) string {
	if f := lib.Faults[id]; f != nil {
		return f.Title
	}
	return id
}

func cautions(ids []string, lib *content.Library) []caution {
	var out []caution
	for _, id := range ids {
		if c := lib.Cautions[id]; c != nil {
			out = append(out, caution{c.Signal, c.Title})
		}
	}
	slices.SortStableFunc(out, func(a, b caution) int { return int(b.signal) - int(a.signal) })
	return out
}
