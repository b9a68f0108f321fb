package handbook

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/print"
	"faultwright/content/view"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// turn is a page of the window that is asked for by its name rather than found by what
// it says.
type turn struct {
	title string
	open  func()
}

// The words that ask for a walk seen whole, and for something on paper.
var (
	wholeWords = []string{"flow", "flowchart", "whole"}
	paperWords = []string{"print", "paper", "form"}
)

const (
	mostTurns = 12 // how many are shown
	leastWord = 4  // letters that tell a page from a word of any text
)

// turns lists the pages that a search of every kind asks for: those of the rail and of the
// reader's own vehicles whose names begin so, and the flows and pages to print whose names hold every word.
func (a *Area) turns(at place.Location) []turn {
	typed := strings.Fields(strings.ToLower(at.Query))
	if at.Kind != "" {
		return nil
	}
	var out []turn
	for _, e := range a.window.RailEntries() {
		if name := strings.Join(typed, " "); len(name) >= leastWord && strings.HasPrefix(strings.ToLower(e.Name), name) {
			out = append(out, turn{e.Name, e.Open})
		}
	}
	book := a.session.Book()
	all, _, _ := a.session.Vehicles() // what cannot be read is told on their page
	for _, v := range all {
		name, whole := strings.Join(typed, " "), strings.ToLower(v.Name)
		if name == whole || len(name) >= leastWord && strings.HasPrefix(whole, name) {
			out = append(out, turn{"Vehicle: " + view.Called(book, v, all), func() { a.window.Go(place.Vehicle(v.ID)) }})
		}
	}
	add := func(by []string, verb, title string, to place.Location) {
		if len(out) < mostTurns && asksFor(typed, by, title) {
			out = append(out, turn{verb + title, func() { a.window.Go(to) }})
		}
	}
	for _, id := range book.Forest.Beginnings() {
		add(wholeWords, "See whole: ", book.Forest.Tree(id).Title, place.Flow(id, a.session.VisitIn(id)))
	}
	add(paperWords, "Print: ", "the whole handbook", place.Print(print.Handbook))
	for _, id := range book.Forest.Beginnings() {
		add(paperWords, "Print: ", book.Forest.Tree(id).Title, place.Print(id))
	}
	if len(typed) > 1 { // else it could be any of them
		for _, kind := range view.Kinds() {
			for _, l := range view.All(book, kind) {
				if _, ok := print.Title(book, l.ID); ok && kind != view.KindTree {
					add(paperWords, "Print: ", l.Title, place.Print(l.ID))
				}
			}
		}
	}
	return out
}

// asksFor reports whether one of the words typed asks for a page of some sort, and all
// others begin words of its title. A word of one or two letters is one of its own.
func asksFor(typed, by []string, title string) bool {
	of := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool { return strings.ContainsRune(" ,:;?", r) })
	asked := false
	for _, word := range typed {
		begins := func(other string) bool { return other == word || len(word) > 2 && strings.HasPrefix(other, word) }
		sort := len(word) >= leastWord && slices.ContainsFunc(by, begins)
		if !sort && !slices.ContainsFunc(of, begins) {
			return false
		}
		asked = asked || sort
	}
	return asked
}

// pages shows the pages that were asked for by name.
func pages(turns []turn) fyne.CanvasObject {
	list := look.Stack(6, look.NewCaption("Pages"))
	for _, t := range turns {
		list.Add(look.NewLink(t.title, t.open))
	}
	return list
}
