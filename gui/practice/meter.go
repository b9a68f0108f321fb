package practice

import (
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scene"
	"faultwright/gui/look"
)

// tight is a panel of the bench: little space, since much is seen at once.
func tight(o fyne.CanvasObject) fyne.CanvasObject {
	p := look.NewPanel(o)
	p.Padding = 12
	return p
}

// metering is the meter: what it shows, with what reads it and answers a question, and how
// it is set and where its probes are.
func (b *bench) metering() (shows, setting fyne.CanvasObject) {
	b.take = look.NewPrimary("Take this reading", b.read)
	b.prove = look.NewButton("Prove the meter", func() { b.want(practice.Act{Kind: practice.Prove}) })
	b.shown = look.NewPanel(b.display)
	b.shown.Fill, b.shown.Border, b.shown.Padding, b.shown.Radius = "", "", 4, 8
	return look.Stack(8, b.shown, b.note, look.Row(8, b.take, b.prove), b.confirming()), b.setting()
}

// setting is the lists and switches of the meter.
func (b *bench) setting() fyne.CanvasObject {
	b.red, b.black = b.probeList(&b.t.red), b.probeList(&b.t.black)
	functions := append(b.t.scene.Functions(), meter.Continuity)
	var names []string
	for _, f := range functions {
		name := view.Capital(scene.FunctionTitle(f))
		if f == meter.Continuity {
			name = "Beeper"
		}
		names = append(names, name)
	}
	dial := look.NewSelect(names, slices.Index(functions, b.t.v.Setting().Function), func(i int) {
		if i >= 0 {
			b.dial(func(s *meter.Setting) { s.Function, s.Range = functions[i], 0 })
			b.showRanges()
		}
	})
	b.showRanges()
	set := b.t.v.Setting()
	switches := look.Row(14,
		look.NewCheck("Hold", set.Hold, func(on bool) { b.dial(func(s *meter.Setting) { s.Hold = on }) }),
		look.NewCheck("Red lead in ampere jack", set.Jack == meter.AmpereJack, func(on bool) {
			b.dial(func(s *meter.Setting) {
				s.Jack = meter.VoltJack
				if on {
					s.Jack = meter.AmpereJack
				}
			})
		}))
	return look.Compact(look.Stack(8, look.Labelled("Red probe on", b.red), look.Labelled("Black probe on", b.black),
		look.Grid(130, 12, 2, look.Labelled("Dial", dial), b.ranges), switches))
}

// probeList is the list of places of a probe; Enter on it reads.
func (b *bench) probeList(probe *string) *look.Select {
	points := b.t.scene.Points()
	names := make([]string, len(points)+1)
	names[0] = "nowhere"
	for i, id := range points {
		names[i+1] = scenes.PointName(id)
	}
	list := look.NewSelect(names, slices.Index(points, *probe)+1, func(i int) {
		*probe = ""
		if i > 0 {
			*probe = points[i-1]
		}
		b.moved()
	})
	list.OnEnter = b.read
	return list
}

// showRanges lets the range be chosen that the function has.
func (b *bench) showRanges() {
	f := b.t.v.Setting().Function
	ends := b.t.v.Face().Ranges(f.Unit())
	names := []string{"automatic"}
	for _, end := range ends {
		names = append(names, scenes.RangeText(end, f))
	}
	list := look.NewSelect(names, slices.Index(ends, b.t.v.Setting().Range)+1, func(i int) {
		b.dial(func(s *meter.Setting) {
			s.Range = 0
			if i > 0 {
				s.Range = ends[i-1]
			}
		})
	})
	b.ranges.Objects = []fyne.CanvasObject{look.Labelled("Range", list)}
	b.ranges.Refresh()
}

// dial sets the meter.
func (b *bench) dial(change func(*meter.Setting)) {
	s := b.t.v.Setting()
	change(&s)
	b.t.v.Set(s)
	b.moved()
}

// showDanger colours the display where what it shows can hurt, or where there was a
// flash, and returns a sentence why it can hurt, "" where it cannot.
func (b *bench) showDanger(a practice.Act, flash bool) string {
	why := ""
	if a.Kind == practice.Read && a.Setting.Function.Unit() == faulttree.VoltsAC && a.Shown != "" {
		if l, hurts := b.limits.DangerBetween(a.Red, a.Black, a.Reading()); hurts {
			why = l.Sentence(a.Shown)
		}
	}
	fill, ink := fyne.ThemeColorName(""), look.ColorInk
	if why != "" || flash {
		fill, ink = look.ColorDanger, look.ColorOnDanger
	}
	b.shown.Fill, b.display.Ink = fill, ink
	b.shown.Refresh()
	return why
}
