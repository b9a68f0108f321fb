// Package fits works out what fits an account, away from the window's thread, for
// every page that shows it. It decides nothing: what fits is the reasoning's, how it
// is said the composed value's.
package fits

import (
	"context"
	"errors"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/suspect"
	"faultwright/gui/frame"
	"faultwright/gui/session"
)

// Work is one account's work at a time. It belongs to the window's thread.
type Work struct {
	window  *frame.Frame
	session *session.Session
	name    string // of its jobs
	changed func() // something was found
	asked   basis
	found   Found
}

// Found is what fits, and what to find out next.
type Found struct {
	of    basis
	ready bool // it was worked out, or could not be

	Suspects view.Suspects
	Ways     []view.Link
	Err      error // why nothing was worked out

	Next     []view.Next
	NextErr  error
	NextDone bool // Next or NextErr is there
}

// basis is all that an answer depends on.
type basis struct {
	account view.Account
	book    *content.Library
	meter   faulttree.Meter // by what its readings mean
	role    faulttree.Role
	tools   suspect.Tools
}

func (b basis) same(o basis) bool {
	return b.book == o.book && b.meter == o.meter && b.role == o.role && b.tools == o.tools && b.account.Same(o.account)
}

// New makes work of a name of its own. Changed is called whenever something was
// found.
func New(w *frame.Frame, s *session.Session, name string, changed func()) *Work {
	return &Work{window: w, session: s, name: name, changed: changed}
}

func (w *Work) basis(a view.Account) basis {
	s := w.session.Settings()
	return basis{a, w.session.Book(), s.Meter.Nameless(), s.Role, s.Tools}
}

// Of is what was found last, if anything, and whether that is of this account, as the
// handbook and the reader are now.
func (w *Work) Of(a view.Account) (f Found, some, current bool) {
	return w.found, w.found.ready, w.found.ready && w.found.of.same(w.basis(a))
}

// Counts reports whether anything that an account tells counts: it is of the vehicle
// as it stands now, and the handbook knows it.
func (w *Work) Counts(a view.Account) bool {
	return a.Tells(w.session.Book())
}

// Find works out what fits an account, unless that is known or under way; then what
// to find out next, if that is wanted.
func (w *Work) Find(a view.Account, next bool) {
	runner, of := w.window.Runner(), w.basis(a)
	if !w.Counts(a) {
		w.Forget()
		return
	}
	if runner.Busy(w.name) && w.asked.same(of) {
		return
	}
	if _, _, current := w.Of(a); current {
		if next {
			w.findNext(of, nil)
		}
		return
	}
	w.asked = of
	runner.Cancel(w.next())
	type found struct {
		Found
		belief *suspect.Belief
	}
	reasoning := w.session.Reasoning()
	frame.Run(runner, w.name, func(ctx context.Context) found {
		b, err := reasoning.Belief(ctx, a)
		out := found{Found{of: of, ready: true, Err: err}, b}
		if err == nil {
			out.Suspects = reasoning.Worded(a, b)
			out.Ways = view.Ways(of.book, a, out.Suspects)
		}
		return out
	}, func(f found) {
		w.found = f.Found
		w.changed()
		if next {
			w.findNext(of, f.belief)
		}
	})
}

func (w *Work) next() string { return w.name + " next" }

// findNext works out what to find out next after a belief, which is worked out
// again where it is nil.
func (w *Work) findNext(of basis, b *suspect.Belief) {
	runner, reasoning := w.window.Runner(), w.session.Reasoning()
	if w.found.Err != nil || w.found.NextDone || runner.Busy(w.next()) {
		return
	}
	frame.Try(runner, w.next(), func(ctx context.Context) (_ []view.Next, err error) {
		if b == nil {
			if b, err = reasoning.Belief(ctx, of.account); err != nil {
				return nil, err
			}
		}
		return reasoning.Next(ctx, of.account, b, of.role, of.tools)
	}, func(next []view.Next, err error) {
		w.found.Next, w.found.NextErr, w.found.NextDone = next, err, true
		w.changed()
	})
}

// Warm works out ahead what the vehicles read among which an account is weighed. What
// goes wrong comes up where somebody waits for it.
func (w *Work) Warm(a view.Account) {
	reasoning := w.session.Reasoning()
	frame.Run(w.window.Runner(), "warm suspects", func(ctx context.Context) error { return reasoning.Warm(ctx, a) }, func(error) {})
}

// Forget drops what was found and stops what is under way.
func (w *Work) Forget() {
	w.window.Runner().Cancel(w.name)
	w.window.Runner().Cancel(w.next())
	w.found = Found{}
}

// Leaves lists what to leave open of an account, where what fits could not be worked
// out as no vehicle agrees with its facts.
func (w *Work) Leaves(a view.Account, err error) []scenes.Leave {
	if !errors.Is(err, drawn.ErrNoRig) {
		return nil
	}
	return w.session.Reasoning().Leaves(a)
}

// Why says why nothing was worked out of an account.
func (w *Work) Why(a view.Account, err error) string {
	if errors.Is(err, drawn.ErrNoRig) {
		return w.session.Reasoning().NoVehicle(a)
	}
	return "This could not be worked out. What was read is kept. " + view.Sentence(err.Error())
}
