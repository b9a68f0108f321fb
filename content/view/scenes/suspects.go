package scenes

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/suspect"
)

// Reasoning says which faults of a handbook fit an account. It draws vehicles once
// for the facts of an account, and keeps the last few such populations. Any number
// of goroutines may ask it.
type Reasoning struct {
	lib   *content.Library
	meter faulttree.Meter
	draw  Draw
	rules [2]*suspect.Rules // by role

	mu   sync.Mutex
	kept []*kept // the last used last
}

// Draw draws the vehicles that agree with some facts. It returns [drawn.ErrNoRig]
// where there are none. Those that have a method Warm, as [drawn.Population] does,
// are worked out ahead by [Reasoning.Warm].
type Draw func(ctx context.Context, o drawn.Options) (suspect.Population, error)

// kept is the vehicles that agree with some facts.
type kept struct {
	key        string
	mu         sync.Mutex // held while they are drawn
	population suspect.Population
	reasoner   *suspect.Reasoner
}

// mostKept is for how many sets of facts vehicles are kept.
const mostKept = 2

// seed of all drawn vehicles: the same account gives the same answer every time.
const seed = 1

// NewReasoning reasons about readings of a meter with the faults of a handbook, and
// with vehicles drawn from it, or by draw where that is not nil.
func NewReasoning(lib *content.Library, m faulttree.Meter, draw Draw) *Reasoning {
	r := &Reasoning{lib: lib, meter: m, draw: draw}
	if draw == nil {
		r.draw = func(ctx context.Context, o drawn.Options) (suspect.Population, error) {
			return drawn.New(ctx, DrawnFrom(lib), o)
		}
	}
	for _, role := range []faulttree.Role{faulttree.Owner, faulttree.Qualified} {
		r.rules[role] = suspect.NewRules(lib.Forest, role)
	}
	return r
}

// Library is the handbook that it reasons with.
func (r *Reasoning) Library() *content.Library { return r.lib }

// Meter is the meter whose readings it weighs.
func (r *Reasoning) Meter() faulttree.Meter { return r.meter }

// DrawnFrom is what vehicles of a handbook are drawn from.
func DrawnFrom(lib *content.Library) drawn.Handbook {
	h := drawn.Handbook{Forest: lib.Forest, Rigs: slices.Collect(maps.Values(lib.Rigs))}
	for _, f := range lib.Faults {
		if f.Edits != nil {
			h.Faults = append(h.Faults, f.Edits)
		}
	}
	return h
}

// Described looks up what the documents of a handbook say of a fault in a place.
func Described(lib *content.Library) suspect.Describe {
	return func(fault string, place faulttree.Place) suspect.Described {
		f := lib.Faults[fault]
		if f == nil {
			return suspect.Described{}
		}
		d := suspect.Described{Title: f.Title, Hazard: f.Hazard, NoLoads: f.NoLoads, OneBranch: f.OneBranch}
		if a := f.At(place); a != nil {
			d.Do, d.RepairBy = a.FirstAction, a.RepairBy
		}
		if t := f.TestAt(place); t != nil {
			d.Test = t.Sentence()
		}
		return d
	}
}

// Warm draws the vehicles among which a further reading of an account is weighed and
// works out what they read, giving way to whoever asks meanwhile.
func (r *Reasoning) Warm(ctx context.Context, a view.Account) error {
	a, _ = a.In(r.lib)
	k, err := r.of(ctx, a)
	if err != nil {
		return err
	}
	if p, ok := k.population.(interface{ Warm(context.Context) error }); ok {
		return p.Warm(ctx)
	}
	return nil
}

// Belief is what an account says. It returns [drawn.ErrNoRig] where no vehicle of
// the handbook agrees with its facts.
func (r *Reasoning) Belief(ctx context.Context, a view.Account) (*suspect.Belief, error) {
	a, _ = a.In(r.lib)
	k, err := r.of(ctx, a)
	if err != nil {
		return nil, err
	}
	return k.reasoner.Belief(ctx, a.Told(r.lib))
}

// Suspects is what fits an account, worded.
func (r *Reasoning) Suspects(ctx context.Context, a view.Account) (view.Suspects, error) {
	b, err := r.Belief(ctx, a)
	if err != nil {
		return view.Suspects{}, err
	}
	return r.Worded(a, b), nil
}

// Worded is the belief of an account in words, with the facts that were taken from
// its readings, and the readings that counted for nothing.
func (r *Reasoning) Worded(a view.Account, b *suspect.Belief) view.Suspects {
	v := view.SuspectsOf(r.lib, b, r.meter)
	v.TakenAs, v.NotWeighed = takenAs(r.lib, r.Implied(a)), r.notWeighed(a)
	return v
}

// Fits is what fits the readings of a walk after so many repairs; nil where there are
// none, or where no vehicle of the handbook agrees with its facts.
func (r *Reasoning) Fits(ctx context.Context, w faulttree.Walk, repairs int) (*view.Suspects, error) {
	a := view.AccountOf(w, repairs)
	if len(a.Evidence) == 0 {
		return nil, nil
	}
	v, err := r.Suspects(ctx, a)
	if errors.Is(err, drawn.ErrNoRig) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return &v, nil
}

// Next is what to find out next after a belief, for a reader of a role who has
// these tools. While a reading stands that may have reached a danger limit, also
// one of an earlier round, an owner is asked for nothing live.
func (r *Reasoning) Next(ctx context.Context, a view.Account, b *suspect.Belief, role faulttree.Role, tools suspect.Tools) ([]view.Next, error) {
	a, _ = a.In(r.lib)
	for _, i := range r.Implied(a) {
		a = a.Knowing(i.Fact, i.Choice)
	}
	next, err := b.Next(ctx, r.rules[role], suspect.Reader{Known: a.Fact, Tree: a.Tree, Tools: tools})
	if err != nil {
		return nil, err
	}
	out := view.NextOf(r.lib, a, next)
	if role == faulttree.Owner && len(view.AlarmsOf(r.lib, a, r.meter)) > 0 {
		out = slices.DeleteFunc(out, func(n view.Next) bool { return n.Live })
	}
	return out, nil
}

// of is the vehicles among which an account is weighed.
func (r *Reasoning) of(ctx context.Context, a view.Account) (*kept, error) {
	implied := map[string]string{}
	for _, i := range r.Implied(a) {
		implied[i.Fact] = i.Choice
	}
	k := r.take(key(a.Facts) + "implied\n" + key(implied))
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.reasoner == nil {
		p, err := r.draw(ctx, drawn.Options{Facts: a.Facts, Implied: implied, Seed: seed})
		if err != nil {
			return nil, err
		}
		k.population, k.reasoner = p, suspect.New(p, r.meter, Described(r.lib))
	}
	return k, nil
}

// take is the entry of a key, made the last used.
func (r *Reasoning) take(key string) *kept {
	r.mu.Lock()
	defer r.mu.Unlock()
	k := &kept{key: key}
	if i := slices.IndexFunc(r.kept, func(k *kept) bool { return k.key == key }); i >= 0 {
		k = r.kept[i]
		r.kept = slices.Delete(r.kept, i, i+1)
	}
	r.kept = append(r.kept, k)
	r.kept = r.kept[max(0, len(r.kept)-mostKept):]
	return k
}

func key(facts map[string]string) string {
	var b strings.Builder
	for _, id := range slices.Sorted(maps.Keys(facts)) {
		if facts[id] != "" {
			fmt.Fprintf(&b, "%s=%s\n", id, facts[id])
		}
	}
	return b.String()
}
