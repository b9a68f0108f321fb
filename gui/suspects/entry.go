package suspects

import (
	"cmp"
	"fmt"

	"fyne.io/fyne/v2"

	"faultwright/content/shorthand"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
	"faultwright/gui/look"
)

// mostTyped is how long a list the entry takes, in bytes: the toolkit lays a longer
// one out too slowly. It is some four hundred readings.
const mostTyped = 8000

const tooLong = "This list is too long for the entry, which takes some four hundred readings. Nothing of it was put in. Give it in parts."

// read reads the entry: what is a reading goes into the table, what is still to
// be asked of is asked once a block, and what cannot be read stays.
func (a *Area) read() {
	book := a.session.Book()
	l := shorthandList{reader: a.list.reader, book: book}
	if a.list.book != book {
		l.reader = shorthand.New(book)
	}
	list, err := l.reader.Read(a.typed())
	if err != nil {
		l.problem = err.Error()
		a.list = l
		return
	}
	l.List = list
	a.list = l
	a.take()
}

// take puts what of the list is a reading into the table.
func (a *Area) take() {
	account := a.session.Account()
	evidence := a.list.reader.Evidence(a.list.List)
	for _, e := range evidence {
		account = account.With(e)
	}
	if len(evidence) == 0 {
		return
	}
	a.session.Keep(here, 0, a.list.Left())
	rest := *a.list.List
	rest.Rows = nil
	for _, row := range a.list.Rows {
		if row.Kind != shorthand.Taken {
			rest.Rows = append(rest.Rows, row)
		}
	}
	a.list.List = &rest
	a.tell(account)
}

// answer answers what a block of the list is asked.
func (a *Area) answer(block int, said shorthand.Answer) {
	a.drawAfter(func() {
		a.list.List = a.list.reader.Resolve(a.list.List, block, said)
		a.take()
	})
}

// takeAs takes a row that is no quantity as the reading of one.
func (a *Area) takeAs(row shorthand.Row, q faulttree.Quantity) {
	r, err := faulttree.ParseReading(row.Typed, q)
	if err != nil {
		a.window.Say(view.Sentence(err.Error()))
		return
	}
	for i := range a.list.Rows {
		if o := &a.list.Rows[i]; o.Line == row.Line && o.Column == row.Column {
			o.Kind, o.Quantity, o.Reading = shorthand.Taken, q.ID, r
		}
	}
	a.drawAfter(a.take)
}

// entry is where readings are typed or pasted, with what the list is asked and
// what of it cannot be read.
func (a *Area) entry() (all []fyne.CanvasObject, field *look.Field) {
	field = look.NewLines("L1-N 121, L2-N 119, N-G 0.4? or paste a list", 3)
	a.window.Adopt(field)
	field.SetText(a.typed())
	field.Most, field.OnTooLong = mostTyped, func() { a.window.Say(tooLong) }
	asks := look.Stack(look.GapBlock)
	field.OnChanged = func(text string) {
		a.session.Keep(here, 0, text)
		if a.list.List != nil || a.list.problem != "" { // it is of another text now
			a.list.List, a.list.problem = nil, ""
			asks.Objects = nil
			asks.Refresh()
			a.window.Relayout()
		}
	}
	read := func() { a.drawAfter(a.read) }
	field.OnSubmitted = func(string) { read() }
	for _, o := range a.asks() {
		asks.Add(o)
	}
	all = []fyne.CanvasObject{
		look.Stack(8, field, look.Row(look.GapSmall, look.NewPrimary("Take these readings", read),
			look.NewSoft("“?” marks a doubt, “customer says” another's."))),
		asks,
	}
	return all, field
}

// asks is what is asked of the list, and what of it cannot be read.
func (a *Area) asks() []fyne.CanvasObject {
	if a.list.problem != "" {
		return []fyne.CanvasObject{look.NewCallout(faulttree.Caution, look.NewText(a.list.problem))}
	}
	if a.list.List == nil || a.list.book != a.session.Book() {
		return nil
	}
	var out []fyne.CanvasObject
	for i, b := range a.list.Blocks {
		if ask := a.askBlock(i, b); ask != nil {
			out = append(out, ask)
		}
	}
	if refused := a.refused(); refused != nil {
		out = append(out, refused)
	}
	return out
}

// askBlock asks the one thing that a block lacks first: its place, then its
// state, then its unit. It is nil where nothing is lacking.
func (a *Area) askBlock(i int, b shorthand.Block) fyne.CanvasObject {
	all := b.Questions()
	if len(all) == 0 {
		return nil
	}
	q := all[0]
	rows := 0
	about := ""
	for _, row := range a.list.Rows {
		if row.Block == i && row.Kind == shorthand.Asked {
			if rows++; rows == 1 {
				about = row.Text
			}
		}
	}
	if rows > 1 {
		about = fmt.Sprintf("%s, and %d more", about, rows-1)
	}
	grid := look.Grid(150, 8, 3)
	for k, c := range q.Choices {
		grid.Add(a.first(look.NewChoice(k+1, view.Capital(c.Title), "", func() { a.answer(i, q.Answer(c.ID)) })))
	}
	return look.Stack(8, look.NewStrong(q.Title), look.NewSoft(about), grid)
}

// mostRefused is how many rows that cannot be read are explained at once.
const mostRefused = 6

// refused says why rows stay in the entry, and what they may be; nil for none.
func (a *Area) refused() fyne.CanvasObject {
	list := look.Stack(8)
	n := 0
	for _, row := range a.list.Rows {
		if row.Kind != shorthand.Refused && row.Kind != shorthand.Text {
			continue
		}
		if n++; n > mostRefused {
			continue
		}
		reason := cmp.Or(row.Why, "No reading is found in this.")
		list.Add(look.NewProse(look.Run{Text: "“" + cut(row.Text) + "” ", Style: fyne.TextStyle{Bold: true}}, look.Run{Text: reason}))
		for _, id := range row.Nearest {
			if q := a.session.Book().Forest.Quantities[id]; q.ID != "" && row.Typed != "" {
				list.Add(look.NewLink("Take it as “"+q.Title+"”", func() { a.takeAs(row, q) }))
			}
		}
	}
	if n == 0 {
		return nil
	}
	if n > mostRefused {
		list.Add(look.NewSoft("And " + view.Count(n-mostRefused, "more row") + "."))
	}
	return look.NewCallout(faulttree.Notice, look.Stack(8, look.NewText("Left in the entry, for these are not taken:"), list))
}

// cut shortens what was pasted to what a line can show.
func cut(text string) string {
	const most = 80
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// seen and tried make evidence of an answer.
func seen(observation, choice string) suspect.Evidence {
	return suspect.Evidence{Seen: &suspect.Seen{Observation: observation, Choice: choice}}
}

func tried(intervention, tree string, gone bool) suspect.Evidence {
	return suspect.Evidence{Tried: &suspect.Tried{Intervention: intervention, Tree: tree, Gone: gone}}
}
