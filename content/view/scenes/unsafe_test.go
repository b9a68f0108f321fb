package scenes_test

import (
	"context"
	"errors"
	"math/cmplx"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/rubric"
	"faultwright/faulttree/scripted"
)

// marking is the shipped handbook, and the drawn vehicles that attempts are marked
// by.
var marking = sync.OnceValue(func() (out struct {
	lib     *content.Library
	beliefs *mark.Beliefs
}) {
	out.lib = load.Shipped()
	out.beliefs = scenes.NewBeliefs(out.lib, faulttree.DefaultMeter())
	return out
})

// coachWith is a coach of 50 A of ordinary numbers, its loads off, with some faults.
func coachWith(faults ...rig.Applied) practice.Case {
	c := practice.NewCase("coach", marking().lib.Rigs["coach-50a"])
	c.May = []string{"pedestal", "plug", "inlet", "main"}
	c.Faults = faults
	return c
}

// none is the best order of an attempt of which the economy is not judged.
var none = order(mark.Order{Cost: 1})

// order is a best order that is known.
func order(o mark.Order) func(context.Context) (mark.Order, error) {
	return func(context.Context) (mark.Order, error) { return o, nil }
}

// book is what goes at a coach are marked by.
func book(shock bool) mark.Book {
	m := marking()
	b := scenes.MarkBook(m.lib, &content.Scenario{Shock: shock}, m.beliefs)
	b.Best = none
	return b
}

// pointID is a test point as authors call it, which is no word for a learner: panel.l1.
var pointID = regexp.MustCompile(`[a-z]+\.[a-z][a-z0-9]*`)

// rulesOf is the rules of the unsafe acts of a go, in the order of the acts.
func rulesOf(t *testing.T, c practice.Case, s scripted.UnsafeScript, b mark.Book) ([]rubric.Rule, mark.Marks) {
	t.Helper()
	p := must.Have(scripted.Begin(c, s.Role, faulttree.DefaultMeter()))(t)
	must.Do(t, s.Play(p))
	a, differs, err := c.Verify(p.Attempt)
	if differs != nil || err != nil {
		t.Fatal(differs, err)
	}
	m := must.Have(mark.Of(context.Background(), c, a, b))(t)
	var out []rubric.Rule
	for _, x := range m.Caps {
		out = append(out, x.Rule)
		want := b.Rubric.Cap(x.Rule)
		if x.Act < 0 || x.Act > len(a.Acts) || x.Text == "" || x.Card != want.Card || x.Most != want.Most || m.Total > want.Most {
			t.Errorf("%+v, total %d", x, m.Total)
		}
		if id := pointID.FindString(x.Text); id != "" {
			t.Errorf("a learner is told of %q: %s", id, x.Text)
		}
	}
	return out, m
}

// Every unsafe act is told at every time it is done, and no other one. The rules are
// those of the handbook's cautions; common practice.
func TestEveryUnsafeActIsTold(t *testing.T) {
	scripts := scripted.SoundScripts()
	for _, s := range scripts {
		t.Run(s.Name, func(t *testing.T) {
			if got, m := rulesOf(t, coachWith(), s, book(false)); !slices.Equal(got, s.Rules) {
				t.Errorf("got %v, want %v: %+v", got, s.Rules, m.Caps)
			}
		})
	}
	open := marking().lib.Faults["open-ground"].Edits
	live := rig.Applied{Fault: open, Variant: slices.IndexFunc(open.Variants, func(v rig.Variant) bool { return v.Text == "at the receptacle, large filters on L1" })}
	for _, s := range scripted.LiveScripts() {
		t.Run(s.Name, func(t *testing.T) {
			if got, m := rulesOf(t, coachWith(live), s, book(false)); !slices.Equal(got, s.Rules) {
				t.Errorf("got %v, want %v: %+v", got, s.Rules, m.Caps)
			}
		})
	}
	if n := len(scripts) + len(scripted.LiveScripts()); n < 20 {
		t.Errorf("only %d goes", n)
	}
}

// Whoever energises a vehicle from a supply that his own readings call dangerous is told
// so each time, by the reading that decided; and nobody whose readings do not.
func TestEnergisedFromASupplyThatReadDangerous(t *testing.T) {
	m := marking()
	for _, s := range scripted.SupplyScripts() {
		t.Run(s.Fault+" "+s.Name, func(t *testing.T) {
			c := coachWith()
			c.Catalogue = scenes.Book(m.lib, faulttree.DefaultMeter()).Faults
			c.MayTry(m.lib.Forest.Interventions)
			if f := m.lib.Faults[s.Fault]; f != nil {
				at := slices.IndexFunc(f.Edits.Variants, func(v rig.Variant) bool { return v.FitsIn(c.Rig) && v.Place == faulttree.Supply })
				c.Faults = []rig.Applied{f.Edits.Ordinary(max(at, 0))}
			}
			got, marks := rulesOf(t, c, s.UnsafeScript, book(false))
			if got = slices.DeleteFunc(got, func(r rubric.Rule) bool { return r == rubric.LiveFirst }); !slices.Equal(got, s.Rules) {
				t.Errorf("got %v, want %v: %+v", got, s.Rules, marks.Caps)
			}
			for _, x := range marks.Caps {
				if x.Rule == rubric.BadSupply {
					t.Log(x.Text)
					if len(x.From) != 1 || x.From[0] >= x.Act {
						t.Errorf("it follows from %v", x.From)
					}
				}
			}
		})
	}
}

// A shock in the story counts from the voltage on at which it is believed: a lost
// ground in the feeder leaves 15 V on this body, which alone nobody dies of.
func TestABodyThatShockedSomebodyIsLeftAlone(t *testing.T) {
	open := marking().lib.Faults["open-ground"].Edits
	c := coachWith(open.Ordinary(slices.IndexFunc(open.Variants, func(v rig.Variant) bool { return v.Text == "in the feeder" })))
	in := scripted.LiveScripts()[0]
	for shock, want := range map[bool][]rubric.Rule{true: {rubric.BodyAfter}, false: nil} {
		if got, m := rulesOf(t, c, in, book(shock)); !slices.Equal(got, want) {
			t.Errorf("shocked %v: got %v, want %v: %+v", shock, got, want, m.Caps)
		}
	}
}

// 29.86 V on the body of a coach that shocked a child lie within the meter's error
// of the danger limit of 30 V (1.2 % and 5 counts), and count as over it.
func TestTouchedAtJustUnderTheLimit(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["barefoot-on-the-steel-step"]
	b := scenes.MarkBook(m.lib, s, m.beliefs)
	b.Best = none
	got, marks := rulesOf(t, scenes.CaseOf(m.lib, s), scripted.LiveScripts()[0], b)
	if want := []rubric.Rule{rubric.StopDisobeyed, rubric.BodyLive}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v: %+v", got, want, marks.Caps)
	}
	if !b.Shock || !strings.Contains(marks.Caps[1].Text, "29.8") {
		t.Errorf("%+v", marks.Caps)
	}
}

// A slip that is taken back at once is no unsafe act; the next time it counts.
func TestASlipIsNotMarked(t *testing.T) {
	slip := scripted.UnsafeScript{Role: faulttree.Qualified, Play: func(p *scripted.Player) error {
		for _, a := range []practice.Act{{Kind: practice.GoIn}, {Kind: practice.TakeBack}, {Kind: practice.GoIn}} {
			if _, err := p.Do(a); err != nil {
				return err
			}
		}
		return nil
	}}
	got, m := rulesOf(t, coachWith(), slip, book(false))
	if !slices.Equal(got, []rubric.Rule{rubric.BodyUnknown}) || m.Caps[0].Act != 2 {
		t.Errorf("%+v", m.Caps)
	}
}

// A neutral puts no wrong voltage on 12 V: a load there is switched on to see what the
// battery does.
func TestLoadsOf12VoltsAreNoUnsafeAct(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["lamps-like-candles"]
	c, b := scenes.CaseOf(m.lib, s), scenes.MarkBook(m.lib, s, m.beliefs)
	b.Best = none
	a := must.Have(scripted.Play(context.Background(), scripted.Random, c, faulttree.Qualified, faulttree.DefaultMeter(), b, 0))(t)
	if !slices.ContainsFunc(a.Acts, func(x practice.Act) bool { return x.Kind == practice.Load && x.On }) {
		t.Fatal("no load is switched on")
	}
	marks := must.Have(mark.Of(context.Background(), c, a, b))(t)
	for _, cap := range marks.Caps {
		t.Errorf("%s: %s", cap.Rule, cap.Text)
	}
}

// A meter whose fuse has blown is no short: what is told of the second time is that it
// read nothing of what is live.
func TestABlownFuseIsNoShort(t *testing.T) {
	all := scripted.SoundScripts()
	s := all[slices.IndexFunc(all, func(s scripted.UnsafeScript) bool { return s.Name == "the ampere jack again, its fuse blown" })]
	_, m := rulesOf(t, coachWith(), s, book(false))
	if len(m.Caps) != 2 || !strings.Contains(m.Caps[0].Text, "a short through the meter") || strings.Contains(m.Caps[1].Text, "short") || !strings.Contains(m.Caps[1].Text, "is live") {
		t.Errorf("it tells %+v", m.Caps)
	}
}

// Nobody can test a pedestal dead first: where the walk of the complaint reads it before
// any dead test, doing so is no unsafe act. Where the walk tests cord and vehicle
// first it is one.
func TestAPedestalIsReadFirstWhereItsWalkDoes(t *testing.T) {
	m := marking()
	post := scripted.UnsafeScript{Role: faulttree.Qualified, Play: func(p *scripted.Player) error {
		if _, err := p.Prove(); err != nil {
			return err
		}
		if err := errors.Join(p.Unplug(), p.Throw("pedestal", true)); err != nil {
			return err
		}
		p.Set(meter.VoltsAC)
		for _, at := range [][2]string{{"pedestal.cover", "earth"}, {"pedestal.g", "earth"}, {"pedestal.l1", "pedestal.n"}, {"pedestal.n", "pedestal.g"}, {"pedestal.l2", "pedestal.g"}} {
			if _, err := p.Read(at[0], at[1]); err != nil {
				return err
			}
		}
		return nil
	}}
	for id, early := range map[string]bool{"slow-oven-at-the-far-row": false, "the-post-gets-the-blame": false, "barefoot-on-the-steel-step": true} {
		s := m.lib.Scenarios[id]
		b := scenes.MarkBook(m.lib, s, m.beliefs)
		b.Best = none
		got, marks := rulesOf(t, scenes.CaseOf(m.lib, s), post, b)
		if slices.Contains(got, rubric.LiveFirst) != early {
			t.Errorf("%s, whose complaint is that of %s: %+v", id, s.Tree, marks.Caps)
		}
	}
}

// Plug and breaker are outside: whoever reads 177 V at the panel and goes out to them, down
// a step that he has read just before, does as STOP says. Down one that hurts he does not,
// nor does he who goes in again.
func TestTheWayOutToThePlugObeysStop(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["bright-over-the-sink"]
	b := scenes.MarkBook(m.lib, s, m.beliefs)
	b.Best = none
	body, panel := practice.Act{Kind: practice.Read, Red: "body", Black: "earth"}, practice.Act{Kind: practice.Read, Red: "panel.l2", Black: "panel.n"}
	out := []practice.Act{{Kind: practice.GoOut}, {Kind: practice.Throw, Name: "pedestal"}, {Kind: practice.Throw, Name: "plug"}}
	for name, want := range map[string]int{"out": 0, "in again": 1, "unread": 1} {
		play := scripted.UnsafeScript{Role: faulttree.Qualified, Play: func(p *scripted.Player) error {
			acts := slices.Concat([]practice.Act{{Kind: practice.Prove}, body, {Kind: practice.GoIn}, panel}, out)
			switch name {
			case "in again":
				acts = slices.Concat(acts[:5], []practice.Act{{Kind: practice.GoIn}})
			case "unread":
				acts = slices.Delete(acts, 1, 2)
			}
			for _, a := range acts {
				if _, err := p.Do(a); err != nil {
					return err
				}
			}
			return nil
		}}
		got, marks := rulesOf(t, scenes.CaseOf(m.lib, s), play, b)
		if n := len(lists.Where(got, func(r rubric.Rule) bool { return r == rubric.StopDisobeyed })); n != want {
			t.Errorf("%s: STOP is disobeyed %d times, want %d: %+v", name, n, want, marks.Caps)
		}
	}
}

// playing is a go of acts at a case.
func playing(acts ...practice.Act) scripted.UnsafeScript {
	return scripted.UnsafeScript{Role: faulttree.Qualified, Play: func(p *scripted.Player) error {
		for _, a := range acts {
			if _, err := p.Do(a); err != nil {
				return err
			}
		}
		return nil
	}}
}

// Whoever has turned loads on, and reads inside what stops him, makes the vehicle dark by
// its main breaker, all at once, and the body is again as it was read: he may go out to the
// plug. Not so with the loads on, nor after a live reading more ("no live contact at all",
// caution stay-off-body), nor by turning the loads off one after the other, each of which can
// lift another leg (caution overvoltage-unplug).
func TestTheMainBreakerIsTheWayOutAfterStop(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["bright-over-the-sink"]
	b := scenes.MarkBook(m.lib, s, m.beliefs)
	b.Best = none
	load := practice.Act{Kind: practice.Load, Name: "l1", On: true}
	loadOff := practice.Act{Kind: practice.Load, Name: "l1"}
	body, panel := practice.Act{Kind: practice.Read, Red: "body", Black: "earth"}, practice.Act{Kind: practice.Read, Red: "panel.l2", Black: "panel.n"}
	main, out := practice.Act{Kind: practice.Throw, Name: "main"}, practice.Act{Kind: practice.GoOut}
	c := scenes.CaseOf(m.lib, s)
	c.Loads = map[string]bool{}
	for name, tt := range map[string]struct {
		way  []practice.Act
		want []rubric.Rule
	}{
		"the main breaker": {[]practice.Act{main, out}, nil},
		"at once":          {[]practice.Act{out}, []rubric.Rule{rubric.StopDisobeyed, rubric.BodyUnknown}},
		"the body read":    {[]practice.Act{body, out}, []rubric.Rule{rubric.StopDisobeyed}},
		"loads off":        {[]practice.Act{loadOff, out}, []rubric.Rule{rubric.StopDisobeyed}},
		"main on again":    {[]practice.Act{main, {Kind: practice.Throw, Name: "main", On: true}, out}, []rubric.Rule{rubric.StopDisobeyed, rubric.StopDisobeyed, rubric.BodyUnknown}},
	} {
		acts := slices.Concat([]practice.Act{{Kind: practice.Prove}, body, {Kind: practice.GoIn}, load, panel}, tt.way,
			[]practice.Act{{Kind: practice.Throw, Name: "pedestal"}, {Kind: practice.Throw, Name: "plug"}})
		_, marks := rulesOf(t, c, playing(acts...), b)
		var got []rubric.Rule
		for _, x := range marks.Caps {
			if x.Act > 4 {
				got = append(got, x.Rule)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: got %v, want %v: %+v", name, got, tt.want, marks.Caps)
		}
	}
}

// With the main breaker off no fault leaves more on the body than there was before the loads
// were turned on, as the bench works it out; with them on some do, up to line voltage.
func TestTheMainBreakerTakesOffTheBodyWhatTheLoadsPutThere(t *testing.T) {
	m, lifted := marking(), 0
	for _, r := range m.lib.Rigs {
		if len(r.Inside) == 0 {
			continue
		}
		for _, f := range scenes.Book(m.lib, faulttree.DefaultMeter()).Faults {
			for i, variant := range f.Variants {
				if !variant.FitsIn(r) {
					continue
				}
				c := practice.NewCase(f.ID, r)
				c.May, c.Faults = []string{"main"}, []rig.Applied{f.Ordinary(i)}
				v := must.Have(c.Begin(faulttree.DefaultMeter()))(t)
				body := func() float64 {
					volts := must.Have(v.Picture())(t).Volts
					return cmplx.Abs(volts["body"] - volts["earth"])
				}
				before := body()
				for _, leg := range r.Legs() {
					must.Have(v.Do(practice.Act{Kind: practice.Load, Name: leg, On: true, Asked: true}))(t)
				}
				if body() > before+10 {
					lifted++
				}
				must.Have(v.Do(practice.Act{Kind: practice.Throw, Name: "main", Asked: true}))(t)
				if after := body(); after > before+0.1 {
					t.Errorf("%s, %s %s: the body stood at %.2f V, and does at %.2f V", r.ID, f.ID, variant.Text, before, after)
				}
			}
		}
	}
	if lifted == 0 {
		t.Error("no load lifts any body")
	}
}

// What has tripped puts nothing on the body: read then, it is unread once that is reset, by
// its own handle too. Here the ground is open behind a breaker that too much load has opened.
func TestABodyReadWhileABreakerStoodTrippedIsUnread(t *testing.T) {
	open := marking().lib.Faults["open-ground"].Edits
	c := coachWith(open.Ordinary(slices.IndexFunc(open.Variants, func(v rig.Variant) bool { return v.Text == "at the receptacle, large filters on L1" })))
	must.Do(t, c.SetLoad("l1", 12_000))
	if open := must.Have(must.Have(c.Begin(faulttree.DefaultMeter()))(t).Tripped())(t); !slices.Contains(open, "pedestal-breaker") {
		t.Fatalf("open stands %q", open)
	}
	handle := practice.Act{Kind: practice.Throw, Name: "pedestal"}
	acts := []practice.Act{{Kind: practice.Prove}, {Kind: practice.Read, Red: "body", Black: "earth"}, {Kind: practice.GoIn}, {Kind: practice.Load, Name: "l1"}, {Kind: practice.GoOut}, handle, {Kind: practice.GoIn}}
	if got, marks := rulesOf(t, c, playing(acts...), book(false)); len(got) > 0 {
		t.Errorf("with the breaker off: %+v", marks.Caps)
	}
	handle.On = true
	if got, marks := rulesOf(t, c, playing(slices.Insert(acts, 6, handle)...), book(false)); !slices.Equal(got, []rubric.Rule{rubric.BodyUnknown}) {
		t.Errorf("with the breaker reset: %+v", marks.Caps)
	}
}

// A breaker that has tripped feeds nothing: a plug pulled behind it does not arc, and pushed
// in behind one that is on it does.
func TestAPlugBehindATrippedBreakerDoesNotArc(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["the-new-cooler-did-it"] // it stands tripped by a short aboard
	b := scenes.MarkBook(m.lib, s, m.beliefs)
	b.Best = none
	out, off := practice.Act{Kind: practice.Throw, Name: "plug"}, practice.Act{Kind: practice.Throw, Name: "pedestal"}
	in, on := out, off
	in.On, on.On = true, true
	if got, marks := rulesOf(t, scenes.CaseOf(m.lib, s), playing(out), b); slices.Contains(got, rubric.PluggedUnder) {
		t.Errorf("pulled while it stands tripped: %+v", marks.Caps)
	}
	if got, _ := rulesOf(t, scenes.CaseOf(m.lib, s), playing(out, off, on, in), b); !slices.Contains(got, rubric.PluggedUnder) {
		t.Errorf("pushed in with the breaker reset: %v", got)
	}
}
