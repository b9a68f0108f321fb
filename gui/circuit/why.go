package circuit

import (
	"context"
	"maps"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// jobWhy is the work of finding the vehicle that fits what was read.
const jobWhy = "circuit why"

// account is what is known of the vehicle that a place speaks of: that of a visit,
// or what is told outside of one.
func (a *Area) account(at place.Location) (known view.Account, is bool) {
	if at.Query == "" {
		return known, false
	}
	if at.Kind == place.Told {
		return a.session.Account(), true
	}
	visit := a.session.UnderWay(at.Kind)
	if visit == nil {
		return known, false
	}
	known = visit.Account()
	facts := map[string]string{}
	maps.Copy(facts, known.Facts)
	book := a.session.Book()
	// the usual face is left out: who has never set it may have another plug
	if face := a.session.Settings().Face; book.Forest.Plug(facts) == "" && face != figure.Face14_50 {
		maps.Copy(facts, book.Forest.FactsOfPlug(face.String()))
	}
	known.Facts = facts
	return known, true
}

// wanted is the fault that a place speaks of, and where it may be.
func (a *Area) wanted(at place.Location) scenes.Wanted {
	want := scenes.Wanted{Faults: []string{at.Query}}
	if visit := a.session.UnderWay(at.Kind); visit != nil {
		want = scenes.WantedOf(a.session.Book(), visit.Walk(), at.Query)
	}
	if at.Where != "" {
		want.Places = []faulttree.Place{faulttree.Place(at.Where)}
	}
	if chosen := a.session.Book().Rigs[at.ID]; chosen != nil {
		want.Rigs, want.Faults = []*rig.Rig{chosen}, []string{at.Query}
	}
	return want
}

// work finds, away from the window's thread, the vehicle that fits all that is known
// with the fault of a place, and puts it on the bench.
func (a *Area) work(b bench, account view.Account) error {
	want, reasons := a.wanted(b.at), a.session.Reasoning()
	if !reasons.Can(want) {
		if b.at.ID == "" {
			return errNoRig
		}
		shown, err := a.shown(b.at)
		if err == nil {
			a.put(b, scenes.Shown{Explanation: shown, First: -1})
		}
		return err
	}
	before := a.bench
	a.bench = b
	done := false
	frame.Try(a.window.Runner(), jobWhy, func(ctx context.Context) (scenes.Shown, error) {
		return reasons.Why(ctx, account, want)
	}, func(shown scenes.Shown, err error) {
		a.bench = before // for its probes
		if err != nil || shown.Scene == nil {
			b.problem = "This circuit cannot be computed."
			if err != nil {
				b.problem += " " + view.Sentence(err.Error())
			}
			a.bench = b
		} else {
			a.put(b, shown)
		}
		if done && a.window.Here().Top() == b.at {
			a.window.Render()
		}
	})
	done = true // before that the page is not built yet, and is built by whoever arrives
	return nil
}

// waiting is the page while the vehicle is worked out, or where that failed.
func (a *Area) waiting() frame.Page {
	text := "Working out which vehicle fits all of your readings. The first time takes some seconds."
	if a.bench.problem != "" {
		text = a.bench.problem
	}
	return frame.Page{Body: []fyne.CanvasObject{parts.Head(a.window, "Circuit", "Why it reads this"), look.NewText(text), look.Row(12, look.NewButton("Back", a.window.Back))}}
}

// reason says why one of the reader's readings is what it is; nil where there is
// none, and where the fault was changed since.
func (c *circuit) reason() fyne.CanvasObject {
	b := &c.a.bench
	if b.reason < 0 || b.of != c.s.Variant() {
		return nil
	}
	titles := lists.Each(b.why.Reasons, func(r scenes.Reason) string { return r.Title })
	r := b.why.Reasons[b.reason]
	text := look.Stack(8, look.NewText(r.Says()))
	if len(r.Why.Text) > 0 {
		text.Add(look.NewStrong(strings.Join(r.Why.Text, " ")))
	}
	text.Add(look.NewSoft("Said of the vehicle as this page opens, before anything below is turned."))
	list := look.NewSelect(titles, b.reason, func(i int) {
		b.reason = i
		b.why.Turn(i)
		b.focus = whyCaption
		c.a.window.Render()
	})
	return look.NewPanel(look.Stack(10, look.Labelled(whyCaption, list), text))
}

const whyCaption = "Why it reads this"
