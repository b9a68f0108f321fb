package scenarios

import (
	"context"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// form is the page while it is shown: what is told anew while somebody types.
type form struct {
	a        *Area
	at       place.Location
	m        *making
	choices  scenes.FormChoices
	beside   *beside
	problems map[string]*look.Prose // by field
	missing  *look.Prose
	save     []*look.Button
	check    *fyne.Container           // what was found of it, and the button that checks it
	checked  checked                   // what check shows
	controls map[string]fyne.Focusable // by name, to give the keyboard back
}

// page is the form, and what a meter would read beside it or, where there is no room,
// under what is hidden.
func (a *Area) page(at place.Location) frame.Page {
	m := a.made[at.ID]
	if m == nil { // only while a handbook is being taken over
		return a.window.Missing("There is no such scenario.")
	}
	f := &form{a: a, at: at, m: m, choices: m.form.Choices(a.book), beside: newBeside(a, m), problems: map[string]*look.Prose{}, controls: map[string]fyne.Focusable{}}
	body := []fyne.CanvasObject{parts.Head(a.window, "Practice · for instructors", f.heading())}
	body = append(body, f.start()...)
	body = append(body, f.asked("Title", "Title", f.line("title", "such as: Lamps that dance", &m.form.Title)), f.vehicle())
	if m.form.Rig != "" {
		body = append(body, f.hidden(), f.meter())
	}
	body = append(body, f.beside.circuit())
	var side []fyne.CanvasObject
	if a.window.Wide() {
		side = []fyne.CanvasObject{f.beside.panel()}
	} else {
		body = append(body, f.beside.panel())
	}
	if m.form.Rig != "" {
		body = append(body, f.loads(), f.switches())
	}
	body = append(body, f.learner(),
		f.asked("Story", "The story, as the customer tells it; an empty line begins a paragraph", f.lines("story", "Since noon the lamps dance.", 8, &m.form.Story)))
	if m.form.Rig != "" {
		body = append(body, f.seen())
	}
	body = append(body,
		f.asked("Answer", "The answer: what it was, and which readings show it", f.lines("answer", "It is shown in the end.", 5, &m.form.Answer)))
	f.check = look.Stack(0)
	if a.window.Wide() {
		side = append(side, f.check)
	} else {
		body = append(body, f.check)
	}
	p := frame.Page{Body: body, Side: side, Foot: f.foot(), Focus: f.controls[m.focus]}
	f.tell()
	return p
}

func (f *form) heading() string {
	if title := f.m.title(); title != "" && (f.at.ID != "" || f.m.path != "") {
		return "Change “" + title + "”"
	}
	return "Make a scenario"
}

// start is what a scenario can be begun with, and what else is being made.
func (f *form) start() []fyne.CanvasObject {
	a := f.a
	out := []fyne.CanvasObject{look.NewSoft("What you type stays here while you look elsewhere. Learners get it as a file, once you have saved it. This page shows the answer.")}
	if f.at.ID == "" && !f.m.changed && f.m.path == "" {
		var names, ids []string
		for _, s := range view.Scenarios(a.session.Book()) {
			names, ids = append(names, s.Title), append(ids, s.ID)
		}
		list := look.NewSelect(names, -1, func(i int) {
			if i >= 0 {
				a.window.Go(place.Form(ids[i]))
			}
		})
		list.PlaceHolder = "one of the handbook"
		out = append(out, look.Grid(300, 14, 2, look.Labelled("Begin with a copy of", list)), look.Row(12, look.NewButton("Open a scenario from a file", a.openFile)))
	}
	for _, o := range a.others(f.at.ID) {
		out = append(out, look.NewLink("Not saved yet: go on with “"+o.Text+"”", func() { a.window.Go(place.Form(o.ID)) }))
	}
	return out
}

// asked is a field under its caption, with room for what is wrong with it.
func (f *form) asked(field, caption string, all ...fyne.CanvasObject) fyne.CanvasObject {
	p := look.NewProse()
	p.Hide()
	f.problems[field] = p
	out := look.Stack(6, look.NewCaption(caption))
	for _, o := range all {
		out.Add(o)
	}
	out.Add(p)
	return out
}

// typed keeps what was typed, and says what is wrong with it now.
func (f *form) typed(name string) {
	f.m.changed, f.m.focus, f.m.taken, f.m.drop = true, name, "", false
	f.tell()
	f.a.keepSoon()
}

// chosen keeps what was chosen and shows the page with it; the keyboard stays where it
// was.
func (f *form) chosen(name string) {
	f.m.changed, f.m.focus, f.m.taken, f.m.drop = true, name, "", false
	f.a.Keep()
	f.a.window.Render()
}

// tell says under each field what is wrong with it, and whether the scenario can be
// saved and checked.
func (f *form) tell() {
	_, text, problems := f.m.form.Scenario(context.Background(), f.a.book)
	moved := f.tellCheck(text)
	texts := map[string][]string{}
	for _, p := range problems {
		texts[p.Field] = append(texts[p.Field], p.Text)
	}
	for field, line := range f.problems {
		text, was := strings.Join(texts[field], " "), line.Visible()
		if line.Plain() != text {
			parts.ShowText(line, text)
			moved = true
		}
		moved = moved || was != line.Visible()
	}
	missing := ""
	if len(problems) > 0 {
		missing = "Before it can be saved: " + problems[0].Text
		if n := len(problems) - 1; n > 0 {
			missing += " And " + view.Count(n, "thing") + " more, told at the fields."
		}
	}
	parts.ShowText(f.missing, missing)
	for _, b := range f.save {
		parts.Enable(b, len(problems) == 0)
	}
	if moved {
		f.a.window.Relayout()
	}
}

// checked is what the part about the check depends on.
type checked struct{ shown, can, stale, running bool }

// tellCheck says what was found by a check, and lets a scenario be checked that lacks
// nothing now. It reports whether that looks otherwise than before.
func (f *form) tellCheck(text string) bool {
	c := f.m.check
	now := checked{shown: true, can: text != "", stale: c.of != "" && c.of != text, running: c.running}
	if now == f.checked {
		return false
	}
	f.checked = now
	f.check.Objects = []fyne.CanvasObject{f.a.checking(f.m, text)}
	f.check.Refresh()
	return true
}

// line is a field of one line.
func (f *form) line(name, hint string, text *string) *look.Field {
	return f.field(name, f.a.window.Field(hint), text)
}

// lines is a field of several; Enter begins a line.
func (f *form) lines(name, hint string, rows int, text *string) *look.Field {
	field := look.NewLines(hint, rows)
	f.a.window.Adopt(field)
	field.OnSubmitted = func(string) { field.Entry.TypedRune('\n') }
	return f.field(name, field, text)
}

func (f *form) field(name string, field *look.Field, text *string) *look.Field {
	field.SetText(*text)
	field.Most, field.OnTooLong = load.MostScenario, func() {
		f.a.window.Say("What you pasted is longer than a scenario may be, so it was left out.")
	}
	field.OnChanged = func(now string) {
		*text = now
		f.typed(name)
	}
	f.controls[name] = field
	return field
}

// list is one of several, by title.
func (f *form) list(name, hint string, all []view.Choice, id string, choose func(id string)) fyne.CanvasObject {
	names := make([]string, len(all))
	for i, c := range all {
		names[i] = c.Text
	}
	list := look.NewSelect(names, slices.IndexFunc(all, func(c view.Choice) bool { return c.ID == id }), func(i int) {
		if i >= 0 && all[i].ID != id {
			choose(all[i].ID)
			f.chosen(name)
		}
	})
	list.PlaceHolder = hint
	f.controls[name] = list
	box := look.NewPanel(list)
	box.Padding, box.Radius = 1, 8
	return box
}

// box is something that is so or not.
func (f *form) box(name, text string, on bool, turn func(on bool)) fyne.CanvasObject {
	box := look.NewCheck(text, on, func(on bool) {
		turn(on)
		f.typed(name)
	})
	f.controls[name] = box
	return box
}

// learner is who the scenario is for, and what it is.
func (f *form) learner() fyne.CanvasObject {
	x := &f.m.form
	out := look.Stack(12, look.Grid(300, 14, 2,
		f.asked("Role", "The learner practises as", f.list("role", "choose", f.choices.Roles, x.Role.String(), func(id string) {
			x.Role = faulttree.Owner
			if id == faulttree.Qualified.String() {
				x.Role = faulttree.Qualified
			}
		})),
		f.asked("Tree", "The walk that belongs to it", f.list("tree", "choose the vehicle first", f.choices.Trees, x.Tree, func(id string) { x.Tree = id }))),
		f.asked("Lesson", "What is learnt from it; may stay empty", f.lines("lesson", "such as: read under load", 2, &x.Lesson)))
	out.Add(look.Compact(look.Stack(0,
		f.box("misleads", "The story points elsewhere", x.Misleads, func(on bool) { x.Misleads = on }),
		f.box("shock", "Somebody in the story was shocked, or felt a tingle", x.Shock, func(on bool) { x.Shock = on }))))
	return out
}

// seen is what the story says was seen, all that can be said once that is asked for.
func (f *form) seen() fyne.CanvasObject {
	m := f.m
	out := look.Stack(6, look.NewCaption("What the story says was seen"),
		look.NewSoft("Hints and marks count it as told: it makes faults more or less likely, and rules none out."))
	for _, s := range f.choices.Seen {
		said := slices.IndexFunc(s.Choices, func(c view.Choice) bool { return c.ID == m.form.Seen[s.ID] })
		switch {
		case m.seen:
			out.Add(look.NewSoft(s.Title))
			out.Add(f.list("seen "+s.ID, "", s.Choices, m.form.Seen[s.ID], func(id string) { m.form = m.form.WithSeen(s.ID, id) }))
		case said > 0:
			out.Add(look.NewText(s.Title + " " + s.Choices[said].Text))
		}
	}
	if !m.seen && len(f.choices.Seen) > 0 {
		out.Add(look.NewLink("Say what the customer saw", func() { m.seen = true; f.a.window.Render() }))
	}
	return out
}

// foot saves the scenario, and says what that lacks.
func (f *form) foot() fyne.CanvasObject {
	a, m := f.a, f.m
	f.missing = look.NewSoft("")
	row := look.Row(12)
	button := func(b *look.Button) { f.save, row.Objects = append(f.save, b), append(row.Objects, b) }
	switch {
	case m.taken != "":
		over := look.NewPrimary("Write over that file", func() { a.save(m, m.taken, true) })
		f.controls["over"] = over
		button(over)
	case m.path != "":
		button(look.NewPrimary("Save", func() { a.save(m, m.path, true) }))
	}
	if m.path == "" && m.taken == "" {
		button(look.NewPrimary("Save as a file", func() { a.saveInFolder(m) }))
	} else {
		button(look.NewButton("Save in another folder", func() { a.saveInFolder(m) }))
	}
	if m.changed && m.drop {
		row.Add(look.NewButton("Keep it", func() { f.ask(false) }))
		row.Add(look.NewButton("Throw it away for good", func() { a.dropped(f.at) }))
	} else if m.changed {
		row.Add(look.NewButton("Throw it away", func() { f.ask(true) }))
	} else if f.at.ID == "" && m.path != "" {
		row.Add(look.NewButton("Make another", func() { a.another() }))
	}
	row.Add(look.NewButton("Back", a.window.Back))
	return look.Stack(8, f.missing, row)
}

// ask asks whether what was typed is to be thrown away.
func (f *form) ask(drop bool) {
	f.m.drop = drop
	f.a.window.Render()
}

// another begins a new scenario after one was saved.
func (a *Area) another() {
	delete(a.made, "")
	a.window.Return("")
	a.window.ScrollTop()
}
