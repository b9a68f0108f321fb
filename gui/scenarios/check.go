package scenarios

import (
	"context"
	"fmt"
	"strings"
	"sync"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/suspect"
	"faultwright/gui/frame"
	"faultwright/gui/look"
)

// check is what is known of a scenario before it is handed out.
type check struct {
	of      string // the file that was checked; "" for none yet
	running bool
	weighed int // readings, while it is running
	found   scenes.Checked
	err     error
}

const jobCheck = "scenario check"

// begin checks a scenario, away from the window's goroutine.
func (a *Area) begin(m *making) {
	s, text, problems := m.form.Scenario(context.Background(), a.book)
	if len(problems) > 0 {
		return
	}
	a.stopCheck()
	m.check = check{of: text, running: true}
	book, meter := a.book, a.session.Settings().Meter
	here := a.window.Here()
	shown := func() {
		if a.window.Here().Same(here) {
			a.window.Render()
		}
	}
	frame.TryTelling(a.window.Runner(), jobCheck, func(ctx context.Context, tell func(done, total int)) (scenes.Checked, error) {
		return scenes.NewReasoning(book, meter, counting(book, tell)).Check(ctx, s)
	}, func(done, _ int) {
		m.check.weighed = done
		shown()
	}, func(found scenes.Checked, err error) {
		m.check.running, m.check.found, m.check.err = false, found, err
		shown()
	})
	shown()
}

// stopCheck stops a check that is under way.
func (a *Area) stopCheck() {
	if !a.window.Runner().Busy(jobCheck) {
		return
	}
	a.window.Runner().Cancel(jobCheck)
	for _, m := range a.made {
		if m.check.running {
			m.check = check{}
		}
	}
}

// counting draws the vehicles of a handbook, which tell how many readings of them
// were asked for.
func counting(book *content.Library, tell func(done, total int)) scenes.Draw {
	count := &counter{tell: tell}
	return func(ctx context.Context, o drawn.Options) (suspect.Population, error) {
		p, err := drawn.New(ctx, scenes.DrawnFrom(book), o)
		if err != nil {
			return nil, err
		}
		return counted{p, count}, nil
	}
}

// counter counts what was worked out. A check is told in steps of a hundred; what
// goes beyond that is not told.
type counter struct {
	mu   sync.Mutex
	n    int
	tell func(done, total int)
}

func (c *counter) add() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.n++
	c.tell(c.n, 100)
}

type counted struct {
	suspect.Population
	count *counter
}

func (c counted) Column(ctx context.Context, q faulttree.Quantity) ([]float32, error) {
	out, err := c.Population.Column(ctx, q)
	c.count.add()
	return out, err
}

func (c counted) More(ctx context.Context, near []int, n int) (suspect.Population, error) {
	p, err := c.Population.More(ctx, near, n)
	if err != nil {
		return nil, err
	}
	return counted{p, c.count}, nil
}

// checking is the button, and what was found.
func (a *Area) checking(m *making, text string) fyne.CanvasObject {
	c := m.check
	out := look.Stack(8, look.NewCaption("Before you hand it out"))
	if c.running {
		out.Add(look.NewText(fmt.Sprintf("Being checked: %s weighed so far. The first ones take some seconds.", view.Count(c.weighed, "reading"))))
		out.Add(look.Row(12, look.NewButton("Stop checking", func() {
			a.stopCheck()
			a.window.Render()
		})))
		return out
	}
	do := look.NewButton("Check whether it can be solved", func() { a.begin(m) })
	if text == "" {
		do.Disable()
	}
	if c.of != "" && c.of != text {
		out.Add(look.NewSoft("It was checked before you changed it."))
	} else if c.of != "" {
		for _, o := range verdict(c) {
			out.Add(o)
		}
	}
	out.Add(look.Row(12, do))
	return out
}

// verdict says what was found.
func verdict(c check) []fyne.CanvasObject {
	if c.err != nil {
		return []fyne.CanvasObject{look.NewCallout(faulttree.Caution, look.NewText("It could not be checked. "+view.Capital(view.Sentence(c.err.Error()))))}
	}
	var out []fyne.CanvasObject
	f := c.found
	if f.Unsolved != "" {
		out = append(out, look.NewCallout(faulttree.Caution, look.Stack(4, look.NewStrong("It cannot be solved."), look.NewText(f.Unsolved))))
	}
	for _, text := range append(append([]string{}, f.Contradicts...), f.GivesAway...) {
		out = append(out, look.NewCallout(faulttree.Caution, look.NewText(view.Sentence(text))))
	}
	if f.Unsolved == "" {
		out = append(out, look.NewText(fmt.Sprintf("What may be read, %s of evidence, gives %s to what is hidden.", view.Count(f.Solved.Readings, "piece"), view.ShareText(f.Solved.Share))))
	}
	if f.Fine() {
		out = append(out, look.NewText("Nothing is to be mended: neither does the answer contradict what is hidden, nor does the story give it away."))
	}
	if len(f.Solved.Else) > 0 && f.Unsolved == "" {
		out = append(out, look.NewSoft("What else fits: "+strings.Join(f.Solved.Else, "; ")+"."))
	}
	if f.Meter != "" {
		out = append(out, look.NewText(f.Meter))
	}
	return out
}
