package class

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// making is the assignment that an instructor is making. The zero value is one that
// has just begun.
type making struct {
	begun            bool
	title, note, due string
	level            practice.Level
	role             faulttree.Role
	supervised       bool // trainees; see [practice.RoleName]
	open             class.Open
	held, own        bool
	chosen           []string          // ids of scenarios, in the order in which they were chosen
	focus            string            // what has the keyboard
	last             *class.Assignment // made last; nil for none
}

// Levels and roles, in the words of the learner's pages.
var levels = []struct {
	level practice.Level
	text  string
}{{practice.Free, "On their own"}, {practice.Guided, "With help at hand: hints, which are counted"}, {practice.Worked, "Step by step: what it will read is asked first"}}

var roles = []struct {
	role       faulttree.Role
	supervised bool
	text       string
}{
	{faulttree.Qualified, false, "As somebody qualified"},
	{faulttree.Qualified, true, "As a trainee, with somebody qualified beside him at everything live"},
	{faulttree.Owner, false, "As an owner, who opens no enclosure"},
}

// assignPage makes an assignment.
func (a *Area) assignPage(at place.Location) frame.Page {
	m := &a.making
	if !m.begun {
		*m = making{begun: true, title: "Practice", level: practice.Free, role: faulttree.Qualified, own: true}
	}
	p := &assigning{a, m, map[string]fyne.Focusable{}}
	title, note, due := p.field("A title", &m.title), p.field("A remark to the learners; may stay empty", &m.note), p.field("2026-12-04; may stay empty", &m.due)
	form := look.Stack(14, look.Labelled("Title", title), look.Labelled("Remark", note), look.Labelled("Due on", due),
		p.options("level", "How much help", len(levels), func(i int) (string, bool) { return levels[i].text, levels[i].level == m.level }, func(i int) {
			m.level = levels[i].level
			m.open.Hints = m.open.Hints || m.level == practice.Guided // that is what the level is
		}),
		p.options("role", "As whom they work", len(roles), func(i int) (string, bool) {
			return roles[i].text, roles[i].role == m.role && roles[i].supervised == m.supervised
		}, func(i int) { m.role, m.supervised = roles[i].role, roles[i].supervised }),
	)
	how := look.Stack(14,
		look.Stack(4, look.NewCaption("What they may look at meanwhile"),
			look.NewCheck("The walk of the handbook", m.open.Tree, func(on bool) { m.open.Tree = on }),
			look.NewCheck("The handbook", m.open.Handbook, func(on bool) { m.open.Handbook = on }),
			look.NewCheck("Hints, which are counted", m.open.Hints, func(on bool) { m.open.Hints = on || m.level == practice.Guided }),
			under("They are asked to leave the rest closed. The handbook is not locked: somebody may need it in earnest.")),
		look.Stack(4, look.NewCaption("Afterwards"),
			look.NewCheck("Hold the look back", m.held, func(on bool) { m.held = on }), under("Until you release it with the feedback.")),
		look.Stack(4, look.NewCaption("Vehicles"),
			look.NewCheck("Every learner gets a vehicle of his own", m.own, func(on bool) { m.own = on }), under("The same fault with other numbers, by the learner's name.")),
	)
	body := []fyne.CanvasObject{
		parts.Head(a.window, "Practice · a class", "An assignment to hand out"),
		look.Grid(420, 24, 2, look.NewPanel(form), look.NewPanel(how)),
		p.scenarios(),
		look.NewCallout(faulttree.Notice, look.NewText(paper.HonestLine)),
	}
	save := look.NewPrimary("Save the assignment", p.save)
	handout := look.NewButton("Save the handout", func() { p.paper("handout", "The handout", paper.Handout) })
	key := look.NewButton("Save the answer key", func() {
		p.paper("answer-key", "The answer key", func(w io.Writer, made *class.Assignment, s []*content.Scenario) error {
			return paper.Key(w, a.session.Book(), made, s)
		})
	})
	lacks := p.lacks()
	for _, b := range []*look.Button{save, handout, key} {
		parts.Enable(b, lacks == "")
	}
	page := frame.Page{Body: body, Foot: look.Stack(8, look.NewSoft(lacks), look.Row(12, save, handout, key, look.NewButton("Back", a.window.Back))), Focus: p.focus[m.focus]}
	if page.Focus == nil {
		page.Focus = title
	}
	return page
}

// assigning is the page on which an assignment is made.
type assigning struct {
	a     *Area
	m     *making
	focus map[string]fyne.Focusable
}

func (p *assigning) field(hint string, text *string) *look.Field {
	f := p.a.window.Field(hint)
	f.SetText(*text)
	f.OnChanged = func(s string) { *text = s }
	return f
}

// options are a few choices of which one holds.
func (p *assigning) options(name, caption string, n int, of func(i int) (text string, chosen bool), choose func(i int)) fyne.CanvasObject {
	out := look.Stack(2, look.NewCaption(caption))
	for i := range n {
		text, chosen := of(i)
		option := parts.Answer(text, chosen, func() {
			choose(i)
			p.m.focus = name + text
			p.a.window.Render()
		})
		p.focus[name+text] = option
		out.Add(option)
	}
	return out
}

// scenarios are what can be chosen, each with what it teaches: those that were opened
// from files, then those of the handbook by vehicle.
func (p *assigning) scenarios() fyne.CanvasObject {
	all, files := view.Scenarios(p.a.session.Book()), p.a.session.HandedOut()
	add := look.NewButton("Add a scenario from a file", p.add)
	p.focus[fromFile] = add
	out := look.Stack(look.GapBlock, look.NewTitle(fmt.Sprintf("Vehicles: %d chosen", len(p.m.chosen))), look.Row(12, add))
	if len(all) == 0 {
		out.Add(look.NewText("This handbook has no scenarios."))
	}
	caption := ""
	var grid *fyne.Container
	choice := func(under string, s *content.Scenario) {
		if under != caption {
			caption, grid = under, look.Grid(420, 16, 2)
			out.Add(look.Stack(8, look.NewCaption(caption), grid))
		}
		grid.Add(p.choice(s))
	}
	for _, s := range files {
		choice("From files", s)
	}
	for _, s := range all {
		if p.a.session.Scenario(s.ID) == s { // not the file of that name
			choice(s.Rig.Before(), s)
		}
	}
	return out
}

// choice is a scenario that can be chosen.
func (p *assigning) choice(s *content.Scenario) fyne.CanvasObject {
	box := look.NewCheck(s.Title, slices.Contains(p.m.chosen, s.ID), func(on bool) { p.choose(s.ID, on) })
	p.focus[s.ID] = box
	return look.Stack(2, box, under(kindLine(s)+" "+s.Lesson))
}

// fromFile stands for the button that adds a scenario.
const fromFile = "add a file"

// add asks for a scenario that the instructor has made, and chooses it.
func (p *assigning) add() {
	p.a.files.AskOpen(".md", parts.Chosen(p.a.window, "The scenario was not opened.", func(r fyne.URIReadCloser) {
		defer r.Close() // it was only read
		s, err := session.ReadScenario(context.Background(), p.a.session.Book(), r.URI().Name(), r, nil)
		if err != nil {
			p.a.window.Say("This scenario cannot be handed out: " + view.Sentence(err.Error()))
			return
		}
		p.a.session.HandOut(s)
		p.choose(s.ID, true)
	}))
}

// kindLine says what kind of exercise a scenario is, and how grave: "Two faults, danger.".
func kindLine(s *content.Scenario) string {
	text := view.KindsOf(s)
	if s.Hazard != faulttree.NoSignal {
		text += ", " + s.Hazard.String()
	}
	return view.Capital(text) + "."
}

// under is what stands under a box, in line with its text.
func under(text string) fyne.CanvasObject { return look.Pad(0, 0, 6, 34, look.NewSoft(text)) }

func (p *assigning) choose(id string, on bool) {
	p.m.chosen = slices.DeleteFunc(p.m.chosen, func(x string) bool { return x == id })
	if on {
		p.m.chosen = append(p.m.chosen, id)
	}
	p.m.focus = id
	p.a.window.Render()
}

// lacks says what is missing before the assignment can be saved, "" for nothing.
func (p *assigning) lacks() string {
	if len(p.m.chosen) == 0 {
		return "Choose at least one vehicle."
	}
	return ""
}

// made is the assignment, with the scenarios as the handbook in use reads them; one that is
// there no longer is left out. Where nothing was changed since it was made last it is the same one,
// so that what was handed out is what is marked, wherever it is saved again.
func (p *assigning) made() (*class.Assignment, []*content.Scenario, error) {
	var scenarios []*content.Scenario
	for _, id := range p.m.chosen {
		if s := p.a.session.Scenario(id); s != nil {
			scenarios = append(scenarios, s)
		}
	}
	out, err := class.NewAssignment(p.a.session.Book(), class.Assignment{
		Title: strings.TrimSpace(p.m.title), Note: strings.TrimSpace(p.m.note), Made: p.a.session.Now(), Due: class.Day(strings.TrimSpace(p.m.due)),
		Level: p.m.level, Role: p.m.role, Supervised: p.m.supervised, Open: p.m.open, Held: p.m.held,
	}, scenarios, p.m.own, 0)
	if err != nil {
		return nil, nil, err
	}
	if p.m.last == nil || !out.Repeats(p.m.last) {
		p.m.last = out
	}
	return p.m.last, scenarios, nil
}

func (p *assigning) save() {
	made, _, err := p.made()
	var raw []byte
	if err == nil {
		raw, err = made.Bytes()
	}
	if err != nil {
		p.a.window.Say("The assignment cannot be made. " + view.Capital(view.Sentence(err.Error())))
		return
	}
	p.a.save(class.FileName("assignment", made.Title), ".zip", made.Called(p.a.session.Now()), bytesOf(raw))
}

// paper saves a printed page of the assignment.
func (p *assigning) paper(name, what string, write func(io.Writer, *class.Assignment, []*content.Scenario) error) {
	made, scenarios, err := p.made()
	if err != nil {
		p.a.window.Say(what + " cannot be made. " + view.Capital(view.Sentence(err.Error())))
		return
	}
	p.a.save(class.FileName(name, made.Title), ".html", what, func(w io.Writer) error { return write(w, made, scenarios) })
}
