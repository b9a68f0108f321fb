package practice

import (
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/gui/look"
	"faultwright/gui/parts"
)

// turned is a box that shows whether something is on, as the vehicle stands.
type turned struct {
	box *look.Check
	on  func() bool
}

// want does an act, or asks first where it touches or changes the vehicle. The
// question stands where the notes stand, away from what was pressed, so that a
// second press confirms nothing.
func (b *bench) want(a practice.Act) {
	question, asks := b.t.v.Asks(a)
	if a.Kind == practice.ChangeFuse {
		question, asks = "Put a new fuse into the meter?", true
	}
	if asks {
		b.asking, b.question, b.asker = a, question, b.a.window.Focused()
		if i := slices.IndexFunc(b.t.c.Tries, func(i faulttree.Intervention) bool { return i.ID == a.Name }); i >= 0 {
			b.question += " " + b.t.c.Tries[i].Before
		}
		b.showTaken()
		b.showSwitches()
		return
	}
	b.do(a)
}

// do does something and shows what came of it.
func (b *bench) do(a practice.Act) {
	b.asking = practice.Act{}
	a.At = b.a.session.Since(b.t.attempt().Started)
	err := b.predict(a)
	var done []practice.Act
	if err == nil {
		done, err = b.t.rec.Do(a)
	}
	if err != nil {
		b.t.last = practice.Act{Kind: practice.Reject, Note: err.Error()}
		b.showTaken()
		b.showSwitches()
		return
	}
	for _, act := range done {
		b.t.last = act
	}
	b.redraw()
	b.showTaken()
	b.showSwitches()
	b.showLog()
	b.a.window.Relayout()
	b.foresaw(done)
	if b.a.window.Said() != "" { // it was of the act before
		b.a.window.Say("")
	}
}

// confirming is the row of buttons that answer a question or take an act back.
// They stay where they are; what is of no use now is switched off.
func (b *bench) confirming() fyne.CanvasObject {
	b.confirm = look.NewButton("Do it", b.yes)
	b.leave = look.NewButton("Leave it", b.no)
	b.back = look.NewButton("Take it back", func() { b.do(practice.Act{Kind: practice.TakeBack}) })
	return look.Row(8, b.confirm, b.leave, b.back)
}

func (b *bench) yes() {
	if a := b.asking; a.Kind != 0 {
		a.Asked = true
		b.do(a)
	}
}

func (b *bench) no() {
	if b.asking.Kind != 0 {
		b.asking = practice.Act{}
		b.showTaken()
		b.showTries()
	}
}

// keys answer a question from wherever the keyboard is.
func (b *bench) keys() map[rune]func() {
	return map[rune]func(){'y': b.yes, 'n': b.no}
}

// enable switches on what can be pressed now.
func (b *bench) enable() {
	clamp := b.t.v.Setting().Function.Unit() == faulttree.AmpsAC
	asked := b.asking.Kind != 0
	parts.Enable(b.take, !asked && !b.unsaid() && b.t.red != "" && (b.t.black != "" || clamp))
	parts.Enable(b.prove, !asked && !b.unsaid())
	parts.Enable(b.confirm, asked)
	parts.Enable(b.leave, asked)
	parts.Enable(b.back, !asked && b.t.v.Hindered(practice.Act{Kind: practice.TakeBack}) == "")
	b.keepKeyboard()
}

// keepKeyboard takes the keyboard from a button that was switched off, since it would go
// on from the end of the page: back to where an act was asked from, or to the drawing.
func (b *bench) keepKeyboard() {
	for _, o := range []*look.Button{b.take, b.prove, b.confirm, b.leave, b.back} {
		if !o.Focused() || !o.Disabled() {
			continue
		}
		if off, ok := b.asker.(fyne.Disableable); b.asker == nil || ok && off.Disabled() {
			b.asker = b.drawing
		}
		b.a.window.Focus(b.asker)
		return
	}
}

// turn makes a box that asks for an act when it is turned. It shows how things
// stand, not what is asked.
func (b *bench) turnBox(title string, on func() bool, act func(on bool) practice.Act) *look.Check {
	t := &turned{on: on}
	t.box = look.NewCheck(title, on(), func(to bool) {
		if to != on() {
			b.want(act(to))
		}
	})
	b.switches = append(b.switches, t)
	return t.box
}

// showSwitches shows how the switches stand.
func (b *bench) showSwitches() {
	for _, t := range b.switches {
		if on := t.on(); t.box.Checked != on {
			t.box.SetChecked(on)
		}
	}
	b.showTries()
}

// switching is what may be plugged, thrown and turned on, and what may be tried
// beside.
func (b *bench) switching() fyne.CanvasObject {
	list := look.Stack(0, look.NewCaption("Plugs, breakers and loads"))
	for _, sw := range b.t.c.Rig.Switches {
		if !slices.Contains(b.t.c.May, sw.Name) {
			continue
		}
		list.Add(b.turnBox(view.Capital(sw.Title), func() bool { return !b.t.v.Off(sw.Name) }, func(on bool) practice.Act {
			return practice.Act{Kind: practice.Throw, Name: sw.Name, On: on}
		}))
	}
	for _, leg := range b.t.c.Rig.Legs() {
		if leg == "l1l2" && !b.t.c.Loads[leg] {
			continue // there is no such appliance in this vehicle
		}
		list.Add(b.turnBox(scenes.LegTitle(leg), func() bool { return b.t.v.On(leg) }, func(on bool) practice.Act {
			return practice.Act{Kind: practice.Load, Name: leg, On: on}
		}))
	}
	b.tries = look.NewSelect(nil, -1, func(i int) {
		if i >= 0 && i < len(b.trying) {
			b.want(b.trying[i])
		}
	})
	b.tries.PlaceHolder = "Try something else"
	b.showTries()
	list.Add(look.Pad(6, 0, 0, 0, b.tries))
	return tight(look.Compact(list))
}

// showTries lists what can be tried as things stand.
func (b *bench) showTries() {
	b.trying = nil
	var names []string
	for _, i := range b.t.c.Tries {
		kind := practice.Swap
		if i.Unloaded {
			kind = practice.Unplug
		}
		in := b.t.v.Tried(i.ID)
		name := i.Title
		if in {
			name = "Back from: " + i.Title
		}
		b.trying = append(b.trying, practice.Act{Kind: kind, Name: i.ID, On: in == (kind == practice.Unplug)})
		names = append(names, name)
	}
	for _, name := range b.t.v.Resets() {
		a := practice.Act{Kind: practice.Reset, Name: name}
		b.trying = append(b.trying, a)
		names = append(names, view.Capital(b.t.c.Words(a)))
	}
	b.trying = append(b.trying, practice.Act{Kind: practice.ChangeFuse})
	names = append(names, "A new fuse in the meter")
	b.tries.Options = names
	chosen := -1
	if b.asking.Kind != 0 {
		chosen = slices.IndexFunc(b.trying, func(a practice.Act) bool { return a.Kind == b.asking.Kind && a.Name == b.asking.Name })
	}
	b.tries.ShowChosen(chosen)
	b.tries.Refresh()
}
