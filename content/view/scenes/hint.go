package scenes

import (
	"context"
	"slices"
	"strconv"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/suspect"
)

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
// most to be told by, never what is wrong. While a reading stands that may have reached
// a danger limit, an owner is asked for nothing live.
func NextStep(ctx context.Context, lib *content.Library, c practice.Case, a practice.Attempt, by mark.Book) (Step, error) {
	if !slices.ContainsFunc(a.Acts, func(x practice.Act) bool { return x.Kind == practice.Prove }) {
		f, at := meter.VoltsAC, "a source known to be live"
		if c.Direct() {
			f, at = meter.VoltsDC, "a battery known to be charged"
		}
		return Step{Text: "Prove the meter on " + at + ". Before that no reading of it counts.", Reads: true, Unit: f.Unit(), Expects: Expectations(f.Unit()),
			Tells: []string{"The meter can be trusted", "The meter or its leads are not to be trusted"}}, nil
	}
	known, err := mark.Know(ctx, c, a, len(a.Acts), by)
	if err != nil {
		return Step{}, err
	}
	of, err := known.Next(suspect.Clamp | suspect.ClampDC | suspect.LowImpedance)
	if err != nil {
		return Step{}, err
	}
	next := view.NextOf(lib, view.Account{Tree: by.Tree, Facts: c.Rig.Facts}, of)
	stopped := a.Role == faulttree.Owner && known.Hurts()
	i := slices.IndexFunc(next, func(n view.Next) bool { return n.Reads != nil && !(stopped && n.Live) })
	if i < 0 {
		return Step{Text: "Nothing more that may be read here would tell much. Say what you conclude, and what is still open."}, nil
	}
	n := next[i]
	s := Step{Text: view.Sentence(n.Title) + " " + n.Why, Reads: true, Unit: n.Of.Quantity.Unit, Expects: Expectations(n.Of.Quantity.Unit)}
	told := view.SuspectsOf(lib, known.Belief, a.Meter)
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
