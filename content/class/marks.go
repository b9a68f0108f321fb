package class

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"
)

// Try is an attempt that was verified, and what it is an attempt at.
type Try struct {
	Scenario *content.Scenario // as it was handed out; variants of it teach the same
	Case     practice.Case
	Attempt  practice.Attempt
}

// Marker marks attempts that were verified.
type Marker interface {
	// Mark marks attempts of one class. Done is called with the index of each as soon as
	// it is marked, in any order, or with why it cannot be marked. The error is that of ctx.
	Mark(ctx context.Context, all []Try, done func(i int, m *Marks, err error)) error
}

// Marks is the marks of an attempt, and the rubric that they are by.
type Marks struct {
	mark.Marks
	Rubric rubric.Rubric
	Early  bool // concluded before the readings held it
}

// NewMarker marks by the rubric of a handbook. What is drawn and worked out for one
// attempt serves the others; it is called by one goroutine at a time. A handbook without
// a rubric marks nothing: it is nil then.
func NewMarker(lib *content.Library) *ByRubric {
	if lib.Rubric == nil {
		return nil
	}
	return &ByRubric{lib: lib, beliefs: map[faulttree.Meter]*mark.Beliefs{}, books: map[ordered]mark.Book{}}
}

// ByRubric is the [Marker] of [NewMarker]. It keeps what attempts share.
type ByRubric struct {
	lib     *content.Library
	beliefs map[faulttree.Meter]*mark.Beliefs
	books   map[ordered]mark.Book
}

// ordered is for whom and by which meter attempts at a scenario are marked alike.
type ordered struct {
	scenario *content.Scenario
	role     faulttree.Role
	meter    faulttree.Meter
}

// Mark marks attempts, those at vehicles of which the same is known together: what they
// ask of the drawn vehicles is solved once, and as many are marked at a time as there are
// cores. How many at a time makes no difference to the marks.
func (m *ByRubric) Mark(ctx context.Context, all []Try, done func(i int, m *Marks, err error)) error {
	var groups []string
	of := map[string][]int{}
	for i, t := range all {
		key := fmt.Sprint(m.of(t.Attempt.Meter).Drawn(t.Case.Rig), t.Attempt.Meter.Nameless())
		if of[key] == nil {
			groups = append(groups, key)
		}
		of[key] = append(of[key], i)
	}
	for _, key := range groups {
		if err := m.together(ctx, all, of[key], done); err != nil {
			return err
		}
	}
	return ctx.Err()
}

// together marks some attempts at vehicles of which the same is known.
func (m *ByRubric) together(ctx context.Context, all []Try, some []int, done func(i int, m *Marks, err error)) error {
	books := lists.Each(some, func(i int) mark.Book { return m.bookOf(all[i].Scenario, all[i].Attempt) })
	markings, errs := make([]*mark.Marking, len(some)), make([]error, len(some))
	onCores(len(some), func(n int) {
		markings[n], errs[n] = mark.Begin(all[some[n]].Case, all[some[n]].Attempt, books[n])
	}).Wait()
	var begun []*mark.Marking
	var at []int
	for n, i := range some {
		if errs[n] != nil {
			done(i, nil, errs[n])
			continue
		}
		begun, at = append(begun, markings[n]), append(at, i)
	}
	if err := mark.Solve(ctx, begun...); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		for _, i := range at {
			done(i, nil, err)
		}
		return nil
	}
	type marked struct {
		i     int
		marks mark.Marks
		err   error
	}
	out := make(chan marked, len(begun))
	onCores(len(begun), func(n int) {
		given, err := begun[n].Marks(ctx)
		out <- marked{at[n], given, err}
	})
	for range begun {
		x := <-out
		if x.err != nil {
			done(x.i, nil, x.err)
			continue
		}
		rubric := m.lib.Rubric.Rubric
		done(x.i, &Marks{Marks: x.marks, Rubric: rubric, Early: all[x.i].Attempt.Conclusion != nil && x.marks.Held < x.marks.Asked}, nil)
	}
	for _, b := range m.beliefs {
		b.Forget()
	}
	return ctx.Err()
}

// onCores does n pieces of work, as many at a time as there are cores, until waited for.
func onCores(n int, work func(i int)) *sync.WaitGroup {
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	return &all
}

// One marks one attempt.
func (m *ByRubric) One(ctx context.Context, t Try) (marks *Marks, err error) {
	stopped := m.Mark(ctx, []Try{t}, func(_ int, given *Marks, why error) { marks, err = given, why })
	return marks, cmp.Or(stopped, err)
}

// bookOf is what marking an attempt takes, with the beliefs that are shared. It is made
// once for all that need the same, and so is the best order, where the handbook has it not.
func (m *ByRubric) bookOf(s *content.Scenario, a practice.Attempt) mark.Book {
	by := ordered{s, a.Role, a.Meter.Nameless()}
	b, made := m.books[by]
	if !made {
		written := scenes.MarkBook(m.lib, s, m.of(a.Meter))
		b = written
		b.Best = once(func(ctx context.Context) (mark.Order, error) {
			return mark.Best(ctx, scenes.CaseOf(m.lib, s), a.Role, written)
		})
		m.books[by] = b
	}
	return b
}

// once keeps what work came to, once it succeeds. Any number of goroutines may ask.
func once[T any](work func(context.Context) (T, error)) func(context.Context) (T, error) {
	var mu sync.Mutex
	var kept *T
	return func(ctx context.Context) (T, error) {
		mu.Lock()
		defer mu.Unlock()
		if kept != nil {
			return *kept, nil
		}
		out, err := work(ctx)
		if err == nil {
			kept = &out
		}
		return out, err
	}
}

// of is the beliefs by a meter, which attempts share.
func (m *ByRubric) of(meter faulttree.Meter) *mark.Beliefs {
	if meter = meter.Nameless(); m.beliefs[meter] == nil {
		m.beliefs[meter] = scenes.NewBeliefs(m.lib, meter)
	}
	return m.beliefs[meter]
}

// Tell says after each act of an attempt that verifies what the readings until then
// tell, "" after acts that read nothing. At most so many acts are told as are marked.
func (m *ByRubric) Tell(ctx context.Context, s *content.Scenario, x *Checked) ([]string, error) {
	if x.Edited != "" || len(x.Attempt.Acts) > mostMarkedActs {
		return nil, nil
	}
	out, book := make([]string, len(x.Attempt.Acts)), m.bookOf(s, x.Attempt)
	for i, a := range x.Attempt.Acts {
		if a.Kind != practice.Read {
			continue
		}
		k, err := mark.Know(ctx, x.Case, x.Attempt, i+1, book)
		if err != nil {
			return nil, err
		}
		out[i] = toldBy(view.SuspectsOf(m.lib, k.Belief, x.Attempt.Meter))
	}
	return out, nil
}

// toldBy is a belief in a line.
func toldBy(v view.Suspects) string {
	var parts []string
	if v.None != nil && v.None.Leads {
		parts = append(parts, v.None.Title)
	}
	for _, s := range v.Likely[:min(2, len(v.Likely))] {
		parts = append(parts, s.Text())
	}
	return strings.Join(parts, "; ")
}
