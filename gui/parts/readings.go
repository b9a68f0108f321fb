package parts

import (
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/gui/frame"
	"faultwright/gui/look"
)

// Readings are the reading entries of one step: each parses as it is typed,
// and together they say which way the step will go.
type Readings struct {
	Entries  []*look.ReadingEntry // one for each quantity
	Ruler    fyne.CanvasObject    // the limit ruler; nil where the step has none
	OnChange func(view.Judged)    // something was typed; nil for no one
	OnEnter  func()               // Enter, with every entry filled; nil for no one

	step   *faulttree.Step
	book   *content.Library
	meter  faulttree.Meter
	window *frame.Frame
	ruler  *look.Ruler // nil if the step has none
}

// NewReadings makes the entries of a step with the texts typed already, one
// for each quantity. Keep is told what is typed into entry i.
func NewReadings(w *frame.Frame, book *content.Library, s *faulttree.Step, m faulttree.Meter, texts []string, keep func(i int, text string)) *Readings {
	r := &Readings{step: s, book: book, meter: m, window: w}
	if len(s.Ruler()) > 0 {
		r.ruler = look.NewRuler(look.NewRulerValue(s.Ruler(), s.Measure[0].Quantity.Unit, nil))
		r.Ruler = r.ruler
	}
	for i, v := range s.Measure {
		e := look.NewReadingEntry(v.Quantity.Unit.Symbol())
		e.SetText(texts[i])
		e.Field.OnChanged = func(text string) { keep(i, text); r.changed() }
		w.Adopt(e.Field)
		e.Field.OnSubmitted = func(string) { r.submit(i) }
		r.Entries = append(r.Entries, e)
	}
	r.update()
	return r
}

// Judge says which way the step goes with what is typed now.
func (r *Readings) Judge() view.Judged {
	texts := lists.Each(r.Entries, (*look.ReadingEntry).Text)
	return view.Judge(r.book, r.step, r.meter, texts)
}

// First is the first empty entry, or the first of all.
func (r *Readings) First() fyne.Focusable {
	for _, e := range r.Entries {
		if e.Text() == "" {
			return e.Field
		}
	}
	return r.Entries[0].Field
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
		r.Entries[i].SetUnit(unit)
	}
	if r.ruler != nil {
		r.ruler.SetValue(rulerValue(r.step, r.meter, j))
	}
}

// submit is Enter in entry i: on to the next empty entry, then take.
func (r *Readings) submit(i int) {
	for k := range r.Entries {
		e := r.Entries[(i+k)%len(r.Entries)]
		if strings.TrimSpace(e.Text()) == "" {
			r.window.Focus(e.Field)
			return
		}
	}
	if r.OnEnter != nil {
		r.OnEnter()
	}
}

// JudgedWords is the strong and the soft line that say where the readings lead.
func JudgedWords(j view.Judged) (lead, rest string) {
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
			if seg.Span.Contains(high) {
				break
			}
		}
	}
	return look.NewRulerValue(segments, q.Unit, &r)
}

// Variable is the place of a quantity among those that a step measures; 0 for
// one that it does not.
func Variable(s *faulttree.Step, quantity string) int {
	return max(0, s.Measures(quantity))
}
