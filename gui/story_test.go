package gui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
	"faultwright/gui/session/sessiontest"
)

// From the opening view through the tree of a felt tingle to DANGER, a card
// and the sheet, with the keyboard alone up to the finding.
func TestStoryFromTingleToSheet(t *testing.T) {
	w := open(t, wide)
	w.Want("What is happening?", "A tingle or a shock")
	w.Pick("1")
	w.Want("Was a tingle felt?")
	w.Pick("1")
	w.Want("Prove the meter on an outlet that works", "SO FAR")
	w.Answer("119.8")
	w.Want("Measure from bare metal of the body")
	w.Type("58")
	w.Want("Leads to: stop")
	w.Key(fyne.KeyReturn)
	w.Want("Stop, the body is live", "Pull the plug")
	w.Key(fyne.KeyReturn)
	w.Want("Stop, the body is live") // a second Enter must not leave a STOP
	w.Pick("1")
	w.Answer("OL")
	w.Want("The grounding conductor is lost", "WHAT SHOWS IT", "58 V", "Do not plug in again")
	w.Press("Show me why")
	w.Want("The body stands at line voltage.")
	w.Back()
	w.Press("Make the sheet")
	w.Type("Quillback Hollow, site 14")
	w.Press("Save for printing")
	if len(w.Window.Window().Canvas().Overlays().List()) != 1 {
		t.Fatal("no file was asked for")
	}
	sheet := string(w.session.Sheet(w.session.Visit().Record(), session.Printed, nil))
	for _, want := range []string{"Quillback Hollow, site 14", "58 V", "The grounding conductor is lost"} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
}

// A process that dies takes nothing along: the next start offers to go on and
// stands at the same step with the same answers.
func TestStoryGoesOnAfterAStop(t *testing.T) {
	dir := t.TempDir()
	w := openIn(t, dir, wide)
	w.toBody()
	w.session.Close() // as the system does when the process ends

	w = openIn(t, dir, wide)
	w.Want("Unfinished: “A tingle from the body”, today 09:40, 2 answers.")
	w.Press("Unfinished")
	w.Want("Measure from bare metal of the body", "Meter on a known outlet", "119.8 V")
	w.Answer("58")
	w.Want("Stop, the body is live")
}

func TestStoryChangesAnEarlierAnswer(t *testing.T) {
	w := open(t, wide)
	w.toFinding()
	w.Press("Body to earth")
	w.Want("answered", "This is the answer on record.")
	w.Retype("2")
	w.Want("These later answers no longer fit and will be dropped: Stop, the body is live (done)")
	if n := len(w.session.Visit().Walk().Trail()); n != 5 {
		t.Fatalf("looking at a change has changed the walk: %d answers", n)
	}
	w.Press("Change it")
	w.Want("These readings show no body voltage now", "2 V")
	if n := len(w.session.Visit().Walk().Trail()); n != 3 {
		t.Errorf("%d answers stand, want 3", n)
	}
	// Alt+Left leads back over the answers, and nothing is dropped by looking.
	w.Back()
	w.Want("answered")
	w.Press("Leave it")
	w.Want("These readings show no body voltage now")
}

// Two windows on one visit: the second may look, never write.
func TestStoryOfTwoWindows(t *testing.T) {
	dir := t.TempDir()
	w := openIn(t, dir, wide)
	w.toBody()
	first := w
	second := openIn(t, dir, wide)
	second.Press("Unfinished")
	second.Want("open in another window", "Measure from bare metal")
	second.Answer("58")
	second.Want("Measure from bare metal")
	if !strings.Contains(second.Said(), "not changed") {
		t.Errorf("the second window says %q", second.Said())
	}
	second.Go(place.Delete(first.session.Visit().ID()))
	second.Press("Delete it for good")
	if !strings.Contains(second.Said(), "was not deleted") {
		t.Errorf("a visit open elsewhere was deleted: %q", second.Said())
	}
	_, err := first.session.Answer(first.session.Visit().ID(), faulttree.Answer{Readings: []faulttree.Reading{{Text: "2", Low: 2 * faulttree.One, High: 2 * faulttree.One, Resolution: faulttree.One}}})
	if err != nil || !first.session.Visit().Walk().Ended() {
		t.Error("the first window cannot go on")
	}
}

func TestStoryDeletesAVisit(t *testing.T) {
	w := open(t, small)
	w.Go(place.Visits())
	w.Want("No visit is on record yet")
	w.Go(place.Opening())
	w.toBody()
	w.Go(place.Visits())
	w.Want("Unfinished.")
	w.Press("Delete")
	w.Want("This cannot be undone")
	w.Key(fyne.KeyReturn) // the first button keeps it
	w.Want("Unfinished.")
	w.Press("Delete")
	w.Press("Delete it for good")
	w.Want("No visit is on record yet")
	for w.Here().Page != place.OpeningPage {
		w.Back()
	}
	if w.session.Visit() != nil {
		t.Error("the deleted visit is still under way")
	}
}

// The reading that finds a live ground is given last, and stops at once.
func TestStoryOfASheet(t *testing.T) {
	w := open(t, wide)
	w.toSheet()
	w.Answer("")
	w.Answer("119.2") // L1 to neutral
	w.Answer("120.1") // L2 to neutral
	w.Want("2 of 5 readings given; wanted next: Pedestal: ground to the spike.")
	w.Focus(frametest.Find[*look.Field](w.Reader)[0])
	w.Type("118")
	w.Want("The grounding contact is live.", "Take no more readings", "reaches the danger limit of 30 V", "Go on now")
	w.Press("Use these readings and go on")
	w.Want("Do not plug in.", "The grounding contact is live")
	w.Want("118 V")
}

// A figure that only another walk calls a danger is told as soon as it is typed,
// with the way there; the walk it was given to goes on, and ends in DANGER.
func TestStoryOfASheetWithAnotherWalksDanger(t *testing.T) {
	post := must.Have(os.ReadFile("../testdata/handbook/trees/post.md"))(t)
	const sheet = "sheet: [pedestal.g-earth,"
	if !strings.Contains(string(post), sheet) {
		t.Fatal("the tree has no sheet")
	}
	w := open(t, wide, folder(changedBook(t, map[string]string{"trees/post.md": strings.Replace(string(post), sheet, sheet+" body-earth,", 1)})))
	w.toSheet()
	w.Answer("0.4") // ground to the spike
	w.Answer("58")  // the body
	const told = "Body to earth, 58 V, reaches the danger limit of 30 V."
	w.Want(told, "another does: begin there first", "wanted next: Pedestal: L1 to neutral")
	w.Press("Use these readings and go on")
	w.Want(told, "From each hot contact to neutral")
	if at := w.session.Visit().Walk().At(); at.Tree != "post" {
		t.Errorf("the walk has left for %s", at)
	}
	w.Press("Begin “A tingle from the body” with this reading")
	w.Want("Measure from bare metal of the body to the spike", "This reading can hurt", "Leads to: stop")
}

// The shipped sheet is given after the first look, in one go; the walk takes
// from it what it asks for and ends in a finding.
func TestStoryOfTheShippedSheet(t *testing.T) {
	w := open(t, wide, shipped)
	w.Press("50 A")
	for w.session.Visit().Walk().Step().Kind != faulttree.KindMeasure {
		w.Pick("4") // dry and whole
	}
	w.Press("All readings on one page")
	known := map[string]string{
		"meter.known-source": "119.8", "pedestal.l1-earth": "119.5", "pedestal.g-earth": "0.4", "pedestal.n-earth": "0.4",
		"pedestal.l1-n": "119.9", "pedestal.l2-n": "120.0", "pedestal.l1-l2": "239.9", "pedestal.n-g": "0.0",
		"pedestal.l1-g": "119.9", "pedestal.cover-earth": "0.4", "pedestal.l1-n@lowz": "119.7", "pedestal.l2-n@lowz": "119.8",
	}
	at := w.Here()
	for i, id := range w.session.Book().Forest.Tree("pedestal-50a").Sheet {
		if known[id] == "" {
			t.Fatalf("the sheet asks for %s", id)
		}
		w.session.Keep(at, i, known[id])
	}
	w.Render()
	w.Press("Use these readings and go on")
	for !w.session.Visit().Walk().Ended() && w.session.Visit().Walk().Step().Kind != faulttree.KindMeasure {
		w.Pick("1")
	}
	if n := len(w.session.Visit().Walk().Trail()); n < 8 {
		t.Errorf("only %d answers were taken from the sheet; now asked: %s", n, w.session.Visit().Walk().At())
	}
	w.Want(w.session.Book().Forest.Quantities["pedestal.l1-n"].Title, "119.9 V")
	if s := w.session.Visit().Walk().Step(); len(s.Measure) != 1 || s.Measure[0].Quantity.Proves != faulttree.ProvesVoltsAC {
		t.Errorf("one proof typed stands for the proof after as well; now asked: %s", s.Ref())
	}
}

func firstFieldIn(o fyne.CanvasObject) *look.Field {
	var found *look.Field
	look.Walk(o, func(o fyne.CanvasObject) bool {
		if f, ok := o.(*look.Field); ok && found == nil {
			found = f
		}
		return found == nil
	})
	return found
}

func TestStoryOfASearchedReading(t *testing.T) {
	w := open(t, wide, shipped)
	w.Type("/")
	w.Type("58 volts on the bumper")
	w.Want("STEP THAT TAKES THIS READING", "58 V")
	w.Key(fyne.KeyReturn) // the first hit
	w.Want("This reading can hurt", "Leads to: stop")
	w.Press("Begin a walk here with this reading")
	w.Want("STOP: the body is live")
	w.Press("Back")
	w.Want("Somebody has read the body to earth", "answered")
}

// What no step measures and what no page has is said before the hits.
func TestStoryOfASearchWithoutAnAnswer(t *testing.T) {
	w := open(t, wide, shipped)
	w.Type("/")
	w.Type("0 volts between bumper and ground pin")
	w.Want("No step measures the body against the grounding contact in volts", "Two points that no step measures")
	w.Key(fyne.KeyEscape)
	w.Type("/")
	w.Type("chocolate recipe")
	w.Want("No page has: chocolate, recipe.", "Nothing was found")
}

// Where nothing is found the page says so and leads on; the examples of an empty
// search search.
func TestStoryOfASearchWithoutHits(t *testing.T) {
	w := open(t, wide, shipped)
	w.Type("/")
	w.Type("chocolate recipe")
	w.Want("No page has: chocolate, recipe.", "Nothing was found for “chocolate recipe”.", "List the handbook", "To the beginning")
	w.Press("Walks")
	w.Want("among the walks.")
	w.Press("Search all")
	if at := w.Here(); at.Kind != "" || at.Query != "chocolate recipe" {
		t.Errorf("searching all leads to %+v", at)
	}
	for range 16 {
		w.Key(fyne.KeyBackspace)
	}
	w.Press("58 V on the bumper")
	w.Want("STEP THAT TAKES THIS READING", "Body to the earth spike: 58 V")
}

func TestStoryOfAFirstStart(t *testing.T) {
	dir := t.TempDir()
	must.Do(t, session.WriteSettings(filepath.Join(dir, "settings.json"), session.DefaultSettings()))
	w := openIn(t, dir, wide)
	w.Want("Live supply", "Who will take the readings?")
	w.Go(place.Opening())
	w.Want("Who will take the readings?") // the caution comes first
	w.Pick("2")
	w.Want("What is happening?")
	s, err := session.ReadSettings(filepath.Join(dir, "settings.json"))
	if err != nil || !s.Welcomed || s.Role != faulttree.Qualified {
		t.Errorf("kept: %+v, %v", s, err)
	}
}

func TestStoryOfAReadingThatCannotBeTaken(t *testing.T) {
	w := open(t, small)
	w.toBody()
	w.Type("12000")
	w.Want("This is not taken yet")
	w.Key(fyne.KeyReturn)
	w.Want("Measure from bare metal")
	w.Press("I cannot measure this")
	w.Want("Why can it not be measured?")
	w.Pick("2")
	w.Want("Hand this to a licensed electrician", "not measured")
}

// Nothing typed is lost when a page is built anew: another text size, another
// column count, a message.
func TestTypedTextOutlivesTheLayout(t *testing.T) {
	w := open(t, wide)
	w.toBody()
	w.Type("41.5")
	w.Window.Window().Resize(small)
	w.Shortcut(fyne.KeyPlus, fyne.KeyModifierControl)
	w.Window.Window().Resize(middle)
	w.Say("something")
	w.Want("Leads to: stop")
	if f, ok := w.Window.Window().Canvas().Focused().(*look.Field); !ok || f.Text != "41.5" {
		t.Errorf("the keyboard is on %T", w.Window.Window().Canvas().Focused())
	}
	if w.session.Settings().TextSize != 1.15 {
		t.Errorf("text size %v", w.session.Settings().TextSize)
	}
}

func TestKeys(t *testing.T) {
	w := open(t, wide)
	w.toBody()
	w.Press("A meter that may be wrong")
	w.Want("A meter that shows")
	w.Key(fyne.KeyEscape)
	w.Want("Measure from bare metal")
	w.Shortcut(fyne.KeyRight, fyne.KeyModifierAlt)
	w.Want("A meter that shows")
	w.Shortcut(fyne.KeyLeft, fyne.KeyModifierAlt)
	w.Want("Measure from bare metal")
	w.CopyPage()
	if text := fyne.CurrentApp().Clipboard().Content(); !strings.Contains(text, "Measure from bare metal of the body") || !strings.Contains(text, "AC volts") {
		t.Errorf("copied %q", text)
	}
	w.Shortcut(fyne.KeyF, fyne.KeyModifierControl)
	w.Type("hold")
	w.Want("A meter that may be wrong")
	w.Key(fyne.KeyEscape)
	w.Want("Measure from bare metal")
	if firstFieldIn(w.Window.Window().Content()).Text != "" {
		t.Error("leaving the search leaves its words behind")
	}
}

// After a repair the same readings are taken again, beside the earlier ones.
func TestStoryOfATestAfterRepair(t *testing.T) {
	w := open(t, wide)
	w.toFinding()
	w.Press("Test after repair")
	w.Want("Was a tingle felt?")
	if !strings.Contains(w.Said(), "test after the repair") {
		t.Errorf("the window says %q", w.Said())
	}
	w.Pick("2")
	w.Answer("120.0")
	w.Answer("0.4")
	w.Want("These readings show no body voltage now")
	w.Go(place.Visits())
	w.Want("Test after repair: NOTICE: These readings show no body voltage now. 2 readings.")
	if n := len(w.session.Visit().Record().Rounds()); n != 2 {
		t.Errorf("%d rounds on record, want 2", n)
	}
}

// Back on a step leads over the answers one by one, and takes none away.
func TestStepsBackTakeNothingAway(t *testing.T) {
	w := open(t, wide)
	w.toFinding()
	for _, want := range []string{"grounding pin to the body", "Stop, the body is live", "Measure from bare metal", "Prove the meter", "Was a tingle felt?"} {
		w.Press("Back")
		w.Want(want, "answered")
	}
	w.Press("Back")
	w.Want("What is happening?")
	if n := len(w.session.Visit().Walk().Trail()); n != 5 {
		t.Errorf("%d answers stand, want all 5", n)
	}
}

// What cannot be put on disk is not shown as taken, and stays typed.
func TestAnswerThatCannotBeKept(t *testing.T) {
	var disk *sessiontest.Disk
	w := open(t, wide, func(o *Options) { disk = &sessiontest.Disk{Visits: o.Visits}; o.Visits = disk })
	w.toBody()
	disk.Full = true
	w.Answer("58")
	w.Want("Measure from bare metal", "Leads to: stop")
	if !strings.Contains(w.Said(), "could not be put on record") {
		t.Errorf("the window says %q", w.Said())
	}
	if n := len(w.session.Visit().Walk().Trail()); n != 2 {
		t.Errorf("%d answers stand, want 2", n)
	}
}

// Links of a document lead within the handbook; nothing else is opened, and a
// citation is asked about first.
func TestLinks(t *testing.T) {
	w := open(t, wide)
	for link, want := range map[string]string{
		"caution:live-work":      "Live supply; one hand only",
		"tree:tingle":            "From a felt tingle to its cause.",
		"step:tingle#stop":       "Pull the plug with one dry hand.",
		"card:none":              "Not found",
		"source:common-practice": "Not written down anywhere.",
	} {
		w.Follow(link)
		w.Want(want)
	}
	for _, link := range []string{"file:///etc/passwd", "javascript:alert(1)", "https:", "mailto:a@b", "../x"} {
		w.Follow(link)
		if !strings.Contains(w.Said(), "leads nowhere") {
			t.Errorf("%s: %q", link, w.Said())
		}
	}
	w.Follow("https://example.org/table")
	if len(w.Window.Window().Canvas().Overlays().List()) != 1 {
		t.Error("a citation must be asked about before the browser is started")
	}
}

func TestAHandbookThatCannotBeRead(t *testing.T) {
	w := open(t, wide, folder(filepath.Join(t.TempDir(), "none")))
	w.Want("The handbook could not be read")
	w.Press("Settings")
	w.Want("COLOURS", "MY METER")
	w.handbook.CancelLoad()
	w.Go(place.Opening())
	w.Want("reading the handbook was stopped")
}

// Two choices begin with the same word: the wrong one can still be changed into
// the right one, and what is marked on record says which it was.
func TestStoryOfTwoChoicesThatBeginAlike(t *testing.T) {
	w := openShipped(t, wide)
	w.begin(faulttree.Ref{Tree: "half-dead", Step: "works-at-all"})
	w.Pick("1")
	w.Want("No, half of it is dead whenever it is plugged in") // on the trail, in full
	w.Press("No way through shows. Does all of it work on shore power?")
	w.Pick("2")
	if got := w.session.Visit().Walk().Trail()[0].Answer.Choice; got != "all" {
		t.Errorf("the answer on record is %q", got)
	}
}
