// Package flow is the page on which a tree is seen whole: its steps, their limits and
// where each leads. It can be moved, zoomed and searched, and every box opens what it
// stands for. The way of the visit under way is marked in it.
package flow

import (
	"faultwright/content"
	"faultwright/content/flow"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Session is what the page asks of the session.
type Session interface {
	Book() *content.Library
	UnderWay(visit string) *session.Visit
}

// Area is the page of a tree's flow.
type Area struct {
	window  *frame.Frame
	session Session
	seen    map[string]*state // by tree, as long as the window is open
	laid    laid
}

// state is how the reader left the flow of a tree.
type state struct {
	view    look.View // a zoom of 0 where it was not looked at yet
	columns int       // of the layout that this is a part of
	at      string    // the box that had the keyboard, by what it stands for; "" for where one looks first
	visit   *session.Visit
	answers int
}

// laid is the flow laid out last, and what for.
type laid struct {
	key    key
	layout flow.Layout
}

type key struct {
	book    *content.Library
	tree    string
	visit   *session.Visit
	answers int
	columns int
}

// New makes the page.
func New(w *frame.Frame, s Session) *Area {
	return &Area{window: w, session: s, seen: map[string]*state{}}
}

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{place.FlowPage: {Rail: rail, Build: a.page}}
}

// page shows the flow of a tree.
func (a *Area) page(at place.Location) frame.Page {
	k := key{book: a.session.Book(), tree: at.ID, columns: flow.DefaultColumns}
	if a.window.Narrow() {
		k.columns = 1
	}
	if v := a.session.UnderWay(at.Kind); v != nil {
		k.visit, k.answers = v, len(v.Walk().Trail())
	}
	if a.laid.key != k {
		known := faulttree.Unknown
		if k.visit != nil { // what is drawn is for its vehicle
			known = k.visit.Walk().Fact
		}
		g, err := flow.Of(k.book, k.tree, known)
		if err != nil {
			return a.window.Missing("This walk cannot be drawn: " + err.Error() + ".")
		}
		if k.visit != nil {
			g = g.Along(k.visit.Walk())
		}
		a.laid = laid{k, flow.Lay(g, flow.Options{Columns: k.columns})}
	}
	if a.seen[at.ID] == nil {
		a.seen[at.ID] = &state{}
	}
	s := a.seen[at.ID]
	if s.columns != k.columns {
		s.view, s.columns = look.View{}, k.columns
	}
	if s.visit != k.visit || s.answers != k.answers { // the walk stands elsewhere
		s.at, s.visit, s.answers = "", k.visit, k.answers
	}
	return newFlowPage(a, at, a.laid.layout, s).page()
}
