package settings

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/booklet"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// meterFields is how many entries the form of a meter has; those of meter i begin at
// entry i times as many, so that what is typed for one stays while another is looked at.
const meterFields = 8

// meters chooses among the reader's meters and edits the one in use.
func (a *Area) meters(at place.Location) []fyne.CanvasObject {
	s := a.session.Settings()
	all, now := s.All(), 0
	row := look.Row(8)
	for i, m := range all {
		if m.Name == s.Meter.Name {
			now = i
		}
		row.Add(parts.Option(meterTitle(m), m.Name == s.Meter.Name, func() { a.set(func(s *session.Settings) { s.Use(m.Name) }) }))
	}
	row.Add(look.NewButton("Another meter", func() { a.put(at, -1, another(all)) }))
	f := &meterForm{area: a, at: at, index: now}
	return []fyne.CanvasObject{look.Stack(8, look.NewCaption("My meters"), row,
		look.NewSoft("The one that is marked is used for visits begun from now on.")), f.build(all)}
}

// meterTitle is a meter as it is chosen.
func meterTitle(m session.OwnMeter) string {
	if m.LowImpedance {
		return m.Name + " · LoZ"
	}
	return m.Name
}

// another is an ordinary meter under a name that none of some has.
func another(all []session.OwnMeter) session.OwnMeter {
	m := session.OwnMeter{Meter: faulttree.DefaultMeter()}
	s := session.Settings{Meters: all}
	for n := len(all) + 1; n == len(all)+1 || s.At(m.Name) >= 0; n++ {
		m.Name = fmt.Sprintf("meter %d", n)
	}
	return m
}

// put keeps a meter, and shows it in its form as it was taken; it reports whether it
// could.
func (a *Area) put(at place.Location, index int, m session.OwnMeter) bool {
	var err error
	before := len(a.session.Settings().Meters)
	a.set(func(s *session.Settings) {
		before = len(s.All())
		err = s.Put(index, m)
	})
	if err != nil {
		a.window.Say("Not taken: " + view.Sentence(err.Error()))
		return false
	}
	if index < 0 {
		index = before
	}
	a.keep(at, index, m)
	a.window.Render()
	return true
}

// keep puts a meter into the entries of its form.
func (a *Area) keep(at place.Location, index int, m session.OwnMeter) {
	for i, text := range texts(session.FormOf(m)) {
		a.session.Keep(at, index*meterFields+i, text)
	}
}

// drop forgets the meter in use; what is typed for those behind it goes with them.
func (a *Area) drop(at place.Location, all []session.OwnMeter, index int) {
	for i := index; i+1 < len(all); i++ {
		a.keep(at, i, all[i+1])
		for n := range meterFields {
			if text, typed := a.session.Draft(at, (i+1)*meterFields+n); typed {
				a.session.Keep(at, i*meterFields+n, text)
			}
		}
	}
	a.set(func(s *session.Settings) { s.Drop(all[index].Name) })
	a.window.Say("“" + all[index].Name + "” is forgotten. Visits on record keep it.")
}

// texts are the fields of a form in their order.
func texts(f session.MeterForm) [meterFields]string {
	return [meterFields]string{f.Name, f.Counts, f.ACVolts, f.DCVolts, f.Resistance, f.Current, f.Proved, f.Booklet}
}

// meterForm edits a meter, and says of what is typed what it does.
type meterForm struct {
	area   *Area
	at     place.Location
	index  int
	fields [meterFields]*look.Field
	result *look.Prose
	told   *fyne.Container // what is understood of the booklet, and what the error does
}

func (f *meterForm) build(all []session.OwnMeter) fyne.CanvasObject {
	a := f.area
	known := texts(session.FormOf(all[f.index]))
	labels := [meterFields]string{"Name", "Counts of the display", "AC volts", "DC volts", "Ohms", "Amps", "Last proved, as 2026-05-30; a walk notes it", "Lines of its booklet, for single ranges"}
	f.result = look.NewSoft("Take these from the meter's own booklet: percent of the reading + counts, such as 1.2 + 5 or ±(1.0% + 3).")
	f.told = look.Stack(8)
	grid := look.Grid(220, 12, 3)
	for i, label := range labels {
		n := f.index*meterFields + i
		field := parts.Entry(a.window, a.session, f.at, n, known[i], known[i])
		if i == meterFields-1 {
			field = look.NewLines("AC V 600.0 V ±(1.0% + 3)", 4)
			if text, typed := a.session.Draft(f.at, n); typed {
				field.SetText(text)
			} else {
				field.SetText(known[i])
			}
			field.OnChanged = func(text string) { a.session.Keep(f.at, n, text) }
		}
		keep := field.OnChanged
		field.OnChanged = func(text string) {
			keep(text)
			f.tell()
		}
		field.OnSubmitted = func(string) { f.take() }
		f.fields[i] = field
		if i < meterFields-1 {
			grid.Add(look.Stack(4, look.NewSoft(label), field))
		}
	}
	lines := look.Stack(4, look.NewSoft(labels[meterFields-1]+": one range a line, as it stands there. They are kept as you write them."), f.fields[meterFields-1])
	buttons := look.Row(8, look.NewButton("Use this meter", f.take), look.NewButton("An ordinary meter", func() { f.ordinary(all) }))
	if len(all) > 1 {
		buttons.Add(look.NewButton("Forget this meter", func() { a.drop(f.at, all, f.index) }))
	}
	f.tell()
	return look.Stack(10, grid, lines, f.result, buttons, f.told)
}

// ordinary turns to the ordinary meter among some, or puts it among them; where it is
// the one shown, it gets its usual figures back.
func (f *meterForm) ordinary(all []session.OwnMeter) {
	m := session.OwnMeter{Meter: faulttree.DefaultMeter()}
	s := session.Settings{Meters: all}
	if at := s.At(m.Name); at >= 0 && at != f.index {
		f.area.set(func(s *session.Settings) { s.Use(m.Name) })
	} else {
		f.area.put(f.at, at, m)
	}
}

// read is the meter as it is typed.
func (f *meterForm) read() (session.OwnMeter, []booklet.Line, error) {
	t := func(i int) string { return f.fields[i].Text }
	form := session.MeterForm{Name: t(0), Counts: t(1), ACVolts: t(2), DCVolts: t(3), Resistance: t(4), Current: t(5), Proved: t(6), Booklet: t(7)}
	m, lines, err := f.area.session.ReadMeter(form)
	m.LowImpedance = f.area.session.Settings().Meter.LowImpedance
	return m, lines, err
}

// take keeps the meter that is typed, if all but its booklet can be understood.
func (f *meterForm) take() {
	m, _, err := f.read()
	if err != nil {
		f.result.SetText("Not taken: " + view.Sentence(err.Error()))
		return
	}
	if f.area.put(f.at, f.index, m) {
		f.area.window.Say("Your meter is noted.")
	}
}

// tell says what is understood of what is typed, and which limits of the handbook its
// error leaves open.
func (f *meterForm) tell() {
	m, lines, err := f.read()
	var out []fyne.CanvasObject
	for _, l := range lines {
		switch {
		case l.Refused != "":
			out = append(out, look.NewText(fmt.Sprintf("Line %d counts for nothing: %s", l.Number, view.Sentence(l.Refused))))
		case l.Whole():
			out = append(out, look.NewSoft(fmt.Sprintf("Line %d: %s %s, in place of the field.", l.Number, l.Of.Function(), l.Accuracy)))
		case l.Of != 0:
			out = append(out, look.NewSoft(fmt.Sprintf("Line %d: %s.", l.Number, joined(l.Ranges))))
		}
	}
	if book := f.area.session.Book(); err == nil && book != nil {
		out = append(out, look.NewCaption("What its error does"))
		dangers, limits := view.MeterDangers(book, m.Meter), view.MeterLimits(book, m.Meter)
		if dangers == "" {
			out = append(out, look.NewText("This handbook declares no danger limit, so nothing can be said of what the error does there."))
		} else {
			out = append(out, look.NewText("A reading counts as over a danger limit before it shows it: "+dangers+"."))
		}
		switch {
		case len(book.Forest.Trees) == 0:
			out = append(out, look.NewText("This handbook has no walk, so it compares nothing that the meter could leave undecided."))
		case len(limits) == 0:
			out = append(out, look.NewText("What this handbook compares lies at least four times its error apart."))
		default:
			out = append(out, look.NewText("These limits it cannot decide. What rests on them is said to rest on the meter:"))
		}
		for _, l := range limits {
			told := look.Stack(2, look.NewText(l.Text))
			for _, where := range l.Where {
				told.Add(look.NewSoft(where))
			}
			if l.Danger {
				out = append(out, look.NewCallout(faulttree.Danger, told))
			} else {
				out = append(out, told)
			}
		}
	}
	f.told.Objects = out
	f.told.Refresh()
}

// joined are some ranges in one sentence.
func joined(ranges []faulttree.Range) string {
	var out []string
	for _, r := range ranges {
		out = append(out, r.String())
	}
	return strings.Join(out, "; ")
}
