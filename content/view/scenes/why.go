package scenes

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/why"
)

// Wanted is which fault of an account is to be shown, and in which vehicle.
type Wanted struct {
	Faults []string          // one of them
	Places []faulttree.Place // in one of them, where the vehicle can have it there; empty is any
	Rigs   []*rig.Rig        // one of them; empty is any
}

// WantedOf is a fault as a walk spoke of it: with the others of its finding, where
// the finding leaves it possible, in a vehicle before which the reader may stand.
func WantedOf(lib *content.Library, w faulttree.Walk, fault string) Wanted {
	want := Wanted{Faults: []string{fault}, Rigs: view.RigsOf(lib, w.Start().Tree)}
	result, ended := w.Finding()
	if !ended {
		return want
	}
	if slices.Contains(result.Finding.Faults, fault) {
		want.Faults = result.Finding.Faults
	}
	for _, p := range faulttree.Places() {
		if len(result.Finding.Clears) > 0 && !slices.Contains(result.Finding.Clears, p) {
			want.Places = append(want.Places, p)
		}
	}
	return want
}

// Shown is a vehicle with a fault, and why it reads what it reads.
type Shown struct {
	scene.Explanation          // its scene is nil where no vehicle can have the fault
	Reasons           []Reason // of the readings of the account that the vehicle has, then of the live one that the fault changes most
	First             int      // of Reasons: the one that tells most of the fault; -1 where there is none
}

// Reason is why one quantity reads what it reads.
type Reason struct {
	Title         string
	Read          string // what somebody has read, "" where nobody has
	Sound, Faulty string // what a sound vehicle reads, and the one shown
	Why           why.Answer
}

// Says is what is read in a sound vehicle, with the fault, and by the reader.
func (r Reason) Says() string {
	read := "it was not read"
	if r.Read != "" {
		read = "you read " + r.Read
	}
	return fmt.Sprintf("Healthy it would be %s, with this fault it is %s; %s.", r.Sound, r.Faulty, read)
}

// Turn brings the vehicle into the state of a reason, with the probes and the meter
// as for its reading.
func (s *Shown) Turn(reason int) {
	a := s.Reasons[reason].Why
	s.Scene.Stand(a.State)
	s.Scene.Read(a.At)
}

// Why shows a fault in the vehicle that fits an account best: by its facts, or the
// nearest that a rig has, and of the vehicles drawn for them by all its readings,
// with place, severity and loads. Without readings the fault is as it ordinarily is.
func (r *Reasoning) Why(ctx context.Context, a view.Account, want Wanted) (Shown, error) {
	none := Shown{First: -1}
	a, _ = a.In(r.lib)
	near := r.nearest(a.Facts, want)
	if len(near) == 0 {
		return none, nil
	}
	if len(a.Evidence) == 0 {
		return r.ordinary(a, want, near)
	}
	known := a
	known.Facts = maps.Clone(a.Facts)
	for f := range known.Facts {
		if stated := near[0].Facts[f]; stated != "" {
			known.Facts[f] = stated
		}
	}
	b, err := r.Belief(ctx, known)
	if err != nil {
		return none, err
	}
	ways := likeliest(b, want, near)
	var fit fitter
	var ok bool
	if fit.vehicles, ok = b.Population().(vehicles); !ok || len(ways) == 0 {
		return r.ordinary(a, want, near)
	}
	for _, e := range b.Evidence() {
		if e.Quantity.ID != "" {
			fit.read = append(fit.read, why.Reading{Quantity: e.Quantity, Reading: e.Reading, Top: r.meter.Top(e.Quantity.Unit)})
		}
	}
	on, setup, err := fit.nearest(ways)
	if err != nil {
		return none, err
	}
	shown, err := r.show(a, want, on, setup)
	shown.Differs = append(shown.Differs, "Which loads were on and how bad the fault is was not measured: of many drawn vehicles this one comes nearest to all readings.")
	return shown, err
}

// Can reports whether a vehicle can have what is wanted.
func (r *Reasoning) Can(want Wanted) bool { return len(r.nearest(nil, want)) > 0 }

// show puts a vehicle on show with the reasons of all readings of an account.
func (r *Reasoning) show(a view.Account, want Wanted, on *rig.Rig, setup rig.Setup) (Shown, error) {
	s, err := scene.New(on, Book(r.lib, r.meter))
	if err != nil {
		return Shown{}, err
	}
	if err := s.Put(setup); err != nil {
		return Shown{}, err
	}
	out := Shown{Explanation: scene.Explanation{Scene: s, Text: s.Text()}, First: -1}
	out.Differs = r.differs(a.Facts, want, s)
	most := 0.0
	for _, e := range a.Evidence {
		if e.Quantity.ID == "" || e.Round != a.Round() {
			continue
		}
		answer, err := why.Of(on, setup, e.Quantity, r.meter)
		if err != nil {
			return Shown{}, err
		}
		if !answer.Sound.There && !answer.Faulty.There {
			continue
		}
		if tells := answer.Tells(); tells > most || out.First < 0 {
			most, out.First = tells, len(out.Reasons)
		}
		out.Reasons = append(out.Reasons, r.reason(e.Quantity, e.Reading.Show(e.Quantity.Unit), answer))
	}
	if out.First < 0 {
		return out, nil
	}
	out.Turn(out.First)
	q, ok, err := why.Live(on, setup, r.lib.Forest.Quantities)
	if err != nil || !ok || slices.ContainsFunc(a.Evidence, func(e suspect.Evidence) bool { return e.Quantity.ID == q.ID }) {
		return out, err
	}
	answer, err := why.Of(on, setup, q, r.meter)
	out.Reasons = append(out.Reasons, r.reason(q, "", answer))
	return out, err
}

func (r *Reasoning) reason(q faulttree.Quantity, read string, a why.Answer) Reason {
	return Reason{Title: q.Title, Read: read, Sound: r.shows(a.Sound, q), Faulty: r.shows(a.Faulty, q), Why: a}
}

// shows is what the reader's meter shows of a value.
func (r *Reasoning) shows(v why.Value, q faulttree.Quantity) string {
	switch {
	case v.Live:
		return scene.LiveUnderOhms
	case !v.There:
		return "no reading"
	}
	return r.meter.About(v.Number, q)
}

// ordinary shows a fault as it ordinarily is in the first of some rigs.
func (r *Reasoning) ordinary(a view.Account, want Wanted, near []*rig.Rig) (Shown, error) {
	on := near[0]
	for _, id := range want.Faults {
		f := r.fault(id)
		if f == nil {
			continue
		}
		variants := want.variants(f, on)
		if len(variants) == 0 {
			continue
		}
		return r.show(a, want, on, rig.Setup{Values: on.Values(), Faults: []rig.Applied{f.Ordinary(variants[0])}})
	}
	return Shown{First: -1}, nil
}

func (r *Reasoning) fault(id string) *rig.Fault {
	if f := r.lib.Faults[id]; f != nil {
		return f.Edits
	}
	return nil
}

// variants are those of a fault that can be drawn in a rig: in the places wanted, or
// in all where it cannot be there.
func (w Wanted) variants(f *rig.Fault, on *rig.Rig) []int {
	all := scene.Fitting(f, on)
	in := slices.DeleteFunc(slices.Clone(all), func(i int) bool { return !w.places(f.Variants[i].Place) })
	if len(in) > 0 {
		return in
	}
	return all
}

func (w Wanted) places(p faulttree.Place) bool {
	return len(w.Places) == 0 || slices.Contains(w.Places, p)
}

// differs says in what a vehicle on show is not as an account has it.
func (r *Reasoning) differs(facts map[string]string, want Wanted, s *scene.Scene) []string {
	var out []string
	for _, f := range r.lib.Forest.Facts {
		switch stated := s.Rig().Facts[f.ID]; {
		case choiceDistance(f, facts[f.ID], stated) != 0:
			out = append(out, fmt.Sprintf("%s %s for your vehicle, %s for this one.", f.Title, choiceWords(f, facts[f.ID]), choiceWords(f, stated)))
		case facts[f.ID] == "" && stated != "" && slices.ContainsFunc(r.nearest(facts, want), func(on *rig.Rig) bool { return choiceDistance(f, on.Facts[f.ID], stated) != 0 }):
			out = append(out, fmt.Sprintf("%s You have not said; %s for this one.", f.Title, choiceWords(f, stated)))
		}
	}
	if v := s.Variant(); v != nil && !want.places(v.Place) {
		out = append(out, "The fault was placed "+placeWords(want.Places)+", where this vehicle cannot have it; it is shown "+s.Places()[s.Place()]+".")
	}
	return out
}

// choiceWords is the beginning of a choice's words, before what explains it.
func choiceWords(f faulttree.Fact, id string) string {
	for _, c := range f.Choices {
		if c.ID == id {
			short, _, _ := strings.Cut(c.Text, ":")
			short, _, _ = strings.Cut(short, ",")
			return short
		}
	}
	return id
}

// placeWords words places: "in the cord or in the vehicle".
func placeWords(places []faulttree.Place) string {
	return strings.Join(lists.Each(places, faulttree.Place.Within), " or ")
}
