package scenarios

import (
	"fmt"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/gui/look"
)

// vehicle is which vehicle it is.
func (f *form) vehicle() fyne.CanvasObject {
	return f.asked("Rig", "The vehicle and its supply", f.list("rig", "choose one", f.choices.Rigs, f.m.form.Rig, func(id string) {
		f.m.form = f.m.form.WithRig(f.a.book, id)
	}))
}

// mostFaults is how many faults a scenario hides.
const mostFaults = 2

// hidden is the faults, each with its place and how bad it is, and a way to add one.
func (f *form) hidden() fyne.CanvasObject {
	all := make([]fyne.CanvasObject, 0, mostFaults+1)
	for i := range f.m.form.Faults {
		all = append(all, f.fault(i))
	}
	if len(all) < mostFaults {
		hint := "nothing is wrong with the vehicle; add a fault"
		if len(all) > 0 {
			hint = "add a second fault"
		}
		all = append(all, f.list("add", hint, f.choices.Faults, "", func(id string) { f.m.form = f.m.form.WithFault(f.a.book, id) }))
	}
	return f.asked("Faults", "What is wrong with it, hidden from the learner", all...)
}

// fault is one fault of it.
func (f *form) fault(i int) fyne.CanvasObject {
	x, name := f.m.form.Faults[i], fmt.Sprint("fault ", i)
	title := x.Fault
	if k := slices.IndexFunc(f.choices.Faults, func(c view.Choice) bool { return c.ID == x.Fault }); k >= 0 {
		title = f.choices.Faults[k].Text
	}
	out := look.Stack(10, look.NewStrong(title))
	if places := f.choices.Places[i]; len(places) > 1 {
		out.Add(look.Labelled("Where", f.list(name+" place", "choose where it sits", places, strconv.Itoa(x.Variant), func(id string) {
			f.change(i, func(x *scenes.FormFault) { x.Variant, _ = strconv.Atoi(id) }) // the choices are numbers
		})))
	} else if len(places) == 1 {
		out.Add(look.NewSoft("Where: " + places[0].Text))
	}
	if dial := f.choices.Severity[i]; dial != nil {
		turn := look.NewDial(dial.Title, dial.Text(), dial.Share())
		turn.OnChanged = func(share float64) {
			f.m.form = f.m.form.Turned(f.a.book, i, share)
			if now := f.m.form.Choices(f.a.book).Severity[i]; now != nil {
				turn.SetValue(now.Text())
			}
			f.beside.update()
			f.typed(name + " dial")
			f.a.window.Relayout()
		}
		f.controls[name+" dial"] = turn.Focusable()
		out.Add(turn)
	}
	out.Add(look.Row(12, look.NewButton("Take this fault out", func() {
		f.m.form.Faults = slices.Delete(slices.Clone(f.m.form.Faults), i, i+1)
		f.chosen("add")
	})))
	return look.NewPanel(out)
}

// change changes a fault of the form.
func (f *form) change(i int, do func(*scenes.FormFault)) {
	f.m.form.Faults = slices.Clone(f.m.form.Faults)
	do(&f.m.form.Faults[i])
}

// meter is a mistake with the meter.
func (f *form) meter() fyne.CanvasObject {
	return f.asked("Meter", "A mistake with the meter", f.list("meter", "none", f.choices.Meter, f.m.form.Meter, func(id string) { f.m.form.Meter = id }))
}

// loads is what is switched on, by leg.
func (f *form) loads() fyne.CanvasObject {
	grid := look.Grid(160, 12, 3)
	for _, leg := range f.choices.Legs {
		field := f.a.window.Field("as usual")
		field.SetText(f.m.form.Loads[leg.ID])
		field.OnChanged = func(text string) {
			if f.m.form.Loads == nil {
				f.m.form.Loads = map[string]string{}
			}
			f.m.form.Loads[leg.ID] = text
			f.beside.update()
			f.typed("load " + leg.ID)
		}
		f.controls["load "+leg.ID] = field
		grid.Add(look.Labelled(leg.Text, field))
	}
	return f.asked("Loads", "Loads in watts; empty is as this vehicle usually has them", grid)
}

// switches is what the learner may throw.
func (f *form) switches() fyne.CanvasObject {
	out := look.Stack(0)
	for _, s := range f.choices.Switches {
		out.Add(f.box("may "+s.ID, s.Text, slices.Contains(f.m.form.May, s.ID), func(on bool) {
			f.m.form.May = slices.DeleteFunc(slices.Clone(f.m.form.May), func(id string) bool { return id == s.ID })
			if on {
				f.m.form.May = append(f.m.form.May, s.ID)
			}
		}))
	}
	return f.asked("May", "What the learner may throw", look.Compact(out))
}
