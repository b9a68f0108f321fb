package gui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/faulttree"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// marked lists the choices of the page that are marked.
func (w *window) marked() (titles []string) {
	for _, c := range frametest.Find[*look.Choice](w.Reader) {
		if c.Marked() {
			titles = append(titles, c.Title())
		}
	}
	return titles
}

// answers is how many answers stand in the visit under way.
func (w *window) answers() int { return len(w.session.Visit().Walk().Trail()) }

// clickAt presses whatever the window shows at a place.
func (w *window) clickAt(o fyne.CanvasObject) func() {
	x, top, right, bottom := bounds(o)
	at := fyne.NewPos((x+right)/2, (top+bottom)/2)
	return func() { test.TapCanvas(w.Window.Window().Canvas(), at) }
}

// Somebody with the meter in hand types what it shows where a choice is asked.
func TestAReadingTypedAtAChoiceChoosesNothing(t *testing.T) {
	w := open(t, wide, shipped)
	w.begin(faulttree.ParseRef("twelve-volt#too-much", ""))
	w.Type("1")
	if m := w.marked(); len(m) != 1 || !strings.HasPrefix(m[0], "It is right for this kind") || w.answers() != 0 {
		t.Fatalf("1 marks %q, %d answers", m, w.answers())
	}
	w.Type("2.6")
	w.WantSaid("A choice is asked here", "“12.6” reads like a reading", "later")
	w.Key(fyne.KeyReturn)
	if m := w.marked(); len(m) != 0 || w.answers() != 0 || w.Here().Page != place.WalkPage {
		t.Errorf("12.6 marks %q, %d answers", m, w.answers())
	}
	for _, typed := range []string{"12", "-3", "119"} {
		w.Key(fyne.KeyEscape)
		w.Type(typed)
		if m := w.marked(); len(m) != 0 || w.Said() == "" {
			t.Errorf("%s marks %q and says %q", typed, m, w.Said())
		}
	}
	w.Key(fyne.KeyEscape)
	w.Type("ol")
	w.WantSaid("“ol” reads like a reading")
	w.Key(fyne.KeyEscape)
	w.Type("x1") // a letter beside the digit
	if m := w.marked(); len(m) != 1 {
		t.Errorf("x1 marks %q", m)
	}
	w.Type("2")
	w.Key(fyne.KeyBackspace)
	if m := w.marked(); len(m) != 1 || w.Said() != "" {
		t.Errorf("12 and Backspace mark %q and say %q", m, w.Said())
	}
	w.Type("2")
	w.Key(fyne.KeyEscape) // takes back what was typed, and stays here
	if w.Said() != "" || w.Here().Page != place.WalkPage {
		t.Errorf("after Esc it says %q at %+v", w.Said(), w.Here())
	}
	w.Pick("1")
	if w.answers() != 1 {
		t.Errorf("%d answers", w.answers())
	}
	field := frametest.Find[*look.Field](w.Reader)[0]
	if field.Text != "" {
		t.Errorf("the field of the next step begins with %q", field.Text)
	}
	w.Type("12.6")
	if field := frametest.Find[*look.Field](w.Reader)[0]; field.Text != "12.6" {
		t.Errorf("the field shows %q", field.Text)
	}
}

// A digit on the opening page and at a finding waits for Enter too, and a number
// begins nothing.
func TestDigitsWaitForEnterEverywhere(t *testing.T) {
	w := open(t, wide)
	w.Type("12.6")
	w.WantSaid("reads like a reading")
	w.Key(fyne.KeyReturn)
	if w.session.Visit() != nil {
		t.Fatal("a number has begun a visit")
	}
	w.Key(fyne.KeyEscape)
	w.Type("1")
	if w.session.Visit() != nil {
		t.Fatal("a digit alone has begun a visit")
	}
	w.Key(fyne.KeyEscape)
	w.toFinding()
	rounds := len(w.session.Visit().Record().Rounds())
	w.Type("3") // test after repair
	w.Want("The grounding conductor is lost")
	w.Type("0")
	w.WantSaid("“30” reads like a reading", "The walk has ended", "“So far”")
	w.Key(fyne.KeyReturn)
	if n := len(w.session.Visit().Record().Rounds()); n != rounds {
		t.Fatal("30 has begun the test after the repair")
	}
	w.Key(fyne.KeyEscape)
	w.Pick("1")
	w.Want("The sheet for whoever repairs it")
}

// A double click on whatever gives an answer answers one question: the second
// click meets nothing that answers another, begins or takes back.
func TestADoubleClickAnswersOnce(t *testing.T) {
	for _, size := range []fyne.Size{wide, small} {
		w := open(t, size)
		twice := func(press fyne.CanvasObject) {
			t.Helper()
			before, click := len(w.session.Visit().Record().Records), w.clickAt(press)
			click()
			click()
			if n := len(w.session.Visit().Record().Records); n != before+1 {
				t.Errorf("%v: a double click has put %d records down, now at\n%s", size, n-before, w.Text())
			}
			w.Go(w.session.Visit().Present()) // whatever the second click has opened
		}
		choice := frametest.Find[*look.Choice](w.Reader)[0]
		click := w.clickAt(choice)
		click()
		click()
		if w.answers() != 0 {
			t.Fatalf("%v: a double click on the opening page answers the first step", size)
		}
		w.Go(w.session.Visit().Present())
		w.Want("Was a tingle felt?")
		click = w.clickAt(frametest.Find[*look.Choice](w.Reader)[0])
		click()
		click()
		if w.answers() != 0 || len(w.marked()) != 1 {
			t.Fatalf("%v: a double click on a choice gives %d answers and marks %q", size, w.answers(), w.marked())
		}
		twice(w.button("Take this answer"))
		w.Type("119.8")
		twice(w.button("Take this reading"))
		w.Type("58")
		twice(w.button("Take this reading"))
		w.Want("Stop, the body is live")
		w.Type("1")
		twice(w.button("Go on"))
		w.Type("OL")
		twice(w.button("Take this reading"))
		w.Want("The grounding conductor is lost")
	}
}

// The Enter that takes a reading does not confirm the STOP or the act after it;
// its digit or Tab arms it, and one more Enter confirms.
func TestEnterDoesNotRunOn(t *testing.T) {
	w := open(t, wide)
	w.toBody()
	w.Type("58")
	for range 3 {
		w.Key(fyne.KeyReturn)
	}
	w.Want("Stop, the body is live")
	if w.answers() != 3 {
		t.Fatalf("%d answers", w.answers())
	}
	w.Type("1")
	if w.answers() != 3 {
		t.Fatal("the digit alone has confirmed the STOP")
	}
	w.Key(fyne.KeyReturn)
	w.Key(fyne.KeyReturn)
	if w.answers() != 4 {
		t.Errorf("%d answers", w.answers())
	}
}

// A leg that a 30 A supply does not have was typed by a slip: the answer is
// opened again, whole, and changed to one that was not taken.
func TestASlipIsChangedToNotMeasured(t *testing.T) {
	for _, size := range []fyne.Size{wide, small} {
		w := open(t, size, shipped)
		w.begin(faulttree.ParseRef("trips#pins", ""))
		asked := w.session.Visit().Walk().Step()
		for range asked.Measure {
			w.Answer("0.1")
		}
		if w.answers() != 1 {
			t.Fatalf("%d answers:\n%s", w.answers(), w.Text())
		}
		w.Go(place.Walk(w.session.Visit().ID(), 0))
		w.Want("answered", "I cannot measure this", "No such contact", "I see damage", "I cannot see it", "AC volts", "Leave it")
		if len(frametest.Find[*look.Figure](w.Reader)) == 0 || len(frametest.Find[*look.Sign](w.Reader)) == 0 {
			t.Error("the picture or the danger line is missing")
		}
		w.Press("No such contact")
		w.Pick("1")
		r := w.session.Visit().Walk().Trail()[0].Answer.Readings[0]
		if r.Quality != faulttree.NotPossible || r.Reason != "there is no such contact" {
			t.Errorf("on record is %+v", r)
		}
	}
}

// Over an answer on record the coloured button is the one that changes as soon
// as there is a change, Enter does the same, and leaving drops in sight.
func TestTheColouredButtonIsTheOneThatEnterPresses(t *testing.T) {
	w := open(t, wide)
	w.toFinding()
	id := w.session.Visit().ID()
	w.Go(place.Walk(id, 2))
	coloured := func(want string) {
		t.Helper()
		for _, b := range frametest.Find[*look.Button](w.Reader) {
			if b.Primary != (b.Text() == want) {
				t.Errorf("“%s” is coloured: %v, wanted on “%s”", b.Text(), b.Primary, want)
			}
		}
	}
	coloured("Leave it")
	w.Retype("2")
	coloured("Change it")
	w.Press("Leave it")
	w.WantSaid("“2” was not taken", "57.3 V")
	w.Go(place.Walk(id, 2))
	w.Want("This is the answer on record")
	w.Retype("2")
	w.Key(fyne.KeyReturn)
	if shown := w.session.Visit().Walk().Trail()[2].Answer.Readings[0].Text; shown != "2" {
		t.Errorf("Enter has left %s on record", shown)
	}
	w.Go(place.Walk(id, 0))
	w.Press("No, nothing was felt")
	if m := w.marked(); len(m) != 1 || m[0] != "No, nothing was felt" {
		t.Errorf("marked is %q", m)
	}
	w.Want("Yes, by someone today\nThe answer on record", "No, nothing was felt (marked)")
	coloured("Change it")
	w.Go(place.Document("card", "doubt-the-meter"))
	w.Back()
	w.Want("No, nothing was felt (marked)") // kept
	w.Press("Leave it")
	w.WantSaid("“No, nothing was felt” was not taken", "Yes, by someone today")
}

// Nothing in the foot moves, is renamed or comes up in another's place while
// one types, whatever is said about it, and what is said is in view.
func TestButtonsStandStillWhileOneTypes(t *testing.T) {
	for _, size := range []fyne.Size{wide, small} {
		w := open(t, size)
		w.toBody()
		places := func() map[string]fyne.Position {
			out := map[string]fyne.Position{}
			for _, b := range frametest.Find[*look.Button](w.Reader) {
				x, top, _, _ := bounds(b)
				out[b.Text()] = fyne.NewPos(x, top)
			}
			x, top, _, _ := bounds(frametest.Find[*look.ReadingEntry](w.Reader)[0])
			out["field"] = fyne.NewPos(x, top)
			return out
		}
		before := places()
		for _, typed := range []string{"1", "12000", "wat", "29.8", "OL"} {
			w.Retype(typed)
			w.Key(fyne.KeyHome)
			for name, at := range places() {
				if before[name] != at {
					t.Errorf("%v: with %s typed “%s” is at %v, before %v", size, typed, name, at, before[name])
				}
			}
		}
		w.Retype("12000")
		w.Key(fyne.KeyReturn)
		w.Say("The disk is full.")
		for _, text := range []string{"12000 V is more", "The disk is full."} {
			found := false
			look.Walk(w.Window.Window().Content(), func(o fyne.CanvasObject) bool {
				if p, ok := o.(*look.Prose); ok && strings.Contains(p.Plain(), text) {
					_, top, _, bottom := bounds(p)
					found = found || top > 0 && bottom <= size.Height
				}
				return true
			})
			if !found {
				t.Errorf("%v: “%s” is not in view", size, text)
			}
		}
		for name, at := range places() {
			if before[name] != at {
				t.Errorf("%v: with a message “%s” is at %v, before %v", size, name, at, before[name])
			}
		}
	}
}

// A click beside the field takes the keyboard away; what is typed then goes into
// the field all the same, the one that had it last.
func TestNothingTypedBesideTheFieldIsLost(t *testing.T) {
	w := open(t, wide)
	w.begin(faulttree.ParseRef("post#hots", ""))
	w.Type("0")
	w.clickAt(w.button("Take these readings"))()
	w.Type(".2")
	for i, want := range []string{"0.2", ""} {
		if e := frametest.Find[*look.ReadingEntry](w.Reader)[i]; e.Text() != want {
			t.Errorf("field %d holds %q, want %q", i+1, e.Text(), want)
		}
	}
}

// In a finding a row bears the signal of its own branch.
func TestARowBearsItsOwnSignal(t *testing.T) {
	w := open(t, wide)
	w.toFinding()
	w.Want("119.8 V ±2.0 V\n100 V and more", "57.3 V ±1.2 V\nDANGER: 30 V and more, stop")
}

// With the largest text in the smallest window the foot scrolls with the page;
// typing brings the field into view.
func TestTypingIsSeenAtTheLargestText(t *testing.T) {
	w := open(t, small)
	w.set(func(s *session.Settings) { s.TextSize = 2 })
	w.toBody()
	w.Type("2")
	_, top, _, bottom := bounds(frametest.Find[*look.ReadingEntry](w.Reader)[0].Field)
	if top < 0 || bottom > small.Height {
		t.Errorf("the field that is typed into goes from %v to %v", top, bottom)
	}
}
