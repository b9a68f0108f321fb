package circuit

import (
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree/scene"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// page is what is chosen, the drawing, the controls, and all of it in
// words.
func (c *circuit) page() frame.Page {
	a := c.a
	p := frame.Page{Keys: map[rune]func(){}}
	title := "A sound circuit"
	if f := c.s.Fault(); f != nil {
		title = f.Title
	}
	choices, first := c.choices()
	c.update()
	p.Body = append(p.Body, parts.Head(a.window, "Circuit · "+c.s.Rig().Title, title), choices)
	if len(a.bench.about) > 0 {
		p.Body = append(p.Body, look.NewText(strings.Join(a.bench.about, " ")))
	}
	if reason := c.reason(); reason != nil {
		p.Body = append(p.Body, reason)
	}
	// What can be pressed stands above all that comes, goes and grows when it is
	// pressed, so that nothing moves under the pointer.
	p.Body = append(p.Body, c.dials(), c.switching(), c.keyRow, c.warnBox, c.openBox, c.drawing)
	legend := "Bold numbers are volts to remote earth. Arrows show the moment at which L1 is at its crest, larger for more current. Tap a test point to put the " +
		"red probe on it, then the black one."
	if c.s.Direct() {
		legend = "Bold numbers are volts to the body. Arrows show which way current flows, larger for more. Tap a test point to put the red probe on it, then the black one."
	}
	p.Body = append(p.Body, look.NewSoft(legend), look.NewPanel(c.metering()))
	if len(a.bench.taken) > 0 {
		p.Body = append(p.Body, look.NewPanel(look.Stack(10, look.NewCaption("Your readings beside the model's"),
			look.NewSoft("The model was brought as near to all of them as place, severity and loads allow."), c.compared)))
	}
	p.Body = append(p.Body,
		look.Stack(10, look.NewCaption("Every test point, to "+c.s.Reference()), c.points),
		look.Stack(10, look.NewCaption("Every current"), c.parts),
		look.NewSoft("Left out of the drawing, not of the model: the capacitance of conductors to one another and to earth, insulation, small loads that stay on. "+
			"The model is a picture of a vehicle like this one, never a reading of yours."))
	row := look.Row(12)
	if f := c.s.Fault(); f != nil {
		row.Add(look.NewButton("Read about this fault", func() { a.window.Go(place.Document(view.KindFault, f.ID)) }))
	}
	row.Add(look.NewButton("Copy page", a.window.CopyPage))
	row.Add(look.NewButton("Back", a.window.Back))
	p.Body = append(p.Body, row)
	p.Focus = first
	return p
}

// choices are the lists at the top: rig, fault, and where it is. The second
// value has the keyboard at first, nil for none.
func (c *circuit) choices() (fyne.CanvasObject, fyne.Focusable) {
	a := c.a
	rigs := view.Rigs(a.session.Book())
	names, at := make([]string, len(rigs)), 0
	for i, r := range rigs {
		names[i] = r.Title
		if r == c.s.Rig() {
			at = i
		}
	}
	const rigCaption, faultCaption, placeCaption = "Circuit", "Fault", "Where"
	rigList := look.NewSelect(names, at, func(i int) {
		a.moveTo(func(l *place.Location) { l.ID = rigs[i].ID }, rigCaption)
	})
	faults := c.s.Faults()
	titles, at := []string{"none"}, 0
	for i, f := range faults {
		titles = append(titles, f.Title)
		if f == c.s.Fault() {
			at = i + 1
		}
	}
	faultList := look.NewSelect(titles, at, func(i int) {
		a.moveTo(func(l *place.Location) {
			l.ID, l.Query, l.Where = c.s.Rig().ID, "", ""
			if i > 0 {
				l.Query = faults[i-1].ID
			}
		}, faultCaption)
	})
	grid := look.Grid(250, 14, 3, look.Labelled(rigCaption, rigList), look.Labelled(faultCaption, faultList))
	lists := map[string]*look.Select{rigCaption: rigList, faultCaption: faultList}
	if places := c.s.Places(); len(places) > 1 {
		placeList := look.NewSelect(places, c.s.Place(), func(i int) {
			c.s.SetPlace(i)
			a.bench.focus = placeCaption
			a.window.Render()
		})
		lists[placeCaption] = placeList
		grid.Add(look.Labelled(placeCaption, placeList))
	}
	if list := lists[a.bench.focus]; list != nil {
		return grid, list
	}
	return grid, nil
}

// dials are what can be turned up: severity and loads.
func (c *circuit) dials() fyne.CanvasObject {
	grid := look.Grid(230, 24, 4)
	if dial, ok := c.s.Severity(); ok {
		turn := look.NewDial(dial.Title, dial.Text(), dial.Share())
		turn.OnChanged = func(share float64) {
			dial.Value = dial.At(share)
			c.s.SetSeverity(dial.Value)
			turn.SetValue(dial.Text())
			c.update()
		}
		grid.Add(turn)
	}
	for _, dial := range c.s.Loads() {
		turn := look.NewDial(dial.Title, loadText(dial), dial.Share())
		turn.OnChanged = func(share float64) {
			dial.Value = math.Round(dial.At(share)/10) * 10
			c.s.SetLoad(dial.Name, dial.Value)
			turn.SetValue(loadText(dial))
			c.update()
		}
		grid.Add(turn)
	}
	return grid
}

func loadText(dial scene.Dial) string {
	if dial.Value <= 0 {
		return "off"
	}
	return dial.Text()
}

// switching is what can be plugged, pulled and thrown.
func (c *circuit) switching() fyne.CanvasObject {
	row := look.Row(12)
	for _, sw := range c.s.Switches() {
		row.Add(look.NewCheck(view.Capital(sw.Title), sw.On, func(on bool) {
			c.s.Throw(sw.Name, on)
			c.update()
		}))
	}
	if alternating, direct := c.s.Kinds(); alternating && direct {
		row.Add(look.NewCheck("Show direct current", c.s.Direct(), func(on bool) {
			c.s.SetDirect(on)
			c.a.window.Render()
		}))
	}
	return row
}

// metering is the meter: its dial, where the probes are, and beside or under
// them the display.
func (c *circuit) metering() fyne.CanvasObject {
	functions := look.Row(6)
	var all []*look.Nav
	for _, f := range c.s.Functions() {
		n := parts.Option(view.Capital(scene.FunctionTitle(f)), c.s.Meter().Setting.Function == f, nil)
		n.OnTapped = func() {
			c.s.Meter().Setting.Function = f
			for _, other := range all {
				other.SetChosen(other == n)
			}
			c.update()
		}
		all = append(all, n)
		functions.Add(n)
	}
	points := c.s.Points()
	names := make([]string, len(points)+1)
	names[0] = "nowhere"
	for i, id := range points {
		names[i+1] = view.Capital(c.s.PointTitle(id))
	}
	index := func(node string) int { return slices.Index(points, node) + 1 }
	node := func(i int) string {
		if i < 1 {
			return ""
		}
		return points[i-1]
	}
	red, black := c.s.Probes()
	c.red = look.NewSelect(names, index(red), func(i int) {
		_, black := c.s.Probes()
		c.s.SetProbes(node(i), black)
		c.update()
	})
	c.black = look.NewSelect(names, index(black), func(i int) {
		red, _ := c.s.Probes()
		c.s.SetProbes(red, node(i))
		c.update()
	})
	dial := look.Stack(12, look.NewCaption("Meter"), functions, look.Labelled("Red probe on", c.red), look.Labelled("Black probe on", c.black))
	return look.Grid(330, 20, 2, dial, look.Stack(12, c.display, c.note))
}

// showProbes lets the lists say where the probes are.
func (c *circuit) showProbes() {
	red, black := c.s.Probes()
	points := c.s.Points()
	c.red.ShowChosen(slices.Index(points, red) + 1)
	c.black.ShowChosen(slices.Index(points, black) + 1)
}
