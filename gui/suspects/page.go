package suspects

import (
	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/fits"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// sheet is the page while it is shown: what is drawn anew when something was
// worked out, without moving the keyboard.
type sheet struct {
	a        *Area
	fits     *fyne.Container
	next     *fyne.Container
	focus    fyne.Focusable // what is asked, where something is
	building bool
}

func newSheet(a *Area) *sheet {
	return &sheet{a: a, fits: look.Stack(look.GapBlock), next: look.Stack(look.GapBlock)}
}

// leftWidth is the width of what is told, at text size 1; what fits it has the rest.
const leftWidth = 400

// page is what was told at the left, with what to find out next, and what fits it at
// the right; where there is no room beside one another what fits stands below what
// was told, and what to find out next below that.
func (s *sheet) page() frame.Page {
	s.building = true
	a := s.a
	a.page = s
	entry, field := a.entry()
	left := look.Stack(look.GapBlock, a.facts())
	for _, o := range entry {
		left.Add(o)
	}
	left.Add(look.Stack(8, look.NewCaption("Told so far"), a.table()))
	left.Add(a.more())
	right := look.Stack(look.GapBlock, s.fits, s.next)
	if a.window.Wide() {
		left.Add(s.next)
		right = look.Stack(look.GapBlock, s.fits)
	}
	body := []fyne.CanvasObject{parts.Head(a.window, "Readings in any order", "What fits these readings?")}
	body = append(body, a.alarms()...)
	body = append(body, look.Beside(leftWidth, leftWidth, 32, left, right))
	s.update()
	s.building = false
	focus := s.focus
	if focus == nil {
		focus = field
	}
	return frame.Page{Body: body, Focus: focus}
}

// danger is what readings call for at once, whatever else fits.
func (a *Area) danger() []view.Alarm {
	return view.AlarmsOf(a.session.Book(), a.account(), a.session.Settings().Meter)
}

// account is what is told, with those readings of which it is still asked how the
// vehicle stood, but which may be a danger however that was.
func (a *Area) account() view.Account {
	account, book := a.session.Account(), a.session.Book()
	if l := a.list; l.List != nil && l.book == book {
		account = account.WithDangers(book, a.session.Settings().Meter, l.reader.Possible(l.List))
	}
	return account
}

func (a *Area) alarms() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, alarm := range a.danger() {
		body := look.Stack(8, look.Numbered(alarm.Do...))
		for _, text := range alarm.Texts {
			body.Add(look.NewText(text))
		}
		if alarm.Walk.ID != "" {
			body.Add(look.NewLink("Go on with “"+alarm.Walk.Title+"” and these readings", func() { a.begin(alarm.Walk.ID) }))
		}
		out = append(out, look.NewBanner(faulttree.Danger, view.Sentence(alarm.Title), body))
	}
	return out
}

// update shows what fits and what to find out next, as far as it is worked out.
func (s *sheet) update() {
	a := s.a
	s.fits.Objects, s.next.Objects = nil, nil
	account := a.session.Account()
	found, some, current := a.work.Of(account)
	switch {
	case len(account.Evidence) == 0 && !a.work.Counts(account):
		s.fits.Add(look.Stack(8, look.NewCaption("What fits"), look.NewSoft("Once something is told, the faults that fit it stand here, and the dangers that it leaves open.")))
	case !a.work.Counts(account):
		s.fits.Add(look.NewSoft("Of what is told nothing counts: see the rows. Nothing is told of the vehicle as it stands now."))
	case !some:
		s.fits.Add(look.NewSoft("Working out what fits. The first time takes some seconds; readings can be typed meanwhile."))
	default:
		if !current {
			s.fits.Add(look.NewCallout(faulttree.Notice, look.NewText("This is of what was told before. It is being worked out anew.")))
		}
		s.showFits(found, current)
	}
	s.fits.Refresh()
	s.next.Refresh()
}

func (s *sheet) showFits(found fits.Found, current bool) {
	a := s.a
	if found.Err != nil {
		account := a.session.Account()
		said := look.Stack(8, look.NewText(a.work.Why(account, found.Err)))
		open := a.work.Leaves(account, found.Err)
		for _, l := range open {
			said.Add(look.NewLink("Leave "+l.Names+" open", func() { a.change(l.From(account)) }))
		}
		if len(open) == 0 {
			said.Add(look.NewLink("Try again", a.again))
		}
		s.fits.Add(look.NewCallout(faulttree.Caution, said))
		return
	}
	for _, o := range parts.Suspects(a.window, found.Suspects, a.folds(), place.Told) {
		s.fits.Add(o)
	}
	if len(found.Ways) > 0 {
		ways := look.Stack(8, look.NewCaption("Walk the tree with these readings"))
		for _, w := range found.Ways {
			ways.Add(look.NewLink(w.Title, func() { a.begin(w.ID) }))
		}
		s.fits.Add(ways)
	}
	if current {
		s.showNext(found)
	}
}

// folds is what of the suspects is unfolded. What is told anew folds it again.
func (a *Area) folds() parts.Folds { return folds{a} }

type folds struct{ a *Area }

func (f folds) Open(name string) bool { return f.a.open == "fold "+name }

func (f folds) Unfold(name string) { f.a.unfold("fold " + name) }
