package walk

import (
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// buttons makes the button that gives the answer, or for an answer on record
// the two that change it and leave it. They keep their places and words; the
// coloured one is the one that Enter presses.
func (q *asking) buttons(take string) {
	if q.old != nil {
		take = "Change it"
		q.leave = look.NewButton("Leave it", q.leaveIt)
	}
	q.take = look.NewPrimary(take, q.give)
	q.take.Hint = "↵"
	q.take.Disable()
}

// propose says where an answer leads, and for one on record what the change
// does to the answers after it. It can be taken if it is ready.
func (q *asking) propose(answer faulttree.Answer, ready bool, lead, rest string) {
	q.answer = answer
	if q.old != nil && ready {
		c, err := view.ChangeOf(q.session.Book(), q.visit.Walk(), q.at.Step, answer)
		switch {
		case err != nil:
			rest, ready = view.Sentence(err.Error()), false
		case c.Same:
			lead, rest, ready = "", "This is the answer on record.", false
		default:
			rest = strings.TrimSpace(rest + " " + c.Sentence())
		}
	}
	parts.Enable(q.take, ready && (q.old == nil || !q.visit.ReadOnly()))
	if q.leave != nil {
		q.take.SetPrimary(!q.take.Disabled())
		q.leave.SetPrimary(q.take.Disabled())
	}
	parts.ShowText(q.lead, lead)
	parts.ShowText(q.rest, rest)
	q.window.Relayout()
}

// give records the answer and goes on.
func (q *asking) give() { q.goOn(q.record()) }

func (q *asking) record() (session.Outcome, error) {
	if q.old != nil {
		return q.session.Change(q.visit.ID(), q.at.Step, q.answer)
	}
	return q.session.Answer(q.visit.ID(), q.answer)
}

// enter does what the coloured button says.
func (q *asking) enter() {
	switch {
	case !q.take.Disabled():
		q.take.OnTapped()
	case q.leave != nil:
		q.leaveIt()
	}
}

// leaveIt goes on to the present step. What was typed and not taken is dropped
// in sight.
func (q *asking) leaveIt() {
	said := ""
	if dropped := q.dropped(); dropped != "" {
		said = "“" + dropped + "” was not taken. On record stays: " + view.Sentence(view.AnswerText(q.step, *q.old))
	}
	q.window.Go(q.visit.Present(), said)
}

// dropped forgets what was typed or marked over an answer on record, and words
// it; "" for nothing.
func (q *asking) dropped() string {
	var words []string
	for i, known := range recorded(*q.old) {
		if text, typed := q.session.Draft(q.at, i); typed && text != known {
			words = append(words, text)
			q.session.Keep(q.at, i, known)
		}
	}
	if text, typed := q.session.Draft(q.at, reasonDraft); typed && text != "" {
		words = append(words, text)
		q.session.Keep(q.at, reasonDraft, "")
	}
	if id, marked := q.session.Draft(q.at, markDraft); marked && id != "" && id != q.old.Choice {
		words = append(words, view.AnswerText(q.step, faulttree.Answer{Choice: id}))
		q.session.Keep(q.at, markDraft, "")
	}
	return strings.Join(words, ", ")
}

// foot is what stays in view under the page: where the answer leads, the field
// if there is one, the buttons, the ruler, and other ways on. It grows upwards,
// so that nothing in it moves while one types.
func (q *asking) foot(back func(), entry *look.ReadingEntry, ruler fyne.CanvasObject, ways []fyne.CanvasObject) {
	q.page.Foot = footOf(q.window.Narrow(), []fyne.CanvasObject{q.lead, q.rest}, entry, ruler,
		append(shownButtons(q.take, q.leave), look.NewButton("Back", back)), ways)
}

func shownButtons(all ...*look.Button) []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, b := range all {
		if b != nil && b.Visible() {
			out = append(out, b)
		}
	}
	return out
}

// footOf lays out a foot. The first button stands beside the field.
func footOf(narrow bool, words []fyne.CanvasObject, entry *look.ReadingEntry, ruler fyne.CanvasObject, buttons, ways []fyne.CanvasObject) fyne.CanvasObject {
	foot := look.Stack(10, look.Stack(0, words...))
	row := look.Row(12)
	for i, b := range buttons {
		switch {
		case entry == nil:
			row.Add(b)
		case narrow && i == 0:
			foot.Add(look.Beside(206, 200, 12, entry, look.Pad(9, 0, 9, 0, b)))
		case narrow:
			row.Add(b)
		default:
			row.Add(look.Pad(9, 0, 9, 0, b))
		}
	}
	if entry != nil && !narrow {
		row.Objects = append([]fyne.CanvasObject{entry}, row.Objects...)
	}
	if narrow && len(ways) > 0 && len(row.Objects) == 1 && entry != nil { // room for one line less
		foot.Add(look.Row(12, append(row.Objects, look.Pad(12, 0, 0, 0, ways[0]))...))
		ways = ways[1:]
	} else {
		foot.Add(row)
	}
	if ruler != nil && !narrow {
		foot.Add(ruler)
	}
	if len(ways) > 0 {
		foot.Add(look.LinkRow(ways...))
	}
	return foot
}

// ways are the other ways on from a step that measures.
func (q *asking) ways() []fyne.CanvasObject {
	out := []fyne.CanvasObject{look.NewLink("I cannot measure this", func() { q.window.Go(place.Cannot(q.at.ID, q.at.Step)) })}
	for _, o := range view.Obstacles(q.step) {
		out = append(out, look.NewLink(o.Title, func() { q.window.Go(place.Obstacle(q.at.ID, q.at.Step, o.ID)) }))
	}
	if q.old == nil && view.AllReadingsOpen(q.session.Book(), q.visit.Walk()) {
		out = append(out, look.NewLink("All readings on one page", func() { q.window.Go(place.Readings(q.at.ID)) }))
	}
	return out
}

// stepBack shows the answer before the step at; from the first step it goes
// to where walks begin.
func (a *Area) stepBack(at place.Location) func() {
	return func() {
		if at.Step > 0 {
			a.window.Go(place.Walk(at.ID, at.Step-1))
			return
		}
		a.window.Go(place.Opening())
	}
}

// What is kept of a place besides its readings, by the number of the entry.
const (
	markDraft   = -1 // the choice that is marked
	reasonDraft = -2 // a reason in the reader's own words
)

// marks are the choices of a page, of which one is marked and then taken.
type marks struct {
	q       *asking
	grid    *fyne.Container
	choices map[string]*look.Choice
	answers map[string]faulttree.Answer
	none    string // what to do while none is marked
	first   string // what is marked where the reader has marked nothing
}

func (q *asking) marks(none string) *marks {
	m := &marks{q: q, grid: look.Grid(300, 14, 2), choices: map[string]*look.Choice{}, answers: map[string]faulttree.Answer{}, none: none}
	q.page.Unmark = func() { m.mark("") }
	return m
}

// offer adds a choice.
func (m *marks) offer(digit int, text, note, id string, answer faulttree.Answer) {
	c := look.NewAnswer(digit, text, note, func() { m.mark(id); m.q.window.Focus(m.choices[id]) }, m.q.enter)
	m.choices[id], m.answers[id] = c, answer
	m.grid.Add(c)
}

// start shows what is marked: by the reader, or else what is on record.
func (m *marks) start(first string) {
	m.first = first
	id, _ := m.q.session.Draft(m.q.at, markDraft)
	m.show(id)
	switch {
	case id != "" && m.choices[id] != nil:
		m.q.page.Focus = m.choices[id]
	case m.q.leave != nil:
		m.q.page.Focus = m.q.leave
	}
}

func (m *marks) mark(id string) {
	m.q.session.Keep(m.q.at, markDraft, id)
	m.show(id)
}

func (m *marks) show(id string) {
	if m.choices[id] == nil {
		id = m.first
	}
	for k, c := range m.choices {
		c.SetMarked(k == id)
	}
	answer, marked := m.answers[id]
	rest := m.none
	if marked {
		rest = "Marked: " + view.Sentence(m.choices[id].Title())
	}
	m.q.propose(answer, marked, "", rest)
}
