// Package suspects is the page for readings that were taken already, in any
// order: what was read, seen and tried beside what fits it. What fits is worked
// out away from the window's thread; an answer to what was told before is shown
// as that, never as the present one.
package suspects

import (
	"context"
	"errors"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/shorthand"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/suspect"
	"faultwright/gui/frame"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Area is the page of suspects.
type Area struct {
	window  *frame.Frame
	session *session.Session

	open    string         // what is asked or shown of what is folded; "" for nothing
	list    shorthandList  // the entry as it was read last
	earlier []view.Account // as told before each change, the last one last
	handed  string         // the list that another page handed over last
	told    int            // counts the changes of what is told
	asked   basis          // what is being worked out of
	fits    answer
	page    *sheet // what of the page changes while it is shown
}

// shorthandList is a list of readings with the handbook it was read by.
type shorthandList struct {
	*shorthand.List // nil for none
	reader          *shorthand.Reader
	book            *content.Library
	problem         string // why it could not be read at all
}

// answer is what fits, and what that was worked out of.
type answer struct {
	of    basis
	fits  view.Suspects
	ways  []view.Link
	err   error
	ready bool // something was worked out

	next     []view.Next
	nextErr  error
	nextDone bool
}

// basis is all that an answer depends on.
type basis struct {
	told  int
	book  *content.Library
	meter faulttree.Meter
	role  faulttree.Role
}

// New makes the page.
func New(w *frame.Frame, s *session.Session) *Area { return &Area{window: w, session: s} }

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{place.SuspectsPage: {Rail: rail, Arrive: a.arrive, Build: a.build, Leave: func() { a.page = nil }}}
}

const jobFits, jobNext, jobWarm = "suspects", "suspects next", "suspects warm"

// here is where what is typed into the entry is kept, whichever list led to the
// page.
var here = place.Suspects("")

// arrive takes a list that another page hands over, and works out what fits
// unless that is known.
func (a *Area) arrive(at place.Location) (said string, err error) {
	if at.Query != "" && at.Query != a.handed {
		a.handed = at.Query
		if text := strings.TrimSpace(a.typed() + "\n" + at.Query); len(text) <= mostTyped {
			a.session.Keep(here, 0, text)
			a.read()
		} else {
			said = tooLong
		}
	}
	a.reason()
	facts, reasoning := a.session.Account().Facts, a.session.Reasoning()
	frame.Run(a.window.Runner(), jobWarm, func(ctx context.Context) error { return reasoning.Warm(ctx, facts) },
		func(error) {}) // it comes up again, where somebody waits for it
	return said, nil
}

// typed is what stands in the entry.
func (a *Area) typed() string { text, _ := a.session.Draft(here, 0); return text }

// basis is that of an answer to what is told now.
func (a *Area) basis() basis {
	s := a.session.Settings()
	return basis{a.told, a.session.Book(), s.Meter, s.Role}
}

// current reports whether the answer is one to what is told now.
func (a *Area) current() bool { return a.fits.ready && a.fits.of == a.basis() }

// tell changes what is told, so that it can be undone, and works out what fits.
func (a *Area) tell(next view.Account) {
	a.earlier = append(a.earlier, a.session.Account())
	a.put(next)
}

// undo takes the last change of what is told back.
func (a *Area) undo() {
	if n := len(a.earlier); n > 0 {
		before := a.earlier[n-1]
		a.earlier = a.earlier[:n-1]
		a.put(before)
	}
}

func (a *Area) put(next view.Account) {
	a.session.Tell(next)
	a.told++
	a.reason()
}

// reason works out what fits, then what to find out next.
func (a *Area) reason() {
	runner, of := a.window.Runner(), a.basis()
	account, reasoning := a.session.Account(), a.session.Reasoning()
	if runner.Busy(jobFits) && a.asked == of || a.current() && (a.fits.nextDone || a.fits.err != nil || runner.Busy(jobNext)) {
		return
	}
	a.asked = of
	runner.Cancel(jobNext)
	if !a.counts() {
		runner.Cancel(jobFits)
		a.fits = answer{}
		return
	}
	type found struct {
		answer
		belief *suspect.Belief
	}
	frame.Run(runner, jobFits, func(ctx context.Context) found {
		b, err := reasoning.Belief(ctx, account)
		out := found{answer{of: of, err: err, ready: true}, b}
		if err == nil {
			out.fits = view.SuspectsOf(of.book, b, of.meter)
			out.ways = view.Ways(of.book, account, out.fits)
		}
		return out
	}, func(f found) {
		a.fits = f.answer
		a.showFits()
		if f.err != nil {
			return
		}
		frame.Run(runner, jobNext, func(ctx context.Context) answer {
			next, err := reasoning.Next(ctx, account, f.belief, of.role, suspect.Clamp|suspect.LowImpedance)
			return answer{next: next, nextErr: err}
		}, func(n answer) {
			a.fits.next, a.fits.nextErr, a.fits.nextDone = n.next, n.nextErr, true
			a.showFits()
		})
	})
}

// counts reports whether anything that is told counts: it is of the vehicle as it
// stands now, and the handbook knows it.
func (a *Area) counts() bool {
	known, _ := a.session.Account().In(a.session.Book())
	return slices.ContainsFunc(known.Evidence, func(e suspect.Evidence) bool { return e.Round == known.Round() })
}

// again works out what fits once more, after that has failed.
func (a *Area) again() {
	a.fits = answer{}
	a.reason()
	a.window.Render()
}

// why says why nothing was worked out.
func why(err error) string {
	if errors.Is(err, drawn.ErrNoRig) {
		return "No vehicle of this handbook is as the facts say. Change a fact: what was read is kept."
	}
	return "This could not be worked out. What was read is kept. " + view.Sentence(err.Error())
}

// unfold asks or shows something of what is folded, or folds it.
func (a *Area) unfold(name string) {
	if a.open == name {
		name = ""
	}
	a.open = name
	a.window.Render()
}

// change tells another account and draws the page, with nothing open.
func (a *Area) change(next view.Account) {
	a.open = ""
	a.tell(next)
	a.window.Render()
}

// build draws the page.
func (a *Area) build(place.Location) frame.Page {
	a.page = newSheet(a)
	return a.page.page()
}

// showFits shows what fits, where the page is on show.
func (a *Area) showFits() {
	if a.page != nil && a.window.Here().Page == place.SuspectsPage && !a.page.building {
		a.page.update()
		a.window.Relayout()
	}
}

// begin walks a tree with what is told.
func (a *Area) begin(tree string) {
	switch out, err := a.session.BeginTold(tree, a.session.Account()); {
	case errors.Is(err, session.ErrTree):
		a.window.Go(place.Problems(), err.Error())
	case err != nil:
		a.window.Say(err.Error())
	default:
		a.window.Go(out.To, out.Said)
	}
}
