package parts

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
)

// Readings are the reading entries of one step: each parses as it is typed,
// and together they say which way the step will go.
type Readings struct {
	Object   fyne.CanvasObject // the entries and the sentence beside them
	Ruler    fyne.CanvasObject // the limit ruler, or nothing
	OnChange func(view.Judged) // something was typed; nil for no one
	OnEnter  func()            // Enter, with every entry filled; nil for no one

	step    *faulttree.Step
	book    *content.Library
	meter   faulttree.Meter
	window  Window
	ruler   *look.Ruler // nil if the step has none
	entries []*look.ReadingEntry
	lead    *look.Prose
	rest    *look.Prose
}

// NewReadings makes the entries of a step with the texts typed already, one
// for each quantity. Keep is told what is typed into entry i.
func NewReadings(w Window, book *content.Library, s *faulttree.Step, m faulttree.Meter, texts []string, keep func(i int, text string)) *Readings {
	r := &Readings{step: s, book: book, meter: m, window: w, lead: look.NewStrong(""), rest: look.NewSoft(""), Ruler: look.Stack(0)}
	if len(s.Ruler()) > 0 {
		r.ruler = look.NewRuler(look.NewRulerValue(s.Ruler(), s.Measure[0].Quantity.Unit, nil))
		r.Ruler = r.ruler
	}
	abreast := look.Grid(210, 16, 3)
	for i, v := range s.Measure {
		e := look.NewReadingEntry(v.Quantity.Unit.Symbol())
		e.SetText(texts[i])
		e.Field.OnChanged = func(text string) { keep(i, text); r.changed() }
		w.Adopt(e.Field)
		e.Field.OnSubmitted = func(string) { r.submit(i) }
		r.entries = append(r.entries, e)
		if len(s.Measure) > 1 {
			abreast.Add(look.Stack(6, look.NewText(v.Quantity.Title), e))
		}
	}
	words := look.Stack(0, r.lead, r.rest)
	if len(s.Measure) == 1 {
		r.Object = look.Beside(0, 180, 18, r.entries[0], words)
	} else {
		r.Object = look.Stack(12, abreast, words)
	}
	r.update()
	return r
}

// Judge says which way the step goes with what is typed now.
func (r *Readings) Judge() view.Judged {
	var texts []string
	for _, e := range r.entries {
		texts = append(texts, e.Text())
	}
	return view.Judge(r.book, r.step, r.meter, texts)
}

// First is the first empty entry, or the first of all.
func (r *Readings) First() fyne.Focusable {
	for _, e := range r.entries {
		if e.Text() == "" {
			return e.Field
		}
	}
	return r.entries[0].Field
}

func (r *Readings) changed() {
	r.update()
	if r.OnChange != nil {
		r.OnChange(r.Judge())
	}
	r.window.Relayout()
}

func (r *Readings) update() {
	j := r.Judge()
	for i, t := range j.Typed {
		unit := r.step.Measure[i].Quantity.Unit.Symbol()
		if t.Uncertainty != "" {
			unit += " " + strings.TrimSuffix(t.Uncertainty, " "+unit)
		}
		if t.Taken && t.Reading.Quality == faulttree.OverRange {
			unit = ""
		}
		r.entries[i].SetUnit(unit)
	}
	lead, rest := judgedWords(j)
	ShowText(r.lead, lead)
	ShowText(r.rest, rest)
	if r.ruler != nil {
		r.ruler.SetValue(rulerValue(r.step, r.meter, j))
	}
}

// submit is Enter in entry i: on to the next empty entry, then take.
func (r *Readings) submit(i int) {
	for k := range r.entries {
		e := r.entries[(i+k)%len(r.entries)]
		if strings.TrimSpace(e.Text()) == "" {
			r.window.Focus(e.Field)
			return
		}
	}
	if r.OnEnter != nil {
		r.OnEnter()
	}
}

// judgedWords is the strong and the soft line beside the reading.
func judgedWords(j view.Judged) (lead, rest string) {
	if p := j.Problem(); p != "" {
		return "This is not taken yet", p
	}
	if !j.Ready {
		return "", "Type what the meter shows, such as 41.5, OL, or wanders 3-8."
	}
	rest = j.Advice
	for _, t := range j.Typed {
		if t.Note != "" {
			rest = strings.TrimSpace(rest + " " + view.Sentence(t.Note))
		}
	}
	return j.Leads, rest
}

// rulerValue is the ruler with the reading on it.
func rulerValue(s *faulttree.Step, m faulttree.Meter, j view.Judged) look.RulerValue {
	segments, q := s.Ruler(), s.Measure[0].Quantity
	if !j.Ready || j.Typed[0].Reading.Quality == faulttree.NotPossible {
		return look.NewRulerValue(segments, q.Unit, nil)
	}
	reading := j.Typed[0].Reading
	low, high := q.Judged(reading.Low, reading.High)
	r := look.RulerReading{
		Low: low, High: high, Span: m.Span(reading, q),
		OverRange: reading.Quality == faulttree.OverRange,
		Text:      strings.TrimSpace(reading.Show(q.Unit) + " " + j.Typed[0].Uncertainty),
	}
	for i, seg := range segments {
		if seg.To == j.To && seg.Signal == j.Signal && seg.Span.Overlaps(r.Span) {
			r.Judged, r.Taken = true, i
		}
	}
	return look.NewRulerValue(segments, q.Unit, &r)
}

// Variable is the place of a quantity among those that a step measures; 0 for
// one that it does not.
func Variable(s *faulttree.Step, quantity string) int {
	return max(0, slices.IndexFunc(s.Measure, func(v faulttree.Variable) bool { return v.Quantity.ID == quantity }))
}
