package suspects

import (
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
	"faultwright/gui/session/sessiontest"
)

var shipped = sync.OnceValue(load.Shipped)

// window is the page alone, over a handful of vehicles.
type window struct {
	*frame.Frame
	*frametest.Reader
	session  *session.Session
	area     *Area
	vehicles *sessiontest.Vehicles
}

func open(t testing.TB, size fyne.Size) *window {
	t.Helper()
	w := &window{vehicles: &sessiontest.Vehicles{}}
	w.session = must.Have(session.New(session.Options{Draw: w.vehicles.Draw, Random: func() uint64 { return 7 }, Now: sessiontest.Noon}))(t)
	w.session.UseBook(shipped())
	says := func(text string) frame.Entry {
		return frame.Entry{Build: func(place.Location) frame.Page {
			return frame.Page{Body: []fyne.CanvasObject{look.NewText(text)}}
		}}
	}
	w.Frame, w.Reader = frametest.Open(t, size, frame.Options{}, place.Suspects(""), func(f *frame.Frame) {
		w.area = New(f, w.session)
		f.Add(w.area.Pages(""))
		f.Add(map[place.Page]frame.Entry{place.OpeningPage: says("Elsewhere"), place.WalkPage: says("The walk"), place.DocumentPage: says("A document"), place.CircuitPage: says("The circuit")})
	})
	return w
}

// told is how many pieces of evidence the session holds.
func (w *window) told() int { return len(w.session.Account().Evidence) }

// neutral is a technician's readings of an open neutral.
const neutral = "panel, loads on: L1-N 59, L2-N 177"

func TestStoryOfReadingsInAnyOrder(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Want("What fits these readings?", "Nothing is told yet", "Once something is told")
	w.Picture("suspects-empty")
	w.Answer(neutral)
	w.Want("Panel: L2 to neutral, loads on", "177 V", "The neutral is open (cord)", "MOST LIKELY", view.ClearsNone,
		strings.ToUpper(view.OpenHeading), "WORTH FINDING OUT NEXT", "ells “The neutral is open” (cord) from", "WALK THE TREE WITH THESE READINGS")
	if n := strings.Count(w.Text(), "DANGER\n"); n < 2 {
		t.Errorf("the signal word stands %d times; expected it at the STOP and at each dangerous suspect:\n%s", n, w.Text())
	}
	if w.area.typed() != "" {
		t.Errorf("what is taken is still in the entry: %q", w.area.typed())
	}
	w.Press("Panel: L2 to neutral")
	w.Press("Take it back")
	if w.told() != 1 {
		t.Errorf("one of two taken back leaves %d", w.told())
	}
	w.Press("Undo")
	if w.told() != 2 {
		t.Errorf("undone, %d are told", w.told())
	}
	w.Press("Start over")
	w.Want("Nothing is told yet", "Once something is told")
	w.Press("Undo")
	w.Want("The neutral is open (cord)")
	w.Press("Panel: L2 to neutral")
	w.Check("Told by somebody else", true)
	w.Want("Told by somebody else")
	if e := w.session.Account().Evidence[1]; !e.Told || e.Doubtful {
		t.Errorf("marked as told, it is %+v", e)
	}
}

// A pasted block is asked for its place and its state once, by digits.
func TestPastedBlockIsAskedOnce(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Retype("L1-N 59\nL2-N 177\nit hums")
	w.Press("Take these readings")
	w.Want("Where were these read?", "L1-N 59, and 1 more", "The distribution panel", "“it hums” No reading is found in this.")
	w.Picture("suspects-place")
	w.Press("The distribution panel")
	w.Want("How did the vehicle stand?")
	w.Press("Loads on")
	if w.told() != 2 || w.area.typed() != "it hums" {
		t.Errorf("%d are told, and in the entry stands %q", w.told(), w.area.typed())
	}
	w.Type(" a little") // the entry is of another text now
	if strings.Contains(w.Text(), "No reading is found") {
		t.Error("what was said of another text still stands there")
	}
}

// What cannot be read stays with its reason, and can be taken as what it may be.
func TestRefusedRowsStay(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Answer("pedestal, nothing plugged in: L1-N 121, N-G 5 ohm")
	w.Want("Left in the entry, for these are not taken:")
	if w.told() != 1 || !strings.Contains(w.area.typed(), "N-G 5 ohm") {
		t.Errorf("%d are told, and in the entry stands %q:\n%s", w.told(), w.area.typed(), w.Text())
	}
}

// A danger limit passed anywhere in the table says STOP at once, also where no
// vehicle can be worked out.
func TestDangerStopsAtOnce(t *testing.T) {
	w := open(t, frametest.Wide)
	w.vehicles.Meanwhile = func() error { return errors.New("the bench is on fire") }
	w.Answer("body to earth 58 V?")
	w.Want("How did the vehicle stand?", "STOP: the body is live. It can kill.", "Body to the earth spike, 58 V, reaches the danger limit of 30 V.")
	w.Press("Plugged in, no large load on")
	w.Want("STOP: the body is live. It can kill.", "Not sure · reaches the danger limit of 30 V", "This could not be worked out. What was read is kept.", "the bench is on fire")
	w.Picture("suspects-stop-failed")
	w.vehicles.Meanwhile = nil
	w.Press("Try again")
	w.Want("STOP: the body is live", "The grounding conductor is open")
	w.Picture("suspects-stop")
	w.Press("Go on with “A tingle or a shock” and these readings")
	if at := w.Here(); at.Page != place.WalkPage || w.session.Visit() == nil {
		t.Fatalf("it goes on at %+v", at)
	}
	if ref, stopped := w.session.Visit().Walk().Stop(); !stopped || ref.Step != "stop-live-body" {
		t.Errorf("the walk stands at %v, %v", ref, stopped)
	}
}

// A danger of which it is still asked how the vehicle stood goes along into a walk.
func TestStopGoesAlong(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Answer("body to earth 58 V?")
	w.Want("How did the vehicle stand?")
	w.Press("Go on with “A tingle or a shock” and these readings")
	if v := w.session.Visit(); v == nil {
		t.Fatal("no walk has begun")
	} else if _, stopped := v.Walk().Stop(); !stopped {
		t.Errorf("the walk knows nothing of the STOP: it stands at %s", v.Walk().At())
	}
}

// A STOP is brought into view, however far down the reading was typed.
func TestStopIsInView(t *testing.T) {
	w := open(t, frametest.Small)
	w.Answer(neutral)
	w.Window().Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	w.area.open = ""
	w.session.Keep(here, 0, "pedestal cover to spike 40 V")
	w.area.drawAfter(w.area.read)
	for _, sign := range frametest.Find[*look.Sign](w.Reader) {
		if at := fyne.CurrentApp().Driver().AbsolutePositionForObject(sign); strings.Contains(look.TextOf(sign), "STOP") && at.Y >= 0 && at.Y < frametest.Small.Height/2 {
			return
		}
	}
	t.Errorf("no STOP is in view:\n%s", w.Text())
}

// Facts that no vehicle agrees with say so; what was read is kept.
func TestNoVehicleAgrees(t *testing.T) {
	w := open(t, frametest.Wide)
	w.vehicles.Meanwhile = func() error { return fmt.Errorf("draw: %w", drawn.ErrNoRig) }
	w.Answer(neutral)
	w.Want("No vehicle of this handbook is as the facts say.", "177 V")
	w.Press("Source: not said")
	w.Want("What feeds the vehicle now", "I do not know")
	w.vehicles.Meanwhile = nil
	w.Pick("1")
	w.Want("Source: The cord", "The neutral is open (cord)")
	if got := w.session.Account().Fact("source"); got != "shore" {
		t.Errorf("the source is %q", got)
	}
	w.vehicles.Meanwhile = func() error { return fmt.Errorf("draw: %w", drawn.ErrNoRig) }
	w.area.change(w.session.Account().Knowing("service", "15a"))
	w.Want("say: Service: 15 or 20 A, Source: The cord.", "None of them is quite this vehicle.", "177 V")
	w.WantNothingCut()
	w.vehicles.Meanwhile = nil
	w.Press("Leave Service open")
	w.Want("Service: not said", "Source: The cord", "The neutral is open (cord)")
}

// While something else is told, what was worked out of before is never shown as
// the answer; and who has left the page is not brought back.
func TestStaleAndLateAnswers(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Answer(neutral)
	busy := 0
	w.vehicles.Meanwhile = func() error {
		if busy++; busy == 1 { // the work is under way: look, then leave
			w.Render()
			w.Want("This is of what was told before. It is being worked out anew.")
			w.Picture("suspects-stale")
			if strings.Contains(w.Text(), "WORTH FINDING") {
				t.Error("what was worth finding out before is still proposed")
			}
			w.Retype("half of a li")
			w.Go(place.Opening())
		}
		return nil
	}
	w.Answer("pedestal, nothing plugged in: L1-N 120")
	if busy == 0 {
		t.Fatal("nothing was worked out")
	}
	w.Want("Elsewhere")
	w.Back()
	w.Want("Pedestal: hot (L1) to neutral", "The neutral is open (cord)")
	if strings.Contains(w.Text(), "told before. It is being") {
		t.Error("the present answer is called an old one")
	}
}

// Another handbook keeps what is told and typed, and works out anew what fits.
func TestReloadKeepsWhatIsTold(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Answer(neutral)
	w.Type("L1-L2 2")
	lacks := *shipped()
	forest := *lacks.Forest
	forest.Quantities = faulttree.Quantities{}
	for id, q := range shipped().Forest.Quantities {
		if id != "panel.l2-n@loaded" {
			forest.Quantities[id] = q
		}
	}
	lacks.Forest = &forest
	w.session.UseBook(&lacks)
	w.Return("The handbook was read again.")
	w.Want("177 V", "The handbook in use has no such reading.", "The neutral is open")
	if got := w.area.typed(); got != "L1-L2 2" {
		t.Errorf("in the entry stands %q", got)
	}
	w.session.UseBook(&content.Library{Forest: &faulttree.Forest{}})
	w.Return("")
	w.Want("177 V", "Of what is told nothing counts")
	w.session.UseBook(shipped())
	w.Return("")
	w.Want("The neutral is open (cord)")
}

// A list that is hostile, or too long, breaks nothing and is kept.
func TestHostilePaste(t *testing.T) {
	w := open(t, frametest.Small)
	for _, text := range []string{
		strings.Repeat("L1-N 59\n", mostTyped/8), strings.Repeat("x", 2000) + " 5", "\x1b[2J\u202eL1-N 59", strings.Repeat("(", 900),
		"| L1 | N |\n|---|---|\n| 59 | \x00 |", strings.Repeat("panel: L1-N 59; ", mostTyped/16),
	} {
		w.session.Keep(here, 0, text)
		w.area.read()
		w.Render()
		w.WantNothingCut()
		if strings.ContainsAny(w.Text(), "\x1b\u202e\x00") {
			t.Errorf("of %.20q hidden characters are shown", text)
		}
	}
	w.session.Keep(here, 0, "L1-N 5")
	w.Render()
	fyne.CurrentApp().Clipboard().SetContent(strings.Repeat("L1-N 59\n", mostTyped))
	w.Window().Canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutPaste{Clipboard: fyne.CurrentApp().Clipboard()})
	w.WantSaid("too long for the entry")
	if got := w.area.typed(); got != "L1-N 5" {
		t.Errorf("in the entry stands %.40q", got)
	}
	fyne.CurrentApp().Clipboard().SetContent("9, L2-N\n177")
	w.Window().Canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutPaste{Clipboard: fyne.CurrentApp().Clipboard()})
	if got := w.area.typed(); got != "L1-N 59, L2-N\n177" {
		t.Errorf("a list of two lines is pasted as %q", got)
	}
	w.Go(place.Suspects(strings.Repeat("L1-N 59 ", mostTyped)))
	w.WantSaid("too long for the entry")
}

// A list that a search hands over is read once, beside what is typed already.
func TestSearchHandsOverAList(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Type("half typed")
	w.Go(place.Suspects("L1-N 59 L2-N 177"))
	w.Want("Where were these read?")
	if got := w.area.typed(); !strings.HasPrefix(got, "half typed") {
		t.Errorf("in the entry stands %q", got)
	}
	w.Press("The distribution panel")
	w.Press("Loads on")
	w.Go(place.Opening())
	w.Back()
	if w.told() != 2 {
		t.Errorf("come back, %d are told", w.told())
	}
}

// What is seen, tried and proposed is told by the keyboard alone.
func TestSeenTriedAndProposed(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Press("Something seen")
	w.Press("How do the 120 V lamps")
	w.Pick("1")
	w.Press("Something tried")
	w.Want("With which complaint did you come?")
	w.Press("Half dead or all dead")
	w.Press("Another cord")
	w.Want("Gone after it")
	w.Pick("1")
	e := w.session.Account().Evidence
	if len(e) != 2 || e[0].Seen == nil || e[1].Tried == nil || !e[1].Tried.Gone || e[1].Tried.Tree != "half-dead" {
		t.Fatalf("told is %+v", e)
	}
	w.Want("Another cord", "gone")
	w.Answer(neutral)
	n := w.told()
	if found, _, _ := w.area.work.Of(w.session.Account()); len(found.Next) == 0 || found.Next[0].Reads == nil {
		t.Fatalf("proposed is %+v", found.Next)
	}
	w.session.Keep(here, nextDraft, "0.01")
	w.Render()
	w.Press("Take it")
	if w.told() != n+1 {
		t.Errorf("taken as proposed, %d are told:\n%s", w.told(), w.Text())
	}
}

// What somebody came with stands among the facts, counts before anything is read, and
// can be taken off.
func TestComplaintIsToldAndTakenOff(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Want("Complaint: not said", "Once something is told")
	w.Press("Complaint: not said")
	w.Want("With which complaint did you come?", "With none of these")
	w.Press("Half dead or all dead")
	w.Want("Complaint: Half dead or all dead", view.ClearsNone)
	if got := w.session.Account().Tree; got != "half-dead" {
		t.Errorf("the complaint is %q", got)
	}
	w.Press("Complaint: Half dead")
	w.Press("With none of these")
	w.Want("Complaint: not said", "Once something is told")
	w.Press("Undo")
	w.Want("Complaint: Half dead or all dead")
	w.Press("Start over")
	w.Want("Complaint: not said")
}

// After a repair what was told before counts no more.
func TestRepair(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Answer(neutral)
	w.Press("It was repaired")
	w.Want("after 1 repair", "Before the repair, counts no more", "Nothing is told of the vehicle as it stands now")
	w.Answer("panel, loads on: L1-N 118, L2-N 118")
	w.Want("No fault that these readings would show", view.ClearsNone)
	if strings.Contains(strings.ToLower(w.Text()), "safe") {
		t.Errorf("the page says safe:\n%s", w.Text())
	}
}

// A walk begins with what is told, but for doubts, and says so.
func TestWalkBeginsWithWhatIsTold(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Answer("panel, loads on: L1-N 59, L2-N 130?")
	w.Press("Half dead or all dead")
	w.WantSaid("1 reading not sure of, or told by somebody else, left out")
	v := w.session.Visit()
	if v == nil {
		t.Fatalf("no walk has begun:\n%s", w.Text())
	}
	given := v.Record().Records[0].Supply.Readings
	if len(given["panel.l1-n@loaded"]) != 1 || len(given) != 1 {
		t.Errorf("the walk is given %+v", given)
	}
}

// Both halves are seen at once where there is room, and nothing is cut anywhere.
func TestPictures(t *testing.T) {
	for name, size := range map[string]fyne.Size{"wide": frametest.Wide, "middle": frametest.Middle, "narrow": frametest.Small} {
		for _, colours := range []string{"light", "dark", look.HighContrast.String()} {
			w := open(t, size)
			w.SetLook(colours, 1)
			w.Answer(neutral)
			w.WantNothingCut()
			text := w.Text()
			fits, next, told := strings.Index(text, "MOST LIKELY"), strings.Index(text, "WORTH FINDING"), strings.Index(text, "TOLD SO FAR")
			if fits < told || (next > fits) == w.Wide() {
				t.Errorf("%s: told, next and what fits stand at %d, %d, %d", name, told, next, fits)
			}
			w.Picture("suspects-" + name + "-" + colours)
		}
	}
}

// A suspect leads to why what was read reads so with it, where it has its fault.
func TestSuspectLeadsToWhy(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Answer(neutral)
	w.Press("Show me why")
	w.Want("The circuit")
	if at := w.Here().Top(); at != place.Why("open-neutral", "cord", place.Told) {
		t.Errorf("it leads to %+v", at)
	}
}

// Which tools are at hand is said once, here or with the settings, and kept.
func TestToolsAtHand(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Answer(neutral)
	w.Press("At hand beside a multimeter: nothing")
	w.Check("A clamp meter that reads direct current too", true)
	w.Want("At hand beside a multimeter: a clamp meter that reads direct current too", "MOST LIKELY")
	if has := w.session.Settings().Tools; has != suspect.ClampDC {
		t.Errorf("what is kept is %v", has.IDs())
	}
	w.Check("A clamp meter that reads direct current too", false)
	w.Want("At hand beside a multimeter: nothing")
}
