package gui

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
)

// settingsPane shows who reads, with which meter, and how the window looks.
func (d *Desk) settingsPane(at Location) pane {
	body := []fyne.CanvasObject{look.NewQuestion("Settings")}

	roles := look.Row(8)
	for _, r := range []struct {
		role faulttree.Role
		name string
	}{{faulttree.Owner, "Owner or user"}, {faulttree.Qualified, "Qualified for this work"}} {
		roles.Add(option(r.name, d.settings.Role == r.role, func() { d.set(func(s *Settings) { s.Role = r.role }) }))
	}
	body = append(body, look.Stack(8, look.NewCaption("Who takes the readings"), roles,
		look.NewSoft("An owner's walk ends where an enclosure or panel must be opened. It counts for visits begun from now on.")))

	plugs := look.Row(8)
	for _, f := range figure.Faces(nil) {
		plugs.Add(option(f.Rating()+" plug", d.settings.Face == f, func() { d.set(func(s *Settings) { s.Face = f }) }))
	}
	body = append(body, look.Stack(8, look.NewCaption("The vehicle's plug"), plugs))

	modes := look.Row(8)
	for _, m := range look.Modes() {
		modes.Add(option(modeName(m), d.settings.Mode == m, func() { d.set(func(s *Settings) { s.Mode = m }) }))
	}
	body = append(body, look.Stack(8, look.NewCaption("Colours"), modes))

	percent := strconv.Itoa(int(d.settings.TextSize*100+0.5)) + " %"
	body = append(body, look.Stack(8, look.NewCaption("Text size"), look.Row(8,
		look.NewButton("Smaller", func() { d.resizeText(-1) }),
		look.NewButton("Larger", func() { d.resizeText(1) }),
		look.NewButton("Normal", func() { d.set(func(s *Settings) { s.TextSize = 1 }) })),
		look.NewSoft("Now "+percent+". Ctrl and plus or minus do the same on every page.")))

	body = append(body, d.meterForm(at))
	body = append(body, look.Stack(8, look.NewCaption("Keys"), look.NewText(
		"1 to 9 choose an answer. Enter or Space press the button with the ring. Tab goes to the next thing. Esc or Alt and ← go back, Alt and → forward. "+
			"Ctrl and F, or /, search. Ctrl and C copies the page where nothing is selected.")))
	return pane{body: body}
}

// option is one of several, of which one is chosen.
func option(name string, chosen bool, choose func()) *look.Nav {
	n := look.NewNav(name, choose)
	n.SetChosen(chosen)
	return n
}

func modeName(m look.Mode) string {
	switch m {
	case look.Light:
		return "Light"
	case look.Dark:
		return "Dark"
	case look.HighContrast:
		return "High contrast"
	}
	return "As the desktop says"
}

// meterForm edits "my meter". It is taken when every line can be understood.
func (d *Desk) meterForm(at Location) fyne.CanvasObject {
	m := settingOf(d.settings.Meter)
	known := []string{m.Name, strconv.Itoa(m.FullScale),
		m.ACVolts.text(), m.DCVolts.text(), m.Resistance.text(), m.Current.text()}
	labels := []string{"Name", "Counts of the display", "AC volts", "DC volts", "Ohms", "Amps"}
	result := look.NewSoft("Take these from the meter's own booklet: percent of the reading + counts, such as 1.2 + 5. They count for visits begun from now on.")
	fields := make([]*look.Field, len(labels))
	take := func() {
		texts := make([]string, len(fields))
		for i, f := range fields {
			texts[i] = f.Text
		}
		meter, err := parseMeter(texts)
		if err != nil {
			result.SetText("Not taken: " + view.Sentence(err.Error()))
			return
		}
		d.forgetDrafts("")
		d.set(func(s *Settings) { s.Meter = meter })
		d.say("Your meter is noted.")
	}
	grid := look.Grid(220, 12, 3)
	for i, label := range labels {
		fields[i] = d.detail(at, i, known[i], known[i])
		fields[i].OnSubmitted = func(string) { take() }
		grid.Add(look.Stack(4, look.NewSoft(label), fields[i]))
	}
	usual := look.NewButton("An ordinary meter", func() {
		d.forgetDrafts("")
		d.set(func(s *Settings) { s.Meter = faulttree.DefaultMeter() })
	})
	return look.Stack(10, look.NewCaption("My meter"), grid, result, look.Row(8, look.NewButton("Use this meter", take), usual))
}

// text is an accuracy as the form shows it: "1.2 + 5".
func (a accuracySetting) text() string { return a.Percent + " + " + strconv.Itoa(a.Counts) }

// parseMeter reads the lines of the form, in its order.
func parseMeter(lines []string) (faulttree.Meter, error) {
	counts, err := strconv.Atoi(strings.ReplaceAll(strings.TrimSpace(lines[1]), " ", ""))
	if err != nil {
		return faulttree.Meter{}, &meterError{"the counts of the display", lines[1], "6000"}
	}
	s := meterSetting{Name: strings.TrimSpace(lines[0]), FullScale: counts}
	for i, to := range []*accuracySetting{&s.ACVolts, &s.DCVolts, &s.Resistance, &s.Current} {
		text := lines[i+2]
		percent, rest, ok := strings.Cut(strings.ReplaceAll(strings.ReplaceAll(text, "%", ""), ",", "."), "+")
		n, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "counts")))
		if !ok || err != nil {
			return faulttree.Meter{}, &meterError{[]string{"AC volts", "DC volts", "ohms", "amps"}[i], text, "1.2 + 5"}
		}
		*to = accuracySetting{strings.TrimSpace(percent), n}
	}
	return s.meter()
}

// meterError is a line of the form that can not be understood.
type meterError struct{ what, have, like string }

func (e *meterError) Error() string {
	return e.what + " is “" + e.have + "”; expected something like " + e.like
}
