package vehicles

import (
	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// openVisit reads the visit that is given to a vehicle, and the list of all vehicles.
func (a *Area) openVisit(at place.Location) (string, error) {
	var err error
	if a.given, err = a.session.Summary(at.ID); err != nil {
		return "", session.ErrGone
	}
	return a.list(at)
}

// givePage asks of which vehicle a visit is.
func (a *Area) givePage(at place.Location) frame.Page {
	body := []fyne.CanvasObject{
		parts.Head(a.window, "Visit", "Of which vehicle is it?"),
		look.NewText(view.Sentence("“" + a.session.TreeTitle(a.given.Header.Start.Tree) + "”, " + a.session.About(a.given))),
	}
	choices := look.Stack(8)
	var chosen fyne.Focusable
	add := func(name, id string, holds bool, then place.Location) {
		answer := parts.Answer(name, holds, func() { a.give(at.ID, id, then) })
		choices.Add(answer)
		if holds {
			chosen = answer
		}
	}
	for _, v := range a.all {
		add(a.called(v), v.ID, v.Is(a.given.Vehicle), place.Vehicle(v.ID))
	}
	add("One without a name", "", chosen == nil, place.Visits())
	body = append(body, choices, look.NewSoft("It stands with the readings of that vehicle at once. Giving it back undoes that."))
	return frame.Page{Body: append(body, look.Row(12, look.NewButton("Add a vehicle", func() { a.window.Go(place.KeepVehicle("")) }), look.NewButton("Back", a.window.Back))), Focus: chosen}
}

// give makes a visit one of a vehicle, "" for one without a name, and goes on somewhere.
func (a *Area) give(visit, vehicle string, then place.Location) {
	said, err := a.session.GiveVisit(visit, vehicle)
	if err != nil {
		a.window.Say(err.Error())
		return
	}
	a.window.Go(then, said)
}

const jobGather = "visits that may be of a vehicle"

// mostGathered is how many visits are looked at, the newest.
const mostGathered = 200

// openGather reads a vehicle, and begins to read the visits on record.
func (a *Area) openGather(at place.Location) (string, error) {
	var err error
	a.others = nil
	if a.shown, err = a.session.Vehicle(at.ID); err != nil {
		return "", err
	}
	frame.Run(a.window.Runner(), jobGather, a.session.Listing(mostGathered), func(l session.Listing) {
		a.others = &l
		a.window.Render()
	})
	return a.list(at)
}

func (a *Area) stopGathering() { a.window.Runner().Cancel(jobGather) }

// gatherPage asks which visits on record are of the vehicle shown as well.
func (a *Area) gatherPage(at place.Location) frame.Page {
	v := a.shown
	body := []fyne.CanvasObject{parts.Head(a.window, "Vehicle", "Which visits are of “"+a.called(v)+"” as well?")}
	enough := look.NewPrimary("No more", func() { a.window.Go(place.Vehicle(v.ID)) })
	back := look.Row(12, enough)
	switch {
	case a.others == nil:
		return frame.Page{Body: append(body, look.NewSoft("Reading the visits on record. Leaving this page stops it."))}
	case a.others.Err != nil:
		return frame.Page{Body: append(body, look.NewText("The visits could not be listed. "+view.Sentence(view.Capital(a.others.Err.Error()))), back), Focus: enough}
	}
	rows := look.Stack(14)
	for _, l := range a.others.Lines {
		if l.Err != nil || l.Header.Practice != "" || v.Is(l.Vehicle) {
			continue
		}
		take := look.NewButton("This one, of "+l.Header.Started.Format("2 January 2006"), func() { a.give(l.ID, v.ID, place.GatherVisits(v.ID)) })
		rows.Add(look.Stack(4, look.NewStrong(a.session.TreeTitle(l.Header.Start.Tree)), look.NewSoft(a.session.About(l.Summary)), look.NewText(l.State), look.Row(8, take)))
	}
	if len(rows.Objects) == 0 {
		body = append(body, look.NewText("There is no other visit on record."))
	} else {
		body = append(body, look.NewSoft("Each stands with the readings of “"+a.called(v)+"” at once. Giving it back undoes that."), rows)
	}
	if a.others.More > 0 {
		body = append(body, look.NewSoft(view.Capital(view.Count(a.others.More, "older visit"))+" stand under Visits."))
	}
	return frame.Page{Body: append(body, back), Focus: enough}
}
