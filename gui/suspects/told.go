package suspects

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree/suspect"
	"faultwright/gui/look"
)

// facts are the complaint and what is known, each to be changed; the one that is asked has
// its choices below them.
func (a *Area) facts() fyne.CanvasObject {
	row := look.LinkRow()
	var asked fyne.CanvasObject
	account, book := a.session.Account(), a.session.Book()
	for _, f := range append([]view.FactOf{view.ComplaintOf(book, account)}, view.FactsOf(book, account.Facts)...) {
		name, known := "fact "+f.ID, f.Known
		known = cmp.Or(known, "not said")
		row.Add(look.NewLink(f.Name+": "+known, func() { a.unfold(name) }))
		if a.open == name {
			asked = a.choices(f.Question, f.Choices, func(id string) {
				if f.ID == suspect.Complaint {
					account.Tree = id
				} else {
					account = account.Knowing(f.ID, id)
				}
				a.change(account)
			})
		}
	}
	if asked == nil {
		return row
	}
	return look.Stack(look.GapBlock, row, asked)
}

// choices asks something, with a digit for each answer.
func (a *Area) choices(question string, all []view.Choice, chosen func(id string)) fyne.CanvasObject {
	list := look.Stack(8)
	for _, c := range all {
		list.Add(a.first(look.NewChoice(c.Digit, c.Text, "", func() { chosen(c.ID) })))
	}
	return look.Stack(8, look.NewStrong(question), list)
}

// first makes the first of some choices the one that has the keyboard.
func (a *Area) first(c *look.Choice) *look.Choice {
	if a.page != nil && a.page.focus == nil {
		a.page.focus = c
	}
	return c
}

// table is what was told, each row to be marked and taken back.
func (a *Area) table() fyne.CanvasObject {
	account := a.session.Account()
	rows := view.RowsOf(a.session.Book(), account, a.session.Settings().Meter)
	out := look.Stack(0)
	if len(rows) == 0 {
		out.Add(look.NewSoft("Nothing is told yet. What you read, saw and tried stands here, in any order."))
	}
	for _, t := range rows {
		name := fmt.Sprint("row ", t.Index)
		row := look.NewTrailRow(t.Title, t.Value, func() { a.unfold(name) })
		out.Add(row)
		about := slices.DeleteFunc(append(slices.Clone(t.Marks), t.Danger, t.WhyNot), func(s string) bool { return s == "" })
		if len(about) > 0 {
			soft := look.NewSoft(view.Capital(strings.Join(about, " · ")))
			if t.Danger != "" {
				soft.Ink = look.ColorInk
			}
			out.Add(look.Pad(0, 0, 8, 0, soft))
		}
		if a.open == name {
			out.Add(look.Pad(8, 0, 12, 0, a.marks(account, t.Index)))
		}
		if row.Unruled = len(about) > 0 || a.open == name; row.Unruled {
			out.Add(look.NewLine())
		}
	}
	return out
}

// marks is what can be said of a row, and taking it back.
func (a *Area) marks(account view.Account, i int) fyne.CanvasObject {
	mark := func(text string, on bool, set func(*view.Account)) fyne.CanvasObject {
		return look.NewCheck(text, on, func(bool) {
			next := account
			next.Evidence = slices.Clone(account.Evidence)
			set(&next)
			a.change(next)
		})
	}
	e := account.Evidence[i]
	return look.Row(8,
		mark("Not sure of it", e.Doubtful, func(n *view.Account) { n.Evidence[i].Doubtful = !e.Doubtful }),
		mark("Told by somebody else", e.Told, func(n *view.Account) { n.Evidence[i].Told = !e.Told }),
		look.NewButton("Take it back", func() { a.change(account.Without(i)) }))
}

// What of the ways to tell more is open.
const (
	openSeen  = "seen"
	openTried = "tried"
)

// more is the ways to tell more than readings, and the one that is open.
func (a *Area) more() fyne.CanvasObject {
	account := a.session.Account()
	row := look.LinkRow(
		look.NewLink("Something seen", func() { a.unfold(openSeen) }),
		look.NewLink("Something tried", func() { a.unfold(openTried) }),
	)
	if len(account.Evidence) > 0 && account.Round() == lastRound(account) {
		row.Add(look.NewLink("It was repaired", func() {
			account.Repairs = account.Round() + 1
			a.change(account)
		}))
	}
	if len(a.earlier) > 0 {
		row.Add(look.NewLink("Undo", func() {
			a.open = ""
			a.undo()
			a.window.Render()
		}))
	}
	if len(account.Evidence)+len(account.Facts) > 0 || account.Tree != "" {
		row.Add(look.NewLink("Start over", func() { a.change(view.Account{}) }))
	}
	out := look.Stack(look.GapBlock, row)
	if n := account.Round(); n > 0 {
		out.Add(look.NewSoft("What is told now is of the vehicle after " + view.Count(n, "repair") + "; what was told before counts no more."))
	}
	switch {
	case strings.HasPrefix(a.open, openSeen):
		out.Add(a.askSeen())
	case strings.HasPrefix(a.open, openTried):
		out.Add(a.askTried())
	}
	return out
}

// lastRound is that of the last thing told.
func lastRound(a view.Account) int { return a.Evidence[len(a.Evidence)-1].Round }

// askSeen lists what can be asked of what was seen, and asks the one that is open.
func (a *Area) askSeen() fyne.CanvasObject {
	account := a.session.Account()
	list := look.Stack(8)
	for _, o := range a.session.Book().Forest.Observations {
		if o.Needs.Unmet(account.Fact) {
			continue
		}
		name := openSeen + " " + o.ID
		if a.open != name {
			if a.open == openSeen {
				list.Add(a.first(look.NewChoice(0, o.Title, "", func() { a.unfold(name) })))
			}
			continue
		}
		var choices []view.Choice
		for k, s := range o.Choices {
			choices = append(choices, view.Choice{ID: s.ID, Text: s.Text, Digit: k + 1})
		}
		list.Add(a.choices(o.Title, choices, func(id string) { a.change(account.With(seen(o.ID, id))) }))
	}
	return list
}

// askTried asks with which complaint the reader came, lists what can be tried for
// it, and asks whether it is gone after the one that is open.
func (a *Area) askTried() fyne.CanvasObject {
	account, book := a.session.Account(), a.session.Book()
	if book.Forest.Tree(account.Tree) == nil {
		return a.choices("With which complaint did you come? What was tried is judged by it.", view.Complaints(book), func(id string) {
			account.Tree = id
			a.open = openTried
			a.tell(account)
			a.window.Render()
		})
	}
	list := look.Stack(8, look.NewSoft("Judged by the complaint of “"+view.TreeTitle(book, account.Tree)+"”."))
	for _, v := range book.Forest.Interventions {
		if v.Needs.Unmet(account.Fact) {
			continue
		}
		name := openTried + " " + v.ID
		if a.open != name {
			if a.open == openTried {
				list.Add(a.first(look.NewChoice(0, v.Title, "", func() { a.unfold(name) })))
			}
			continue
		}
		choices := []view.Choice{{ID: view.Gone, Text: "Gone after it", Digit: 1}, {ID: view.StillThere, Text: "Still there", Digit: 2}}
		list.Add(a.choices(v.Title, choices, func(id string) {
			a.change(account.With(tried(v.ID, account.Tree, id == view.Gone)))
		}))
	}
	if a.open == openTried {
		list.Add(look.NewLink("Another complaint", func() {
			account.Tree = ""
			a.tell(account)
			a.window.Render()
		}))
	}
	return list
}
