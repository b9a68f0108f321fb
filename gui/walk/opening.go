package walk

import (
	"fmt"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// firstMinute is the caution that the opening view leads to; liveWork is that
// of the first start.
const firstMinute, liveWork = "first-minute", "live-work"

// welcomePage is the first start: the live-work caution, then the role.
func (a *Area) welcomePage(place.Location) frame.Page {
	var body []fyne.CanvasObject
	if c := a.session.Book().Cautions[liveWork]; c != nil {
		body = append(body, look.NewBanner(c.Signal, view.Sentence(c.Title), parts.Blocks(a.window, c.Body)))
	}
	choose := func(r faulttree.Role) func() {
		return func() {
			var said string
			if err := a.session.Set(func(s *session.Settings) { s.Role, s.Welcomed = r, true }); err != nil {
				said = err.Error()
			}
			a.window.Go(place.Opening(), said)
		}
	}
	body = append(body,
		look.NewQuestion("Who will take the readings?"),
		look.Grid(300, 14, 2,
			look.NewChoice(1, "I own or use the vehicle", "Nothing will be asked that means opening an enclosure or a panel.", choose(faulttree.Owner)),
			look.NewChoice(2, "I am qualified for this work", "Licensed, or otherwise qualified to work inside energised enclosures.", choose(faulttree.Qualified)),
		),
		look.NewSoft("This can be changed in the settings. Local codes and licensed practice outrank this handbook. Nothing is ever sent from this machine."),
	)
	return frame.Page{Body: body}
}

// openingPage asks what is happening.
func (a *Area) openingPage(place.Location) frame.Page {
	book := a.session.Book()
	var body []fyne.CanvasObject
	if c := book.Cautions[firstMinute]; c != nil {
		body = append(body, look.NewSignLine(c.Signal, a.window.Follow,
			look.Run{Text: view.Sentence(c.Title) + " "},
			look.Run{Text: "What to do", Color: look.ColorInk, Target: "caution:" + firstMinute}))
	}
	if n := len(book.Diagnostics); n > 0 {
		body = append(body, look.NewCallout(faulttree.Warning, parts.LinkLine(a.window,
			fmt.Sprintf("The handbook in use has %s and cannot be trusted there. ", view.Count(n, "problem")), "Look where", place.Problems())))
	}
	body = append(body, look.NewQuestion("What is happening?"))
	if line := a.unfinishedLine(); line != nil {
		body = append(body, line)
	}
	body = append(body, a.whose()...)
	if row := a.readWith(); row != nil {
		body = append(body, row)
	}
	grid := look.Grid(250, 14, 3)
	for _, o := range view.Openings(book) {
		grid.Add(look.NewChoice(o.Digit, o.Title, o.Text, func() { a.take(o) }))
	}
	if len(grid.Objects) == 0 {
		body = append(body, look.NewText("This handbook has no openings. Its documents can be read under Handbook."))
	}
	return frame.Page{Body: append(body, grid)}
}

// readWith chooses the meter of the visit that is begun; nil where there is but one.
func (a *Area) readWith() fyne.CanvasObject {
	s := a.session.Settings()
	all := s.All()
	if len(all) < 2 {
		return nil
	}
	row := look.Row(8, look.NewSoft("Read with:"))
	for _, m := range all {
		row.Add(parts.Option(m.Name, m.Name == s.Meter.Name, func() {
			if err := a.session.Set(func(s *session.Settings) { s.Use(m.Name) }); err != nil {
				a.window.Say(err.Error())
			}
			a.window.Render()
		}))
	}
	return row
}

// take begins the walk that a choice of the opening view leads to, or shows
// what it leads to instead.
func (a *Area) take(o view.Opening) {
	if o.Open.Kind == view.KindTree {
		a.begin(faulttree.Ref{Tree: o.Open.ID})
		return
	}
	a.window.Go(place.Link(o.Open))
}

// unfinished is what is known of the newest visit that has not ended.
type unfinished struct {
	visit store.Summary
	found bool
	err   error // why visits could not be looked at
}

// mostLookedAt is how many of the newest visits are looked at for one that has
// not ended.
const mostLookedAt = 5

const jobUnfinished = "unfinished"

// lookForUnfinished finds the newest visit that has not ended: the one under
// way, or one on record, which takes a moment to read.
func (a *Area) lookForUnfinished(place.Location) (string, error) {
	a.unfinished = unfinished{}
	if a.unfinished.visit, a.unfinished.found = a.session.Unfinished(); a.unfinished.found || a.session.Book() == nil {
		return "", nil
	}
	frame.Run(a.window.Runner(), jobUnfinished, a.session.Listing(mostLookedAt), func(l session.Listing) {
		a.unfinished.err = l.Err
		for _, s := range l.Lines {
			if s.Err == nil && s.Answers > 0 && !s.Ended && s.Header.Practice == "" {
				a.unfinished.visit, a.unfinished.found = s.Summary, true
				break
			}
		}
		if a.unfinished.found || a.unfinished.err != nil {
			a.window.Render()
		}
	})
	return "", nil
}

func (a *Area) stopLooking() { a.window.Runner().Cancel(jobUnfinished) }

// unfinishedLine leads back to the visit that has not ended; nil if there is
// none.
func (a *Area) unfinishedLine() fyne.CanvasObject {
	u := a.unfinished
	switch {
	case u.err != nil:
		return look.NewSoft("The visits on record could not be listed: " + view.Sentence(u.err.Error()))
	case !u.found:
		return nil
	}
	about := "Unfinished: “" + a.session.TreeTitle(u.visit.Header.Start.Tree) + "”, " + a.session.About(u.visit)
	if u.visit.Answers > 0 { // none yet in a test after repair does not mean that there are none
		about += ", " + view.Count(u.visit.Answers, "answer")
	}
	p := parts.LinkLine(a.window, about+". ", "Go on", place.Walk(u.visit.ID, u.visit.Answers))
	p.Ink = look.ColorSoftInk
	return p
}

// whose says which vehicle a visit is begun for, and leads to another one; nothing where
// vehicles are not kept.
func (a *Area) whose() []fyne.CanvasObject {
	if !a.session.KeepsVehicles() {
		return nil
	}
	const choose, none = "choose", "none"
	line := look.NewProse(look.Run{Text: "Visits begin for a vehicle without a name. "}, look.Run{Text: "Choose or name one", Target: choose})
	if v, ok := a.session.InHand(); ok {
		line = look.NewProse(look.Run{Text: "Visits begin for “" + a.session.Called(v) + "”. "}, look.Run{Text: "Another one", Target: choose},
			look.Run{Text: ", "}, look.Run{Text: "one without a name", Target: none})
	}
	line.Ink = look.ColorSoftInk
	line.OnTapped = func(target string) {
		if target == choose {
			a.window.Go(place.Vehicles())
			return
		}
		if err := a.session.TakeInHand(""); err != nil {
			a.window.Say(err.Error())
			return
		}
		a.window.Render()
	}
	return []fyne.CanvasObject{line}
}

// pedestalPage offers the checks of a pedestal.
func (a *Area) pedestalPage(place.Location) frame.Page {
	book := a.session.Book()
	body := append([]fyne.CanvasObject{look.NewQuestion("Which receptacle does the vehicle plug into?")}, a.whose()...)
	grid := look.Grid(300, 14, 2)
	for _, l := range view.PedestalChecks(book) {
		t := book.Forest.Tree(l.ID)
		grid.Add(look.NewChoice(len(grid.Objects)+1, t.Title, t.Summary, func() { a.begin(faulttree.Ref{Tree: l.ID}) }))
	}
	if len(grid.Objects) == 0 {
		body = append(body, look.NewText("This handbook has no check of a pedestal."))
	}
	body = append(body, grid, look.NewSoft("Readings can be given one at a time, or all on one page in any order."))
	return frame.Page{Body: body}
}
