package trial

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/vehicle"
)

// Options say how much is tried.
type Options struct {
	Rigs     int     // draws within the scope of the tree; up to a fifth more lie outside
	Seed     uint64  //
	Workers  int     // 0 is one for each core
	Wrong    float64 // share of the readings that go wrong once; where all are taken they are right. 0 to 0.5
	WalkOnly bool    // leaves out what is compared with the possible, for which every reading of many rigs is needed
	// Progress, if set, is told now and then how many draws of how many are
	// done. It is called from several goroutines, one at a time.
	Progress func(done, total int)
}

// MostWrong is the largest share of readings that may go wrong in a trial.
const MostWrong = 0.5

// trial is one tree under trial. It is read only while workers run.
type trial struct {
	forest     *faulttree.Forest
	plan       *plan
	repairedBy func(fault string, place faulttree.Place) string // see [Handbook]; nil without
	options    Options
	face       *meter.Face
	endpoints  []endpoint
	endpointAt map[faulttree.Ref]int
	index      map[string]int // of a quantity
	data       *dataset       // nil where only walks were asked for
	peers      []*peers       // what beliefs weigh
}

// endpoint is a place where walks of the tree can end.
type endpoint struct {
	ref      faulttree.Ref
	title    string
	finding  faulttree.Finding
	handed   bool
	noFault  bool // it is the one that healthy rigs should reach
	named    []bool
	declared []bool // declared in cannot_exclude
}

// Run tries one tree. The report does not depend on the number of workers.
func Run(ctx context.Context, h Handbook, tree string, o Options) (*Report, error) {
	t, err := prepare(h, tree, o)
	if err != nil {
		return nil, err
	}
	if !o.WalkOnly {
		t.data = t.newDataset(learnedFrom, heldOut)
	}
	sum, err := t.walkAll(ctx)
	if err != nil {
		return nil, err
	}
	r, err := t.report(sum)
	if err != nil || o.WalkOnly {
		return r, err
	}
	if o.Wrong == 0 {
		if err := t.findOrders(ctx, sum, r); err != nil {
			return nil, err
		}
	}
	if err := t.countReadings(ctx, sum, r); err != nil {
		return nil, err
	}
	if t.peers, err = t.newPeers(ctx); err != nil {
		return nil, err
	}
	if err := t.compareWithBelief(ctx, sum, r); err != nil {
		return nil, err
	}
	r.Complaint, err = t.withComplaint(ctx)
	return r, err
}

// prepare lays out a trial.
func prepare(h Handbook, tree string, o Options) (*trial, error) {
	root := h.Forest.Tree(tree)
	if root == nil {
		return nil, fmt.Errorf("there is no tree %q", tree)
	}
	if o.Rigs < 1 {
		return nil, errors.New("a trial needs at least one rig")
	}
	if !(o.Wrong >= 0 && o.Wrong <= MostWrong) {
		return nil, fmt.Errorf("the share of wrong readings is from 0 to %v, not %v", MostWrong, o.Wrong)
	}
	if o.Workers < 1 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	if !h.Forest.Touch.Known() {
		return nil, errors.New("the list of quantities does not say what a hand may touch, and from where on it hurts: no all-clear can be judged")
	}
	p, err := makePlan(h, root, o.Rigs)
	if err != nil {
		return nil, err
	}
	for _, r := range p.rigs {
		if len(r.States) == 0 {
			return nil, fmt.Errorf("nothing says how the rig %s stands while something is read: at the pedestal it would be read plugged in", r.ID)
		}
	}
	t := &trial{forest: h.Forest, plan: p, repairedBy: h.RepairedBy, options: o, face: meter.NewFace(faulttree.DefaultMeter()),
		endpointAt: map[faulttree.Ref]int{}, index: map[string]int{}}
	for _, id := range h.Forest.Quantities.IDs() {
		t.addQuantity(id)
	}
	for _, id := range h.Forest.Reached(tree) {
		reached := h.Forest.Trees[id]
		if reached == nil {
			continue
		}
		for _, s := range reached.Steps {
			for _, v := range s.Measure {
				t.addQuantity(v.Quantity.ID)
			}
			if s.Kind == faulttree.KindFinding {
				t.addEndpoint(endpoint{ref: s.Ref(), title: s.Title, finding: s.Finding})
			}
		}
		t.addEndpoint(endpoint{ref: faulttree.Ref{Tree: id, Step: faulttree.HandOver}, title: "Hand this to a licensed electrician", handed: true})
	}
	t.markNoFault()
	return t, nil
}

func (t *trial) addQuantity(quantity string) {
	if _, known := t.index[quantity]; !known {
		t.index[quantity] = len(t.index)
	}
}

func (t *trial) addEndpoint(f endpoint) {
	f.named, f.declared = make([]bool, len(t.plan.faults)), make([]bool, len(t.plan.faults))
	for i, fault := range t.plan.faults {
		f.named[i] = slices.Contains(f.finding.Faults, fault.ID)
		f.declared[i] = slices.ContainsFunc(f.finding.CannotExclude, func(n faulttree.NotExcluded) bool { return n.Fault == fault.ID })
	}
	t.endpointAt[f.ref] = len(t.endpoints)
	t.endpoints = append(t.endpoints, f)
}

// markNoFault finds the findings that healthy rigs should reach: those that
// clear a place, or, in a tree that clears none, of those that name no fault
// the ones with the mildest signal.
func (t *trial) markNoFault() {
	clears, mildest := false, faulttree.Danger
	for _, f := range t.endpoints {
		if f.ref.Tree == t.plan.tree.Own() && !f.handed {
			clears = clears || len(f.finding.Clears) > 0
			if len(f.finding.Faults) == 0 {
				mildest = min(mildest, f.finding.Signal)
			}
		}
	}
	for i := range t.endpoints {
		f := &t.endpoints[i]
		f.noFault = !f.handed && f.ref.Tree == t.plan.tree.Own() &&
			(clears && len(f.finding.Clears) > 0 || !clears && len(f.finding.Faults) == 0 && f.finding.Signal == mildest)
	}
}

// block is how many draws a worker takes at a time. They are of one stratum,
// so that the bench keeps its factored circuits, and begin on a fresh bench, so
// that not even the rounding depends on what the worker did before.
const block = 500

// walkAll walks every draw.
func (t *trial) walkAll(ctx context.Context) (*tally, error) {
	tallies := make([]*tally, t.options.Workers)
	for k := range tallies {
		tallies[k] = newTally(t)
	}
	err := t.eachDraw(ctx, t.plan.total, func(k int, w *worker, s stratum, number int) error {
		return w.tryOne(s, number, tallies[k])
	})
	if err != nil {
		return nil, err
	}
	sum := newTally(t)
	for _, other := range tallies {
		sum.add(other)
	}
	return sum, nil
}

// eachDraw does something with the draws below the number total, several workers
// at a time: with the worker of number k, and a draw.
func (t *trial) eachDraw(ctx context.Context, total int, do func(k int, w *worker, s stratum, number int) error) error {
	type part struct {
		stratum
		from, to int
	}
	var parts []part
	for _, s := range t.plan.strata {
		for at := s.from; at < min(s.to, total); at += block {
			parts = append(parts, part{s, at, min(at+block, s.to, total)})
		}
	}
	var next, done atomic.Int64
	errs := make([]error, t.options.Workers)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	var speak sync.Mutex
	var all sync.WaitGroup
	for k := range errs {
		all.Go(func() {
			w := t.newWorker()
			for {
				i := int(next.Add(1)) - 1
				if i >= len(parts) || ctx.Err() != nil {
					return
				}
				p := parts[i]
				w.reader = nil
				for number := p.from; number < p.to; number++ {
					if err := do(k, w, p.stratum, number); err != nil {
						errs[k] = fmt.Errorf("draw %d (%s): %w", number, t.plan.make(p.stratum, number, t.options.Seed).describe(), err)
						cancel()
						return
					}
				}
				n := done.Add(int64(p.to - p.from))
				if t.options.Progress != nil {
					speak.Lock()
					t.options.Progress(int(n), total)
					speak.Unlock()
				}
			}
		})
	}
	all.Wait()
	if err := errors.Join(errs...); err != nil {
		return err
	}
	return ctx.Err()
}

// worker holds what one goroutine needs: a bench for the stratum it works at.
type worker struct {
	*trial
	at     stratum
	reader *reader
}

func (t *trial) newWorker() *worker { return &worker{trial: t} }

// readerFor is the worker's reader for a stratum. A new stratum gets a new
// bench: the circuits of the old one are of no more use.
func (w *worker) readerFor(s stratum) (*reader, error) {
	if w.reader != nil && w.at == s {
		return w.reader, nil
	}
	v, err := vehicle.New(s.rig)
	if err != nil {
		return nil, err
	}
	w.at = s
	w.reader = &reader{vehicle: v, index: w.index, listed: w.forest.Quantities,
		in:       instrument{face: w.face, seed: w.options.Seed},
		readings: make([]faulttree.Reading, len(w.index)), have: make([]bool, len(w.index))}
	return w.reader, nil
}

// before is the worker's reader before a draw of a stratum.
func (w *worker) before(s stratum, number int) (*reader, error) {
	k, err := w.readerFor(s)
	if err == nil {
		err = k.begin(w.plan.make(s, number, w.options.Seed))
	}
	return k, err
}

// roles are who walks.
var roles = []faulttree.Role{faulttree.Owner, faulttree.Qualified}

// tryOne walks one draw in both roles. Where the owner's walk was not handed
// over, a qualified person's would be the same.
func (w *worker) tryOne(s stratum, number int, into *tally) error {
	k, err := w.before(s, number)
	if err != nil {
		return err
	}
	body := bodyCheck{touch: w.forest.Touch}
	same := false // the qualified person's walk is the owner's
	var ends []ending
	for _, role := range roles {
		if !same {
			if ends, err = w.walk(k, role); err != nil {
				return err
			}
		}
		if err := into.count(w.trial, k, &body, role, ends); err != nil {
			return err
		}
		same = !slices.ContainsFunc(ends, func(e ending) bool { return w.endpoints[e.endpoint].handed })
	}
	if w.data != nil {
		return w.data.observe(w.trial, k)
	}
	return nil
}
