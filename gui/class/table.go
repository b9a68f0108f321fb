package class

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/content/document"
	"faultwright/content/plainfile"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// opened is a folder of attempts that an instructor has opened.
type opened struct {
	all         *class.Class // nil before it was read
	by          *class.ByRubric
	hidden      bool   // names are hidden
	projected   bool   // nothing but the table is shown, in large type
	doing       string // what is being done, "" for nothing
	done, total int
	beliefs     map[*class.Checked][]string // worked out for the attempts that were looked at
	telling     *class.Checked              // that for which it is being worked out
	step        int                         // of the attempt that is gone through again
}

// toTable goes on with the class that is open, or asks for a folder.
func (a *Area) toTable() {
	if a.opened.all != nil || a.opened.doing != "" {
		a.window.Go(place.HandedIn())
		return
	}
	a.askFolder()
}

func (a *Area) askFolder() {
	a.files.AskFolder(parts.Chosen(a.window, "The folder was not opened.", func(at fyne.ListableURI) { a.OpenFolder(at.Path()) }))
}

const (
	jobFolder = "folder of attempts"
	jobTell   = "beliefs beside an attempt"
)

// folderRead is what came of reading a folder.
type folderRead struct {
	book *content.Library // by which it was read
	all  *class.Class
	by   *class.ByRubric
}

// OpenFolder verifies and marks the attempts of a folder, away from the window's
// goroutine, and shows the table.
func (a *Area) OpenFolder(dir string) {
	book, zone := a.session.Book(), a.session.Now().Location()
	a.book, a.opened = book, opened{doing: "The attempts are verified", hidden: a.opened.hidden, projected: a.opened.projected}
	a.window.Go(place.HandedIn())
	frame.TryTelling(a.window.Runner(), jobFolder, func(ctx context.Context, tell func(done, total int)) (folderRead, error) {
		root, err := plainfile.Folder(dir)
		if err != nil {
			return folderRead{book: book}, err
		}
		defer root.Close()
		all, err := class.Collect(ctx, book, plainfile.FS(root), class.Options{Zone: zone})
		if err != nil {
			return folderRead{book: book}, err
		}
		by := class.NewMarker(book)
		if by == nil {
			return folderRead{book, all, nil}, nil
		}
		return folderRead{book, all, by}, all.Mark(ctx, by, tell)
	}, func(done, total int) {
		a.opened.doing, a.opened.done, a.opened.total = "The attempts are marked", done, total
		a.window.Render()
	}, a.showFolder)
}

// showFolder shows what came of reading a folder.
func (a *Area) showFolder(x folderRead, err error) {
	a.opened.doing = ""
	switch {
	case errors.Is(err, class.ErrNoAssignment):
		err = errors.New("there is no assignment in the folder; put the file that was handed out beside the attempts")
	case err == nil && x.book != a.session.Book():
		err = errors.New("the handbook was read anew meanwhile; open the folder again")
	}
	if err != nil {
		a.window.Say("This folder cannot be read. " + view.Capital(view.Sentence(err.Error())))
	} else {
		a.opened.all, a.opened.by, a.opened.beliefs = x.all, x.by, map[*class.Checked][]string{}
	}
	a.window.Render()
}

// stopOpening ends the reading of a folder, as when its page is left.
func (a *Area) stopOpening() {
	a.window.Runner().Cancel(jobFolder)
	a.opened.doing = ""
}

// tablePage is the class on one page.
func (a *Area) tablePage(place.Location) frame.Page {
	o := &a.opened
	switch {
	case o.doing != "":
		how := o.doing + " …"
		if o.total > 0 {
			how = fmt.Sprintf("%s: %d of %d.", o.doing, o.done, o.total)
		}
		return frame.Page{Body: []fyne.CanvasObject{
			parts.Head(a.window, "Practice · a class", "Handed in"), look.NewText(how + " Leaving this page stops it as well."),
			look.Row(12, look.NewButton("Stop", func() {
				a.stopOpening()
				a.window.Say("It was stopped.")
				a.window.Render()
			})),
		}}
	case o.all == nil:
		return frame.Page{Body: []fyne.CanvasObject{
			parts.Head(a.window, "Practice · a class", "Nothing is open"),
			look.NewText("Put the files of your learners and the assignment into one folder, whatever the files are called, and open it."),
			look.Row(12, look.NewPrimary("Open a folder", a.askFolder), look.NewButton("Back", a.window.Back)),
		}}
	}
	c := o.all
	if o.projected {
		return a.projection()
	}
	body := []fyne.CanvasObject{parts.Head(a.window, "Practice · a class", c.Assignment.Title), look.NewText(paper.Summary(c))}
	if len(c.Learners) > 0 {
		body = append(body, look.NewCheck("Hide the names", o.hidden, func(on bool) {
			o.hidden = on
			a.window.Render()
		}), a.table(), legend())
	}
	if doubts := c.Doubts(); len(doubts) > 0 && !o.hidden {
		body = append(body, look.NewCallout(faulttree.Notice, look.Numbered(doubts...)))
	}
	lists := look.Grid(420, 24, 2)
	for _, list := range paper.GapLists(a.session.Book(), c, o.hidden) {
		lists.Add(gapList(list))
	}
	body = append(body, lists)
	elsewhere := look.Row(12, look.NewButton("Open another folder", a.askFolder), look.NewButton("Back", a.window.Back))
	if a.window.Narrow() { // there a foot of so many buttons leaves no room for the table
		return frame.Page{Body: append(body, a.onward(), elsewhere)}
	}
	return frame.Page{Body: append(body, elsewhere), Foot: a.onward()}
}

// onward is what is done with a class that was marked.
func (a *Area) onward() fyne.CanvasObject {
	c, o := a.opened.all, &a.opened
	return look.Row(12,
		look.NewPrimary("Save the feedback", a.saveFeedback),
		look.NewButton("Show it to the class", func() { a.project(true) }),
		look.NewButton("Save the page (HTML)", func() {
			a.save(class.FileName("class", c.Assignment.Title), ".html", "The class page", func(w io.Writer) error { return paper.Class(w, a.session.Book(), c, o.hidden) })
		}),
		look.NewButton("Save the marks (CSV)", func() {
			a.save(class.FileName("marks", c.Assignment.Title), ".csv", "The list of marks", func(w io.Writer) error { return c.CSV(w, o.hidden) })
		}))
}

// project shows the table alone, or the whole page again. Names are hidden first: who
// wants them before a class says so.
func (a *Area) project(on bool) {
	a.opened.projected, a.opened.hidden = on, on || a.opened.hidden
	a.window.Render()
	a.window.ScrollTop()
}

// projection is the table alone, to be read from the back of a room.
func (a *Area) projection() frame.Page {
	names := "Hide the names"
	if a.opened.hidden {
		names = "Show the names"
	}
	return frame.Page{
		Body: []fyne.CanvasObject{parts.Head(a.window, "Practice · a class", a.opened.all.Assignment.Title), a.table(), legend(), look.Row(12,
			look.NewPrimary("The whole page", func() { a.project(false) }),
			look.NewButton(names, func() {
				a.opened.hidden = !a.opened.hidden
				a.window.Render()
			}))},
		Whole: true,
	}
}

func legend() fyne.CanvasObject { return look.NewSoft(strings.Join(class.Legend(), "     ")) }

// table is learners by scenarios; each cell leads to its attempt. In a narrow window
// every learner has a block of his own.
func (a *Area) table() fyne.CanvasObject {
	c, hidden := a.opened.all, a.opened.hidden
	t, learners := c.Table(hidden), c.Ordered(hidden)
	if len(t.Rows) == 0 {
		return look.NewText("Nobody has handed in anything at this assignment yet.")
	}
	if a.window.Narrow() {
		out := look.Stack(14)
		for i, row := range t.Rows {
			block := look.Stack(4, look.NewStrong(lateName(row)))
			for k, cell := range row.Cells {
				block.Add(look.NewTrailRow(t.Columns[k], cellText(cell), a.toAttempt(learners[i], k)))
			}
			out.Add(look.NewPanel(block))
		}
		return out
	}
	text := func(s string, bold bool, target string) []document.Inline {
		if target != "" {
			return []document.Inline{document.Link{Target: target, Text: []document.Inline{document.Text{Value: s, Bold: bold}}}}
		}
		return []document.Inline{document.Text{Value: s, Bold: bold}}
	}
	table := document.Table{Header: [][]document.Inline{text("Learner", true, "")}, Align: make([]document.Align, 1+len(t.Columns))}
	said := cellText
	if !t.Worded() {
		said = class.Cell.Short
	}
	var numbered []string
	for k, head := range t.Heads() {
		table.Header = append(table.Header, text(head, true, ""))
		numbered = append(numbered, head+"  "+t.Columns[k])
	}
	for i, row := range t.Rows {
		line := [][]document.Inline{text(lateName(row), true, "")}
		for k, cell := range row.Cells {
			target := ""
			if learners[i].Tries[k] != nil {
				target = fmt.Sprintf("attempt:%d:%d", i, k)
			}
			line = append(line, text(said(cell), false, target))
		}
		table.Rows = append(table.Rows, line)
	}
	follow := func(target string) {
		var i, k int
		if n, _ := fmt.Sscanf(target, "attempt:%d:%d", &i, &k); n == 2 && i < len(learners) {
			a.toAttempt(learners[i], k)()
		}
	}
	out := look.NewBlock(table, follow)
	if a.opened.projected {
		out = look.NewLargeTable(table, follow)
	}
	if t.Worded() {
		return out
	}
	return look.Stack(12, out, look.NewText(strings.Join(numbered, "     ")))
}

func lateName(row class.Row) string {
	if row.Late {
		return row.Name + " (late)"
	}
	return row.Name
}

func cellText(c class.Cell) string {
	return strings.Join(strings.Fields(strings.Join([]string{c.Shape, c.Total, c.Word, c.Unsafe, c.Doubt}, " ")), " ")
}

// gapList is one list of what the class has yet to learn.
func gapList(list paper.GapList) fyne.CanvasObject {
	out := look.Stack(6, look.NewCaption(list.Heading))
	if len(list.Gaps) == 0 {
		out.Add(look.NewSoft("Nothing."))
	}
	for _, g := range list.Gaps {
		out.Add(look.NewProse(look.Run{Text: g.Text + "  "}, look.Run{Text: g.Who, Style: fyne.TextStyle{Bold: true}}))
	}
	return out
}

// saveFeedback writes a page for each learner into a new folder, in the one that is chosen.
func (a *Area) saveFeedback() {
	c, book := a.opened.all, a.session.Book()
	a.files.AskFolder(parts.Chosen(a.window, "The feedback was not saved.", func(at fyne.ListableURI) {
		dir, err := newFolder(at.Path(), class.FileName("feedback", c.Assignment.Title))
		n := 0
		if err == nil {
			n, err = writeFeedback(dir, book, c)
		}
		if err != nil {
			a.window.Say(fmt.Sprintf("%s of %d were saved, then: %s", view.Count(n, "page"), len(c.Learners), view.Capital(view.Sentence(err.Error()))))
			return
		}
		a.window.Say("The feedback is in " + dir + ": " + view.Count(n, "page") + ".")
	}))
}

// mostFolders is how many folders of a name are made beside one another.
const mostFolders = 100

// newFolder makes a folder in dir, under a name that is not taken yet.
func newFolder(dir, name string) (string, error) {
	for n := 1; ; n++ {
		path := filepath.Join(dir, name)
		if n > 1 {
			path += fmt.Sprintf("-%d", n)
		}
		if err := os.Mkdir(path, 0o755); err == nil || !errors.Is(err, os.ErrExist) || n == mostFolders {
			return path, err
		}
	}
}

// writeFeedback writes a page for each learner into a folder, and says how many it
// wrote. A file that is there already is never replaced.
func writeFeedback(dir string, book *content.Library, c *class.Class) (n int, err error) {
	taken := map[string]bool{}
	for _, l := range c.Learners {
		file, err := os.OpenFile(filepath.Join(dir, paper.FeedbackName(l.Name, taken)), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err != nil {
			return n, err
		}
		err = paper.Feedback(file, book, c, l)
		if closed := file.Close(); err == nil {
			err = closed
		}
		if err != nil {
			return n, err
		}
		n++
	}
	return n, nil
}
