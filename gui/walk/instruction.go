package walk

import (
	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// readings are the entries of a step at a place, with what was typed there
// before, or else what is known.
func (a *Area) readings(at place.Location, s *faulttree.Step, m faulttree.Meter, known []string) *parts.Readings {
	texts := make([]string, len(s.Measure))
	copy(texts, known)
	for i := range texts {
		if text, typed := a.session.Draft(at, i); typed {
			texts[i] = text
		}
	}
	return parts.NewReadings(a.window, a.session.Book(), s, m, texts, func(i int, text string) { a.session.Keep(at, i, text) })
}

// instruction is what is told and shown before a step takes its readings. A
// single entry is returned, to stand in the foot of the page; of several each
// has its picture beside it.
func (a *Area) instruction(at place.Location, says view.Step, r *parts.Readings) (body []fyne.CanvasObject, entry *look.ReadingEntry) {
	plug := func(f figure.Face) { a.set(func(s *session.Settings) { s.Face = f }) }
	probes := parts.NewProbes(says, a.session.Settings().Face, plug)
	if len(says.Asked) == 1 {
		body, entry = a.oneReading(says, probes), r.Entries[0]
	} else {
		body = a.severalReadings(at, says, probes, r)
	}
	if r.Ruler != nil && a.window.Narrow() {
		body = append(body, r.Ruler)
	}
	return body, entry
}

func (a *Area) oneReading(says view.Step, probes parts.Probes) []fyne.CanvasObject {
	pictures := look.Stack(8, probes.Pictures...)
	if probes.Plugs != nil {
		pictures.Add(probes.Plugs)
	}
	chips, prose := parts.Chips(says.Asked[0].Chips), parts.Blocks(a.window, says.Prose)
	if a.window.Narrow() {
		return []fyne.CanvasObject{prose, pictures, chips}
	}
	return []fyne.CanvasObject{look.Beside(300, 290, 26, pictures, look.Stack(look.GapBlock, chips, prose))}
}

// severalReadings folds the instruction in a narrow window, so that the first
// entry is on the first screen.
func (a *Area) severalReadings(at place.Location, says view.Step, probes parts.Probes, r *parts.Readings) []fyne.CanvasObject {
	abreast := 3
	if a.window.Narrow() {
		abreast = 1
	}
	cards := look.Grid(216, look.GapBlock, abreast)
	for i, asked := range says.Asked {
		title, set := look.NewStrong(asked.Title), look.NewSoft(parts.Settings(asked.Chips))
		if a.window.Narrow() {
			title.Type = look.SizeLead
			cards.Add(look.Beside(168, 180, 14, probes.Pictures[i], look.Stack(8, title, r.Entries[i], set)))
		} else {
			cards.Add(look.Stack(8, title, r.Entries[i], probes.Pictures[i], set))
		}
	}
	body := []fyne.CanvasObject{parts.Instruction(a.window, says, a.folds(at)), cards}
	if probes.Plugs != nil {
		body = append(body, probes.Plugs)
	}
	return body
}
