package scenes

import (
	"context"
	"slices"
	"strconv"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
)

// AttemptAccount is what the readings of an attempt tell of its vehicle, each as
// the quantity of the handbook that it is by its points and by how the vehicle
// stood. A reading that is none, was held, hurt, or was taken while something else
// was tried, is left out.
func AttemptAccount(lib *content.Library, c practice.Case, a practice.Attempt, tree string) (view.Account, error) {
	out := view.Account{Tree: tree, Facts: c.Rig.Facts}
	v, err := c.Begin(a.Meter)
	if err != nil {
		return out, err
	}
	for i, act := range a.Acts {
		if i > 0 && i == a.Repaired && a.Conclusion != nil {
			if err := v.Repair(*a.Conclusion); err != nil {
				return out, err
			}
			out.Repairs++
		}
		stood := v.State()
		counts := act.Kind == practice.Read && !act.Setting.Hold && act.Setting.Jack == meter.VoltJack && !act.Hazard && act.Shown != "" &&
			!slices.ContainsFunc(c.Tries, func(i faulttree.Intervention) bool { return v.Tried(i.ID) })
		if q, known := quantityOf(lib, c, act, stood); known && counts {
			out.Evidence = append(out.Evidence, suspect.Evidence{Quantity: q, Reading: act.Reading(), Round: out.Repairs})
		}
		if act.Reads() {
			v.Set(act.Setting)
		}
		if _, err := v.Do(act); err != nil {
			return out, err
		}
	}
	return out, nil
}

// quantityOf is the quantity of a handbook that an act reads, with the loads on or
// off as they were if there is one for that.
func quantityOf(lib *content.Library, c practice.Case, a practice.Act, st bench.State) (found faulttree.Quantity, ok bool) {
	f := a.Setting.Function
	if f == meter.Continuity {
		return found, false
	}
	fact := func(id string) string { return c.Rig.Facts[id] }
	out, covered := false, false // of what supplies it; the reading is where a plug was
	for _, s := range c.Rig.Switches {
		supplies := len(s.Covers) > 0 || s.Name == "generator" || s.Name == "inverter"
		out = out || supplies && st.Off[s.Name]
		covered = covered || slices.Contains(s.Covers, rig.Group(a.Red)) || slices.Contains(s.Covers, rig.Group(a.Black))
	}
	loaded := false
	for _, on := range st.Loads {
		loaded = loaded || on
	}
	for _, id := range lib.Forest.Quantities.IDs() {
		q := lib.Forest.Quantities[id]
		same := a.Red == q.Red && a.Black == q.Black || !q.Unit.Signed() && a.Red == q.Black && a.Black == q.Red
		switch {
		case !same || q.OfMeter() || q.Unit != f.Unit() || q.Has(faulttree.LowZ) != (f == meter.LowZ) || q.Needs.Unmet(fact):
			continue
		case q.Has(faulttree.Rest) || q.Has(faulttree.MainOff) != st.Off["main"]:
			continue
		case q.Has(faulttree.Unplugged) != out && !(covered && out):
			continue
		}
		if !ok || q.Has(faulttree.Loaded) == loaded {
			found, ok = q, true
		}
	}
	return found, ok
}

// Step is what is proposed to read next, with its reason, and what can be said of
// it before it is read.
type Step struct {
	Text    string         // a sentence or two
	Reads   bool           // there is something to read
	Expects []Expectation  // what it may show, from the least to the most
	Tells   []string       // what that may point to
	Unit    faulttree.Unit // of what is read
}

// Expectation is a span of what a meter may show.
type Expectation struct {
	Text string
	To   float64 // up to this, in the unit; the last one has no end
}

// NextStep proposes what to read next in an attempt: what the readings so far leave
// most to be told by, never what is wrong. Role is the learner's.
func (r *Reasoning) NextStep(ctx context.Context, c practice.Case, a practice.Attempt, tree string) (Step, error) {
	account, err := AttemptAccount(r.lib, c, a, tree)
	if err != nil {
		return Step{}, err
	}
	b, err := r.Belief(ctx, account)
	if err != nil {
		return Step{}, err
	}
	if !slices.ContainsFunc(a.Acts, func(x practice.Act) bool { return x.Kind == practice.Prove }) {
		f, at := meter.VoltsAC, "a source known to be live"
		if c.Direct() {
			f, at = meter.VoltsDC, "a battery known to be charged"
		}
		return Step{Text: "Prove the meter on " + at + ". Before that no reading of it counts.", Reads: true, Unit: f.Unit(), Expects: Expectations(f.Unit()),
			Tells: []string{"The meter can be trusted", "The meter or its leads are not to be trusted"}}, nil
	}
	next, err := r.Next(ctx, account, b, a.Role, suspect.Clamp|suspect.ClampDC|suspect.LowImpedance)
	if err != nil {
		return Step{}, err
	}
	i := slices.IndexFunc(next, func(n view.Next) bool {
		return n.Reads != nil && !n.Of.Quantity.OfMeter() && c.Rig.HasNode(n.Of.Quantity.Red) && (n.Of.Quantity.Black == "" || c.Rig.HasNode(n.Of.Quantity.Black))
	})
	if i < 0 {
		return Step{Text: "Nothing more that may be read here would tell much. Say what you conclude, and what is still open."}, nil
	}
	n := next[i]
	s := Step{Text: view.Sentence(n.Title) + " " + n.Why, Reads: true, Unit: n.Of.Quantity.Unit, Expects: Expectations(n.Of.Quantity.Unit)}
	told := view.SuspectsOf(r.lib, b, r.meter)
	for _, x := range slices.Concat(told.Likely, told.Untested)[:min(4, len(told.Likely)+len(told.Untested))] {
		s.Tells = append(s.Tells, "It points to: "+x.Headline())
	}
	s.Tells = append(s.Tells, "It rules out what would be dangerous there", "It tells nothing by itself")
	return s, nil
}

// Expectations are the spans in which a reading of a unit may be foreseen. Common
// practice, no source.
func Expectations(u faulttree.Unit) []Expectation {
	ends, unit := []float64{5, 30, 105, 127, 140, 200}, " V"
	switch u {
	case faulttree.VoltsDC:
		ends = []float64{1, 11.8, 12.4, 13, 14.8}
	case faulttree.Ohms:
		ends, unit = []float64{0.3, 10, 1000}, " Ω"
	case faulttree.AmpsAC, faulttree.AmpsDC:
		ends, unit = []float64{0.1, 2, 15}, " A"
	}
	word := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) + unit }
	out := []Expectation{{"at most " + word(ends[0]), ends[0]}}
	for i, to := range ends[1:] {
		out = append(out, Expectation{"from " + word(ends[i]) + " to " + word(to), to})
	}
	return append(out, Expectation{Text: "more than " + word(ends[len(ends)-1]) + ", or OL"})
}

// Foreseen says what became of an expectation.
func Foreseen(all []Expectation, i int, a practice.Act) string {
	if i < 0 || i >= len(all) {
		return ""
	}
	if a.Shown == "" {
		return "You expected " + all[i].Text + ". It showed nothing."
	}
	at := len(all) - 1
	if r := a.Reading(); r.Numeric() {
		size := max(r.High.Float(), -r.Low.Float())
		if k := slices.IndexFunc(all[:at], func(e Expectation) bool { return size <= e.To }); k >= 0 {
			at = k
		}
	}
	if at == i {
		return "You expected " + all[i].Text + ", and it read " + a.Shown + "."
	}
	return "You expected " + all[i].Text + ". It read " + a.Shown + ": what does that change?"
}
