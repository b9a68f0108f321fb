package walk

import (
	"cmp"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// asking is a step on the page: the one at which a visit stands, or one that
// was answered before. It is the same page either way; what is on record is
// changed instead of given, and what that does to later answers is said first.
type asking struct {
	*Area
	visit *session.Visit
	at    place.Location
	step  *faulttree.Step
	says  view.Step
	old   *faulttree.Answer // on record; nil at the present step

	page       frame.Page
	lead, rest *look.Prose  // where the answer leads, over the field and the buttons
	take       *look.Button // gives the answer, or changes it
	leave      *look.Button // leaves what is on record; nil at the present step
	answer     faulttree.Answer
}

// ask begins the page of a step of a visit.
func (a *Area) ask(at place.Location, v *session.Visit) *asking {
	w := v.Walk()
	q := &asking{Area: a, visit: v, at: at, step: w.Step(), lead: look.NewStrong(""), rest: look.NewSoft("")}
	if trail := w.Trail(); at.Step < len(trail) {
		e := trail[at.Step]
		q.step, q.old = w.Asked(e.Step), &e.Answer
	}
	q.says, _ = view.StepIn(a.session.Book(), w, at.Step)
	q.says.Plug = cmp.Or(q.says.Plug, a.session.Book().Forest.Plug(v.Facts()))
	q.page = frame.Page{Text: q.says.Text(), Side: a.beside(v, q.says.Cards), Body: readOnlyNotice(v)}
	return q
}

// askingPage makes the page of a step.
func (a *Area) askingPage(at place.Location, v *session.Visit) frame.Page {
	q := a.ask(at, v)
	if q.old == nil {
		for _, doubt := range v.Doubts(a.session.Book()) {
			q.add(look.NewCallout(faulttree.Caution, look.NewText(doubt)))
		}
	}
	if seen := view.DamageSeen(a.session.Book(), v.Walk()); seen != "" {
		q.add(look.NewCallout(faulttree.Danger, look.NewStrong(seen)))
	}
	for _, g := range view.GivenOf(a.session.Book(), v.Walk()) {
		q.add(parts.Given(a.window, g))
	}
	switch q.step.Kind {
	case faulttree.KindMeasure:
		q.measure()
	case faulttree.KindObserve, faulttree.KindFact:
		q.observe()
	default:
		q.act()
	}
	return q.page
}

func (q *asking) add(all ...fyne.CanvasObject) { q.page.Body = append(q.page.Body, all...) }

// head puts the danger line and the question on the page.
func (q *asking) head() {
	q.caution()
	q.add(parts.Head(q.window, q.says.Above, q.says.Question))
}

func (q *asking) caution() {
	if q.says.Caution.Signal > 0 {
		q.add(parts.CautionLine(q.window, q.says.Caution, q.folds(q.at)))
	}
}

// measure is a step that takes readings.
func (q *asking) measure() {
	take := "Take this reading"
	if len(q.step.Measure) > 1 {
		take = "Take these readings"
	}
	q.buttons(take)
	var known []string
	if q.old != nil {
		known = recorded(*q.old)
	}
	r := q.readings(q.at, q.step, q.visit.Walk().Meter(), known)
	judge := func(j view.Judged) {
		lead, rest := parts.JudgedWords(j)
		if q.old != nil && !j.Ready && j.Problem() == "" {
			lead, rest = "", "On record: "+view.Sentence(view.AnswerText(q.step, *q.old))
		}
		if q.window.Narrow() && lead == "" && q.old == nil {
			rest = "" // the first field needs the room
		}
		q.propose(j.Answer, j.Ready, lead, rest)
	}
	r.OnChange, r.OnEnter = judge, q.enter
	judge(r.Judge())

	q.head()
	body, entry := q.instruction(q.at, q.says, r)
	q.add(body...)
	if why := q.says.Why; why != "" {
		folds := q.folds(q.at)
		if folds.Open(whyFold) {
			q.add(look.NewSoft(why), q.outcomes())
		} else {
			q.add(look.NewLink("Why this one next?", func() { folds.Unfold(whyFold) }))
		}
	}
	q.foot(q.stepBack(q.at), entry, r.Ruler, q.ways())
	q.page.Focus = r.First()
}

// whyFold is under which name it is folded why a chart asks a reading.
const whyFold = "why"

// outcomes is what may still come of a chart, each with what it still asks.
func (q *asking) outcomes() fyne.CanvasObject {
	rows, sums := view.Outcomes(q.session.Book(), q.visit.Walk())
	list := look.Stack(8, look.NewCaption("Still possible; the first that fits counts"))
	for _, o := range rows {
		title := look.NewText(o.Headline())
		title.Type = look.SizeLead
		list.Add(look.Beside(260, 150, 16, title, look.NewSoft(o.Asks)))
		list.Add(look.NewLine())
	}
	for _, s := range sums {
		list.Add(look.NewSoft(s))
	}
	return look.NewPanel(list)
}

// recorded is what was typed for the readings of an answer; nothing for one
// that could not be taken.
func recorded(a faulttree.Answer) []string {
	var out []string
	for _, r := range a.Readings {
		text := r.Text
		if r.Quality == faulttree.NotPossible {
			text = ""
		}
		out = append(out, text)
	}
	return out
}

// observe is a step answered by a choice.
func (q *asking) observe() {
	q.buttons("Take this answer")
	q.head()
	if len(q.says.Prose) > 0 {
		q.add(parts.Blocks(q.window, q.says.Prose))
	}
	m := q.marks("Choose by a digit or a press; the button takes it.")
	for _, c := range q.says.Choices {
		note := ""
		if q.old != nil && c.ID == q.old.Choice {
			note = "The answer on record"
		}
		m.offer(c.Digit, c.Text, note, c.ID, faulttree.Answer{Choice: c.ID})
	}
	q.add(m.grid)
	if q.old != nil {
		m.start(q.old.Choice)
	} else {
		m.start("")
	}
	q.foot(q.stepBack(q.at), nil, nil, nil)
}

// act is a step that asks for something to be done; a STOP fills the page with
// what to do, before anything is explained. That it is done is marked below
// that, and then taken: neither a slip nor the Enter of the step before does it.
func (q *asking) act() {
	q.buttons("Go on")
	prose := parts.Blocks(q.window, q.says.Prose)
	done := "Done"
	if q.says.Stop {
		done = "This is done"
		q.add(look.NewBanner(faulttree.Danger, view.Sentence(q.says.Question), prose))
		q.caution()
		q.add(look.NewSoft(q.says.Above))
	} else {
		q.head()
		q.add(prose)
	}
	if q.old != nil {
		q.add(look.NewSoft("This was done."))
		q.take.Hide()
		q.page.Focus = q.leave
		q.leave.SetPrimary(true)
	} else {
		m := q.marks("Once it is done, mark it with 1 or a press; the button goes on.")
		m.offer(1, done, "", "done", faulttree.Answer{Done: true})
		q.add(m.grid)
		m.start("")
	}
	q.foot(q.stepBack(q.at), nil, nil, nil)
}

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
	probes := parts.NewProbes(says, a.session.Face(), plug)
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
