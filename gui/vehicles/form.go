package vehicles

import (
	"errors"
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/logbook"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// form is a vehicle as it is typed.
type form struct {
	v       logbook.Vehicle
	changed bool             // something is typed and not kept
	chosen  string           // the choice pressed last, which has the keyboard; "" for none
	now     *logbook.Vehicle // what another window has kept meanwhile
}

// openForm reads the vehicle that is changed. What was typed of it and not kept stays.
func (a *Area) openForm(at place.Location) (string, error) {
	if f := a.forms[at.ID]; f != nil && f.changed {
		return "These are your changes, which were not kept yet.", nil
	}
	f := &form{}
	if at.ID != "" {
		var err error
		if f.v, err = a.session.Vehicle(at.ID); err != nil {
			return "", err
		}
	}
	a.forms[at.ID] = f
	return "", nil
}

// formPage adds a vehicle, or changes one.
func (a *Area) formPage(at place.Location) frame.Page {
	f := a.forms[at.ID]
	if f == nil {
		return a.window.Missing(view.Sentence(session.ErrNoVehicle.Error()))
	}
	head := "A vehicle of your own"
	if at.ID != "" {
		head = "Change “" + f.v.Name + "”"
	}
	name := a.field(f, "Such as Willow, or the plate", f.v.Name, func(text string) { f.v.Name = text })
	meter := a.field(f, a.session.Settings().Meter.Name, f.v.Meter, func(text string) { f.v.Meter = text })
	note := look.NewLines("What is worth remembering of it", 3)
	a.window.Adopt(note)
	note.SetText(f.v.Note)
	note.OnChanged = func(text string) { f.v.Note, f.changed = text, true }
	keep := func() { a.keep(at, f) }
	for _, field := range []*look.Field{name, meter, note} {
		field.OnSubmitted = func(string) { keep() }
	}
	var focus fyne.Focusable = name
	body := []fyne.CanvasObject{parts.Head(a.window, "Vehicle", head)}
	if f.now != nil {
		body = append(body, look.NewCallout(faulttree.Notice, look.Stack(4, look.NewStrong("Another window has kept this meanwhile:"), a.words(*f.now))))
	}
	body = append(body, look.MaxWidth(640, false, look.Stack(12,
		look.Stack(4, look.NewStrong("Name"), name), look.Stack(4, look.NewStrong("Note"), note), look.Stack(4, look.NewStrong("The meter it is read with"), meter))))
	for _, fact := range a.session.Book().Forest.Facts {
		if fact.Lasting {
			choices, chosen := a.fact(f, fact)
			body = append(body, choices)
			if chosen != nil {
				focus = chosen
			}
		}
	}
	aboard := look.Stack(4, look.NewStrong("Aboard"))
	for _, e := range logbook.AllEquipment() {
		aboard.Add(look.NewCheck(e.Title, f.v.Has(e.ID), func(on bool) {
			f.v.Aboard = slices.DeleteFunc(slices.Clone(f.v.Aboard), func(id string) bool { return id == e.ID })
			if on {
				f.v.Aboard = append(f.v.Aboard, e.ID)
			}
			f.changed = true
		}))
	}
	for _, note := range view.AboardNotes(a.session.Book()) {
		aboard.Add(look.NewSoft(note))
	}
	body = append(body, aboard, look.NewSoft("An adapter in use, and what feeds the vehicle, may change from visit to visit: a walk asks for them each time."))
	foot := look.Row(12, look.NewPrimary("Keep it", keep), look.NewButton("Do not keep it", func() {
		delete(a.forms, at.ID)
		a.window.Back()
	}))
	return frame.Page{Body: body, Foot: foot, Focus: focus}
}

// field is an entry of one line of the form.
func (a *Area) field(f *form, hint, text string, typed func(string)) *look.Field {
	out := a.window.Field(hint)
	out.SetText(text)
	out.OnChanged = func(text string) {
		typed(text)
		f.changed = true
	}
	return out
}

// fact is what is known of the vehicle without a meter, and the choice of it that was
// pressed last, nil for none.
func (a *Area) fact(f *form, fact faulttree.Fact) (all fyne.CanvasObject, pressed fyne.Focusable) {
	name := func(choice string) string { return fact.ID + " " + choice }
	set := func(choice string) func() {
		return func() {
			facts := map[string]string{}
			for id, c := range f.v.Facts {
				facts[id] = c
			}
			facts[fact.ID] = choice
			f.v.Facts, f.changed, f.chosen = facts, true, name(choice)
			a.window.Render()
		}
	}
	out := look.Stack(4, look.NewStrong(fact.Title))
	add := func(text string, holds bool, choice string) {
		answer := parts.Answer(text, holds, set(choice))
		out.Add(answer)
		if f.chosen == name(choice) {
			pressed = answer
		}
	}
	for _, c := range fact.Choices {
		add(c.Text, f.v.Facts[fact.ID] == c.ID, c.ID)
	}
	add("Not known yet: a walk asks for it", !fact.Has(f.v.Facts[fact.ID]), "")
	return out, pressed
}

// words is a vehicle in lines.
func (a *Area) words(v logbook.Vehicle) fyne.CanvasObject {
	out := look.Stack(2, look.NewText(v.Name))
	for _, text := range append(view.KnownOf(a.session.Book(), v), view.AboardOf(v), v.Meter, v.Note) {
		if text != "" {
			out.Add(look.NewText(text))
		}
	}
	return out
}

// keep puts what is typed on disk, or says why not; then all of it is still there.
func (a *Area) keep(at place.Location, f *form) {
	kept, err := a.session.KeepVehicle(f.v)
	if err != nil {
		f.v, f.now = kept, nil
		if errors.Is(err, session.ErrChanged) {
			if now, err := a.session.Vehicle(at.ID); err == nil {
				f.now = &now
			}
		}
		a.window.Say(err.Error())
		return
	}
	delete(a.forms, at.ID)
	if at.ID == "" {
		if err := a.session.TakeInHand(kept.ID); err != nil {
			a.window.Go(place.Vehicle(kept.ID), "“"+kept.Name+"” is kept.", err.Error())
			return
		}
	}
	a.window.Forget(func(l place.Location) bool { return l.Page == place.KeepPage })
	said := []string{"“" + kept.Name + "” is kept."}
	if called := a.session.Called(kept); called != kept.Name {
		said = append(said, "Another vehicle of yours has the same name, so this one stands as “"+called+"”.")
	}
	a.window.Go(place.Vehicle(kept.ID), said...)
}
