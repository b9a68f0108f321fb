package vehicles

import (
	"fyne.io/fyne/v2"

	"faultwright/faulttree/logbook"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// openWithOthers reads a vehicle and the list of all.
func (a *Area) openWithOthers(at place.Location) (string, error) {
	var err error
	if a.shown, err = a.session.Vehicle(at.ID); err != nil {
		return "", err
	}
	return a.list(at)
}

// mergePage asks which other vehicle it is, then whether both become one.
func (a *Area) mergePage(at place.Location) frame.Page {
	v := a.shown
	other, chosen := logbook.Find(a.all, at.Kind)
	if !chosen || other.ID == v.ID {
		body := []fyne.CanvasObject{parts.Head(a.window, "Vehicle", "Which other one is “"+a.called(v)+"” as well?")}
		rows := look.Row(8)
		for _, o := range a.all {
			if o.ID != v.ID {
				rows.Add(look.NewButton(a.called(o), func() { a.window.Go(place.MergeVehicle(v.ID, o.ID)) }))
			}
		}
		if len(rows.Objects) == 0 {
			body = append(body, look.NewText("There is no other one."))
		}
		return frame.Page{Body: append(body, rows, look.Row(12, look.NewButton("Back", a.window.Back)))}
	}
	body := []fyne.CanvasObject{
		look.NewQuestion("Make “" + a.called(v) + "” and “" + a.called(other) + "” one?"),
		look.NewText("The visits of both stand under “" + a.called(v) + "” from then on. What is noted of it stays; name and note of “" + a.called(other) + "” are added to its note. This cannot be undone."),
	}
	for _, id := range v.Differ(other) {
		if fact := a.session.Book().Forest.Fact(id); fact != nil {
			body = append(body, look.NewStrong("They differ: "+fact.Title+" Are they really the same vehicle?"))
		}
	}
	keep := look.NewPrimary("Keep both", a.window.Back)
	body = append(body, look.Row(12, keep, look.NewButton("Make them one", func() { a.merge(v.ID, other.ID) })))
	return frame.Page{Body: body, Focus: keep}
}

func (a *Area) merge(into, from string) {
	v, err := a.session.MergeVehicles(into, from)
	if err != nil {
		a.window.Say(err.Error())
		return
	}
	a.window.Forget(func(l place.Location) bool { return l.ID == from || l.Page == place.MergePage })
	a.window.Go(place.Vehicle(v.ID), "They are one vehicle now.")
}

// discardPage asks before a vehicle is deleted.
func (a *Area) discardPage(place.Location) frame.Page {
	v := a.shown
	keep := look.NewPrimary("Keep it", a.window.Back)
	said := "Its name, note and facts are removed from this machine. Its visits stay under Visits, unless you delete them too. This cannot be undone."
	body := []fyne.CanvasObject{look.NewQuestion("Delete “" + a.called(v) + "”?"), look.NewText(said)}
	if under := a.session.Visit(); under != nil && v.Is(under.Record().Vehicle()) {
		body = append(body, look.NewStrong("The visit under way is one of its visits."))
	}
	return frame.Page{Body: append(body, look.Row(12, keep,
		look.NewButton("Delete it, keep its visits", func() { a.discard(v, false) }),
		look.NewButton("Delete it with all its visits", func() { a.discard(v, true) }))), Focus: keep}
}

func (a *Area) discard(v logbook.Vehicle, visits bool) {
	if err := a.session.DeleteVehicle(v.ID, visits); err != nil {
		a.window.Say(err.Error())
		return
	}
	delete(a.forms, v.ID)
	a.window.Forget(func(l place.Location) bool { return l.ID == v.ID })
	a.window.Go(place.Vehicles(), "“"+v.Name+"” was deleted.")
}
