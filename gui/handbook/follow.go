package handbook

import (
	"fmt"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
	"faultwright/gui/frame"
)

// saved is what the author of the handbook in use is at.
type saved struct {
	file string           // the file that was changed last; "" for none yet
	line int              // where it was changed first
	held *content.Library // what was saved but is not used, since what is under way would break by it; nil for none
	by   error            // what would break it
}

// why says why the handbook as saved is not in use.
func (s saved) why() string {
	return "What was saved is not in use yet, so that what is under way keeps its place. " + view.Sentence("The reason: "+s.by.Error())
}

// latest is the handbook as it was saved last, in use or not.
func (a *Area) latest() *content.Library {
	if a.saved.held != nil {
		return a.saved.held
	}
	return a.session.Book()
}

// Follow reads the handbook again each time that its author has saved something.
// Place and visit are kept.
func (a *Area) Follow() {
	if a.sources.Changed == nil {
		return
	}
	frame.Run(a.window.Runner(), jobFollow, a.sources.Changed, func(err error) {
		if err != nil { // the window closes
			return
		}
		a.readSaved()
		a.Follow()
	})
}

// readSaved reads the handbook that its author has saved. Nothing is told before it was
// read: the author looks at what he edits.
func (a *Area) readSaved() {
	if a.session.Book() == nil {
		a.Load()
		return
	}
	a.reading = true
	frame.Try(a.window.Runner(), jobRead, a.sources.Read, func(book *content.Library, err error) {
		if err != nil {
			a.stop(err)
			return
		}
		a.reading = false
		if file, line, ok := view.ChangedAt(a.latest(), book); ok {
			a.saved.file, a.saved.line = file, line
		}
		if why := a.session.Breaks(book); why != nil {
			a.saved.held, a.saved.by = book, why
			a.window.Return(a.saved.why())
			return
		}
		a.use(book, func(said string) string {
			told := []string{"The handbook was read again as saved.", problems(book, a.saved.file), said}
			return strings.Join(lists.Where(told, func(s string) bool { return s != "" }), " ")
		})
	})
}

// problems says how many problems a handbook has, and the first of them where it stands,
// in the file that was saved if there is one; "" for none.
func problems(book *content.Library, saved string) string {
	n := len(book.Diagnostics)
	if n == 0 {
		return ""
	}
	first := book.Diagnostics[0]
	if in := lists.Where(book.Diagnostics, func(d source.Diagnostic) bool { return d.Pos.File == saved }); len(in) > 0 {
		first = in[0]
	}
	return fmt.Sprintf("It has %s: %s", view.Count(n, "problem"), view.Sentence(first.String()))
}
