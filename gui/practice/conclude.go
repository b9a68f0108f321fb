package practice

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
)

// conclude is the page on which a learner says what the readings tell. All is
// chosen, so that the keyboard alone is enough.
type conclude struct {
	a     *Area
	t     *trying
	form  scenes.Conclude
	focus map[string]fyne.Focusable // by name, to give the keyboard back
}

func newConclude(a *Area, t *trying) *conclude {
	return &conclude{a, t, scenes.ConcludeOf(a.session.Book(), t.scenario, t.c, t.attempt(), t.draft), map[string]fyne.Focusable{}}
}

func (c *conclude) page() frame.Page {
	t := c.t
	body := []fyne.CanvasObject{parts.Head(c.a.window, "Practice · "+t.scenario.Title, "What do you conclude?")}
	means := look.NewSoft(strings.Join(c.form.Means, "\n"))
	means.Room = mostMeans
	body = append(body, c.asked("What is wrong", look.Stack(8,
		c.list("fault", "choose a fault", c.form.Faults, t.fault(0), func(id string) { t.name(0, id) }),
		c.list("other", nothingMore, c.more(), t.fault(1), func(id string) { t.name(1, id) }), means)))
	if !slices.Contains(t.draft.Faults, practice.NoFault) {
		body = append(body, c.asked("Where", c.options("place", c.form.Places, string(t.draft.Place), func(id string) { t.draft.Place = faulttree.Place(id) })))
	}
	body = append(body, c.asked("Which of your readings decided it", c.deciding()), c.asked("How sure are you", c.sure()))
	body = append(body, c.asked("Which dangers are still open", c.open()))
	body = append(body,
		c.asked("What is to be done now", c.options("do", c.form.Do, t.draft.Do, func(id string) { t.draft.Do = id })),
		c.asked("Who repairs it", c.options("by", c.form.RepairBy, t.draft.RepairBy, func(id string) { t.draft.RepairBy = id })),
		c.asked("What you tell the customer", c.tell()))
	take := look.NewPrimary("Conclude so", c.take)
	parts.Enable(take, len(c.form.Missing) == 0)
	missing := ""
	if len(c.form.Missing) > 0 {
		missing = "Say yet: " + strings.Join(c.form.Missing, ", ") + "."
	}
	foot := look.Stack(8, look.NewSoft(missing), look.Row(12, take, look.NewButton("Back to the vehicle", func() { c.a.to(t, working) })))
	p := frame.Page{Body: body, Foot: foot, Focus: c.focus[t.focus]}
	if p.Focus == nil {
		p.Focus = c.focus["fault"]
	}
	return p
}

// mostMeans is for how many lines about the faults that are named room is kept.
const mostMeans = 2

// asked is a question with its choices.
func (c *conclude) asked(question string, o fyne.CanvasObject) fyne.CanvasObject {
	return look.Stack(8, look.NewCaption(question), o)
}

// chosen has on record what was chosen and shows the page with it; the keyboard stays
// where it was.
func (c *conclude) chosen(name string) {
	c.t.focus = name
	c.a.keep(c.t)
	c.a.window.Render()
}

const nothingMore = "and also, or instead: nothing more"

// more is what can be named beside a first fault; nothing, that it can be taken out again.
func (c *conclude) more() []view.Choice {
	out := slices.DeleteFunc(slices.Clone(c.form.Faults), func(f view.Choice) bool { return f.ID == practice.NoFault })
	return append([]view.Choice{{Text: nothingMore}}, out...)
}

// list is a long list of faults.
func (c *conclude) list(name, hint string, faults []view.Choice, id string, choose func(id string)) fyne.CanvasObject {
	names := lists.Each(faults, func(f view.Choice) string { return f.Text })
	at := slices.IndexFunc(faults, func(f view.Choice) bool { return id != "" && f.ID == id })
	list := look.NewSelect(names, at, func(i int) {
		if i >= 0 {
			choose(faults[i].ID)
			c.chosen(name)
		}
	})
	list.PlaceHolder = hint
	c.focus[name] = list
	box := look.NewPanel(list)
	box.Padding, box.Radius = 1, 8
	return box
}

// options are a few choices of which one holds.
func (c *conclude) options(name string, all []view.Choice, id string, choose func(id string)) fyne.CanvasObject {
	out := look.Stack(2)
	for _, x := range all {
		n := parts.Answer(x.Text, x.ID == id, func() {
			choose(x.ID)
			c.chosen(name + x.ID)
		})
		c.focus[name+x.ID] = n
		out.Add(n)
	}
	return out
}

// deciding lists the learner's own readings, to be picked from.
func (c *conclude) deciding() fyne.CanvasObject {
	if len(c.form.Readings) == 0 {
		return look.NewSoft("You took no readings.")
	}
	out := look.Stack(0)
	for _, r := range c.form.Readings {
		box := look.NewCheck(r.Text, slices.Contains(c.t.draft.Deciding, r.Act), func(on bool) {
			c.t.draft.Deciding = slices.DeleteFunc(slices.Clone(c.t.draft.Deciding), func(i int) bool { return i == r.Act })
			if on {
				c.t.draft.Deciding = append(c.t.draft.Deciding, r.Act)
				slices.Sort(c.t.draft.Deciding)
			}
			c.chosen("read" + r.Text)
		})
		c.focus["read"+r.Text] = box
		out.Add(box)
	}
	return look.Compact(out)
}

func (c *conclude) sure() fyne.CanvasObject {
	all := slices.Clone(c.form.Sure)
	for i := range all {
		all[i].ID = string(rune('0' + i))
	}
	return c.options("sure", all, string(rune('0'+int(c.t.draft.Sure))), func(id string) { c.t.draft.Sure = practice.Sureness(id[0] - '0') })
}

// open lists the dangers that are named as still open, and offers others.
func (c *conclude) open() fyne.CanvasObject {
	out := look.Stack(6)
	named := func(id string) bool { return slices.Contains(c.t.draft.Open, faulttree.ParseFaultAt(id)) }
	var names, ids []string
	for _, d := range c.form.Dangers {
		at := faulttree.ParseFaultAt(d.ID)
		if !named(d.ID) {
			names, ids = append(names, d.Text), append(ids, d.ID)
			continue
		}
		out.Add(look.NewNav("Named as open: "+d.Text+". Take it out", func() {
			c.t.draft.Open = slices.DeleteFunc(slices.Clone(c.t.draft.Open), func(o faulttree.FaultAt) bool { return o == at })
			c.chosen("danger")
		}))
	}
	list := look.NewSelect(names, -1, func(i int) {
		if i >= 0 {
			c.t.draft.Open = append(slices.Clone(c.t.draft.Open), faulttree.ParseFaultAt(ids[i]))
			c.chosen("danger")
		}
	})
	list.PlaceHolder = "add a danger that your readings do not rule out"
	c.focus["danger"] = list
	box := look.NewPanel(list)
	box.Padding, box.Radius = 1, 8
	out.Objects = append([]fyne.CanvasObject{box}, out.Objects...)
	return out
}

// tell is what the customer is told, in the learner's own words.
func (c *conclude) tell() fyne.CanvasObject {
	f := c.a.window.Field("in a sentence or two, if you like")
	f.SetText(c.t.draft.Tell)
	f.OnChanged = func(text string) {
		c.t.draft.Tell = strings.ToValidUTF8(text[:min(len(text), practice.MostText)], "")
		c.a.keep(c.t)
	}
	return f
}

// take takes the conclusion.
func (c *conclude) take() {
	if len(c.form.Missing) > 0 {
		return
	}
	done := c.t.draft
	done.At = c.a.session.Since(c.t.attempt().Started)
	if err := c.t.rec.Conclude(done); err != nil {
		c.a.window.Say("This could not be taken. " + view.Sentence(err.Error()))
		return
	}
	c.t.help = help{} // of what is read from now on nothing is foreseen
	c.a.to(c.t, concluded)
}

// fault is the nth fault that is named so far, "" for none.
func (t *trying) fault(n int) string {
	if n < len(t.draft.Faults) {
		return t.draft.Faults[n]
	}
	return ""
}

// name names the nth fault. That nothing is wrong stands alone.
func (t *trying) name(n int, id string) {
	faults := []string{t.fault(0), t.fault(1)}
	faults[n] = id
	if id == practice.NoFault {
		faults = []string{id}
		t.draft.Place = ""
	}
	faults = slices.DeleteFunc(faults, func(f string) bool { return f == "" || f == practice.NoFault && id != practice.NoFault })
	t.draft.Faults = slices.Compact(faults)
}

// concludedPage is after the conclusion: the repair, where there is one, and the look
// back.
func (a *Area) concludedPage(t *trying) frame.Page {
	nothing := slices.Equal(t.attempt().Conclusion.Faults, []string{practice.NoFault})
	text := "A repair is not done until it has been read again. Have done what you concluded, by whom you said, then read what had shown the fault."
	repair := look.NewPrimary("Have it repaired, and read again", func() { a.repair(t) })
	parts.Enable(repair, len(t.attempt().Acts) > 0)
	back := look.NewButton("Look back without reading again", func() { a.look(t) })
	first := repair
	if nothing {
		text = "You concluded no fault, so nothing is repaired. What no reading has shown is not excluded by that."
		back = look.NewPrimary("Look back", func() { a.look(t) })
		first = back
	}
	p := frame.Page{Focus: first}
	p.Body = []fyne.CanvasObject{parts.Head(a.window, "Practice · "+t.scenario.Title, "Your conclusion is taken"), look.NewText(text)}
	row := look.Row(12)
	if !nothing {
		row.Add(repair)
	}
	if t.held() {
		p.Body = append(p.Body, look.NewText("Your instructor holds the look back until the feedback is released."))
		p.Focus = nil
	} else {
		row.Add(back)
	}
	row.Add(a.others(t))
	p.Body = append(p.Body, row)
	return p
}

// repair puts right what was concluded, and goes back to the vehicle.
func (a *Area) repair(t *trying) {
	if err := t.rec.Repair(); err != nil {
		a.window.Say("The repair could not be taken. " + view.Sentence(err.Error()))
		return
	}
	t.last = practice.Act{}
	a.to(t, working)
}
