package scenes

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scene"
	"faultwright/faulttree/scripted"
)

// Step is what is proposed to read next, with its reason, and what can be said of
// it before it is read.
type Step struct {
	What    string         // what to read, or that there is nothing more, as a sentence
	How     string         // sentences, how that is come to and why; "" for none
	Reads   bool           // there is something to read
	Expects []Expectation  // what it may show, from the least to the most
	Tells   []string       // what that may point to
	Unit    faulttree.Unit // of what is read
	Plan    []practice.Act // how somebody with care comes to it, the reading last
}

// Text is all of it in one.
func (s Step) Text() string { return strings.TrimSpace(s.What + " " + s.How) }

// Expectation is a span of what a meter may show.
type Expectation struct {
	Text string
	To   float64 // up to this, in the unit; the last one has no end
}

// NextStep proposes what to read next in an attempt: what the readings so far leave
// most to be told by, never what is wrong. While a reading stands that may have reached
// a danger limit, an owner is asked for nothing live.
func NextStep(ctx context.Context, lib *content.Library, c practice.Case, a practice.Attempt, by mark.Book) (Step, error) {
	if !slices.ContainsFunc(a.Acts, mark.Proves) {
		return toProve(c, a), nil
	}
	known, err := mark.Know(ctx, c, a, len(a.Acts), by)
	if err != nil {
		return Step{}, err
	}
	felt := cmp.Or(by.Rubric.Felt, lib.Forest.Touch.From)
	notSeen := ""
	if a.Level == practice.Worked && !slices.ContainsFunc(a.Acts, func(x practice.Act) bool { return x.Kind == practice.Read }) {
		see, acts, why, err := scripted.ToComplaint(c, a, known, felt, lib.Forest.Tree(by.Tree))
		if err != nil {
			return Step{}, err
		}
		if len(acts) > 0 {
			return stepTo(lib, c, a, known, see.Title, "See for yourself first what the customer complains of.", acts), nil
		}
		notSeen = why
	}
	of, err := known.Next()
	if err != nil {
		return Step{}, err
	}
	for _, n := range view.NextOf(lib, view.Account{Tree: by.Tree, Facts: c.Rig.Facts}, of) {
		if n.Reads == nil {
			continue
		}
		t, _ := known.Taking(n.Of.Quantity.ID)
		acts, err := scripted.Plan(c, a, felt, t)
		if err != nil {
			return Step{}, err
		}
		if len(acts) > 0 {
			what, why := reasonFor(a, n, acts[len(acts)-1])
			return stepTo(lib, c, a, known, what, strings.TrimSpace(why+" "+notSeen), acts), nil
		}
	}
	return Step{What: "Nothing more that may be read here would tell much.", How: "Say what you conclude, and what is still open."}, nil
}

// toProve is the step to a proof of the meter. Where it showed nothing, what is wrong is
// looked for at the meter.
func toProve(c practice.Case, a practice.Attempt) Step {
	f, at := meter.VoltsAC, "a source known to be live"
	if c.Direct() {
		f, at = meter.VoltsDC, "a battery known to be charged"
	}
	s := Step{What: "Prove the meter on " + at + ".", How: "Before that no reading of it counts.", Reads: true, Unit: f.Unit(), Expects: Expectations(f.Unit()),
		Tells: []string{"The meter can be trusted", "The meter or its leads are not to be trusted"}}
	for _, x := range slices.Backward(a.Acts) {
		if x.Kind == practice.Prove {
			s.What = "What the meter showed on " + at + ", " + ShownText(x) + ", does not prove it."
			s.How = "No reading of it counts yet. Look at its dial, range, hold and leads, change one thing, and prove it again. If it never shows what is there, conclude that."
			break
		}
	}
	return s
}

// reasonFor is what is read at the end of some acts, and why. What it would show is said in
// a hint, and not where it is to be foreseen.
func reasonFor(a practice.Attempt, n view.Next, read practice.Act) (what, why string) {
	what, why = n.Title, n.Why
	if a.Level == practice.Worked {
		why = view.Sentence(view.Capital(n.Of.Purpose()))
	}
	if scripted.OfBody(faulttree.Quantity{Red: read.Red, Black: read.Black}) && !scripted.OfBody(*n.Of.Quantity) {
		why = "Comes before “" + what + "”: the way there leads through the door, and nobody touches a body that is unread as things stand."
		what = "Body to the earth spike"
	}
	return what, why
}

// stepTo is a step to a reading that is worth taking, by the acts that lead there with
// care.
func stepTo(lib *content.Library, c practice.Case, a practice.Attempt, known mark.Known, what, why string, acts []practice.Act) Step {
	unit := acts[len(acts)-1].Setting.Function.Unit()
	s := Step{Plan: acts, What: view.Sentence(what), How: howTo(c, acts) + " " + why, Reads: true, Unit: unit, Expects: Expectations(unit)}
	told := view.SuspectsOf(lib, known.Belief, a.Meter)
	for _, x := range slices.Concat(told.Likely, told.Untested)[:min(4, len(told.Likely)+len(told.Untested))] {
		s.Tells = append(s.Tells, "It points to: "+x.Headline())
	}
	s.Tells = append(s.Tells, "It shows whether something is dangerous there", "It tells nothing by itself")
	return s
}

// howTo words acts that lead to a reading, as something to do.
func howTo(c practice.Case, acts []practice.Act) string {
	out := ""
	read := acts[len(acts)-1]
	for i, a := range acts[:len(acts)-1] {
		out += []string{"First ", ", "}[min(i, 1)] + c.Words(a)
	}
	if out != "" {
		out += ". "
	}
	at := "red on " + faulttree.InSentence(PointName(read.Red)) + ", black on " + faulttree.InSentence(PointName(read.Black))
	if read.Black == "" {
		at = "the clamp around " + faulttree.InSentence(PointName(read.Red))
	}
	return out + "Dial on " + scene.FunctionTitle(read.Setting.Function) + ", " + at + "."
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
