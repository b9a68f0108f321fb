package gui

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
)

// readings are the reading entries of one step: each parses as it is typed,
// and together they say which way the step will go.
type readings struct {
	object   fyne.CanvasObject // the entries and the sentence beside them
	ruler    fyne.CanvasObject // the limit ruler, or nothing
	onChange func(view.Verdict)
	onEnter  func()

	judge   func() view.Verdict
	entries []*look.ReadingEntry
}

func (r *readings) first() fyne.Focusable {
	for _, e := range r.entries {
		if e.Text() == "" {
			return e.Field
		}
	}
	return r.entries[0].Field
}

// readings makes the entries for step s. Known readings are typed already.
func (d *Desk) readings(at Location, s *faulttree.Step, m faulttree.Meter, known []faulttree.Reading) *readings {
	r := &readings{}
	leads, settle := look.NewStrong(""), look.NewSoft("")
	ruler := d.rulerOf(s)
	if ruler != nil {
		r.ruler = ruler
	} else {
		r.ruler = look.Stack(0)
	}
	r.judge = func() view.Verdict {
		var texts []string
		for _, e := range r.entries {
			texts = append(texts, e.Text())
		}
		return view.Judge(d.book, s, m, texts)
	}
	update := func() {
		j := r.judge()
		for i, t := range j.Typed {
			unit := s.Measure[i].Quantity.Unit.Symbol()
			if t.Uncertainty != "" {
				unit += " " + strings.TrimSuffix(t.Uncertainty, " "+unit)
			}
			if t.Taken && t.Reading.Quality == faulttree.OverRange {
				unit = ""
			}
			r.entries[i].SetUnit(unit)
		}
		lead, rest := verdictWords(j)
		say(leads, lead)
		say(settle, rest)
		if ruler != nil {
			ruler.SetValue(rulerValue(s, m, j))
		}
	}
	changed := func() {
		update()
		if r.onChange != nil {
			r.onChange(r.judge())
		}
		d.shell.relayout()
	}
	abreast := look.Grid(210, 16, 3)
	rows := look.Stack(12, abreast)
	for i, v := range s.Measure {
		e := look.NewReadingEntry(v.Quantity.Unit.Symbol())
		text := d.draft(at, i)
		if text == "" && i < len(known) && known[i].Quality != faulttree.NotPossible {
			text = known[i].Text
		}
		e.SetText(text)
		e.Field.OnChanged = func(text string) { d.keep(at, i, text); changed() }
		d.adopt(e.Field)
		e.Field.OnSubmitted = func(string) { d.submit(r, i) }
		r.entries = append(r.entries, e)
		if len(s.Measure) > 1 {
			abreast.Add(look.Stack(6, look.NewText(v.Quantity.Title), e))
		}
	}
	words := look.Stack(0, leads, settle)
	if len(s.Measure) == 1 {
		r.object = look.Beside(0, 180, 18, r.entries[0], words)
	} else {
		rows.Add(words)
		r.object = rows
	}
	update()
	return r
}

// say changes a line; an empty one takes no room.
func say(p *look.Prose, text string) {
	p.SetText(text)
	show(p, text != "")
}

func show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// submit is Enter in entry i: on to the next empty entry, then take.
func (d *Desk) submit(r *readings, i int) {
	for k := range r.entries {
		e := r.entries[(i+k)%len(r.entries)]
		if strings.TrimSpace(e.Text()) == "" {
			d.shell.focus(e.Field)
			return
		}
	}
	if r.onEnter != nil {
		r.onEnter()
	}
}

// verdictWords is the strong and the soft line beside the reading.
func verdictWords(j view.Verdict) (lead, rest string) {
	if p := j.Problem(); p != "" {
		return "This is not taken yet", p
	}
	if !j.Ready {
		return "", "Type what the meter shows, such as 41.5, OL, or wanders 3-8."
	}
	rest = j.Settle
	for _, t := range j.Typed {
		if t.Note != "" {
			rest = strings.TrimSpace(rest + " " + view.Sentence(t.Note))
		}
	}
	return j.Leads, rest
}

// rulerOf is the limit ruler of a step, or nil if it has none.
func (d *Desk) rulerOf(s *faulttree.Step) *look.Ruler {
	if len(s.Ruler()) == 0 {
		return nil
	}
	return look.NewRuler(look.NewRulerValue(s.Ruler(), s.Measure[0].Quantity.Unit, nil))
}

// rulerValue is the ruler with the reading on it.
func rulerValue(s *faulttree.Step, m faulttree.Meter, j view.Verdict) look.RulerValue {
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

func itoa(n int) string { return strconv.Itoa(n) }

// enable switches a button on or off.
func enable(b *look.Button, on bool) {
	if on {
		b.Enable()
	} else {
		b.Disable()
	}
}
