package gui

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"

	"faultwright/faulttree"
	"faultwright/gui/look"
)

// From the opening view through the tree of a felt tingle to DANGER, a card
// and the sheet, with the keyboard alone up to the finding.
func TestStoryFromTingleToSheet(t *testing.T) {
	d := desk(t, wide)
	d.wantShown(t, "What is happening?", "A tingle or a shock")
	d.typeIn(t, "1")
	d.wantShown(t, "Was a tingle felt?")
	d.typeIn(t, "1")
	d.wantShown(t, "Prove the meter on an outlet that works", "SO FAR")
	d.answer(t, "119.8")
	d.wantShown(t, "Measure from bare metal of the body")
	d.typeIn(t, "58")
	d.wantShown(t, "Leads to: stop")
	d.key(fyne.KeyReturn)
	d.wantShown(t, "Stop, the body is live", "Pull the plug")
	d.typedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	d.wantShown(t, "Stop, the body is live") // a second Enter must not leave a STOP
	d.typeIn(t, "1")
	d.answer(t, "OL")
	d.wantShown(t, "The grounding conductor is lost", "WHAT SHOWS IT", "58 V", "Do not plug in again")
	d.press(t, "Show me why")
	d.wantShown(t, "The body stands at line voltage.")
	d.Back()
	d.press(t, "Make the sheet")
	d.typeIn(t, "Quillback Hollow, site 14")
	d.press(t, "Save for printing")
	if len(d.window.Canvas().Overlays().List()) != 1 {
		t.Fatal("no file was asked for")
	}
	path := filepath.Join(t.TempDir(), "sheet.html")
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	d.writeSheet(&target{file, path}, sheetFormats[0], d.visit.rec.Visit())
	sheet, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Quillback Hollow, site 14", "58 V", "The grounding conductor is lost"} {
		if !bytes.Contains(sheet, []byte(want)) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	if !strings.Contains(d.shell.note, "saved to") {
		t.Errorf("the window says %q", d.shell.note)
	}
}

type target struct {
	*os.File
	path string
}

func (t *target) URI() fyne.URI { return storage.NewFileURI(t.path) }

// A process that dies takes nothing along: the next start offers to go on and
// stands at the same step with the same answers.
func TestStoryGoesOnAfterAStop(t *testing.T) {
	dir := t.TempDir()
	d := deskIn(t, dir, wide)
	d.toBody(t)
	d.release() // as the system does when the process ends

	d = deskIn(t, dir, wide)
	d.wantShown(t, "Unfinished: “A tingle from the body”, today 09:40, 2 answers.")
	d.press(t, "Unfinished")
	d.wantShown(t, "Measure from bare metal of the body", "Meter on a known outlet", "119.8 V")
	d.answer(t, "58")
	d.wantShown(t, "Stop, the body is live")
}

func TestStoryChangesAnEarlierAnswer(t *testing.T) {
	d := desk(t, wide)
	d.toFinding(t)
	d.press(t, "Body to earth")
	d.wantShown(t, "answered", "This is the answer on record.")
	d.retype(t, "2")
	d.wantShown(t, "These later answers no longer fit and will be dropped: Stop, the body is live (done)")
	if n := len(d.visit.walk().Trail()); n != 5 {
		t.Fatalf("looking at a change has changed the walk: %d answers", n)
	}
	d.press(t, "Change this answer")
	d.wantShown(t, "These readings show no body voltage now", "2 V")
	if n := len(d.visit.walk().Trail()); n != 3 {
		t.Errorf("%d answers stand, want 3", n)
	}
	// Alt+Left leads back over the answers, and nothing is dropped by looking.
	d.Back()
	d.wantShown(t, "answered")
	d.press(t, "Leave it and go on")
	d.wantShown(t, "These readings show no body voltage now")
}

// Two windows on one visit: the second may look, never write.
func TestStoryOfTwoWindows(t *testing.T) {
	dir := t.TempDir()
	d := deskIn(t, dir, wide)
	d.toBody(t)
	first := d
	second := deskIn(t, dir, wide)
	second.press(t, "Unfinished")
	second.wantShown(t, "open in another window", "Measure from bare metal")
	second.answer(t, "58")
	second.wantShown(t, "Measure from bare metal")
	if !strings.Contains(second.shell.note, "not changed") {
		t.Errorf("the second window says %q", second.shell.note)
	}
	second.Go(Location{Page: pageDelete, ID: first.visit.id()})
	second.press(t, "Delete it for good")
	if !strings.Contains(second.shell.note, "was not deleted") {
		t.Errorf("a visit open elsewhere was deleted: %q", second.shell.note)
	}
	first.give(faulttree.Answer{Readings: []faulttree.Reading{{Text: "2", Low: 2 * faulttree.One, High: 2 * faulttree.One, Resolution: faulttree.One}}})
	if !first.visit.walk().Ended() {
		t.Error("the first window can not go on")
	}
}

func TestStoryDeletesAVisit(t *testing.T) {
	d := desk(t, small)
	d.Go(Location{Page: pageVisits})
	d.wantShown(t, "No visit is on record yet")
	d.Go(Location{Page: pageOpening})
	d.toBody(t)
	d.Go(Location{Page: pageVisits})
	d.wantShown(t, "Unfinished.")
	d.press(t, "Delete")
	d.wantShown(t, "This can not be undone")
	d.key(fyne.KeyReturn) // the first button keeps it
	d.wantShown(t, "Unfinished.")
	d.press(t, "Delete")
	d.press(t, "Delete it for good")
	d.wantShown(t, "No visit is on record yet")
	for d.Here().Page != pageOpening {
		d.Back()
	}
	if d.visit != nil {
		t.Error("the deleted visit is still under way")
	}
}

// The reading that finds a live ground is given last, and stops at once.
func TestStoryOfASheet(t *testing.T) {
	d := desk(t, wide)
	d.toSheet(t)
	d.answer(t, "")
	d.answer(t, "119.2") // L1 to neutral
	d.answer(t, "120.1") // L2 to neutral
	d.wantShown(t, "2 of 5 readings given; wanted next: Pedestal: ground to the spike.")
	d.shell.focus(firstField(d))
	d.typeIn(t, "118")
	d.wantShown(t, "The grounding contact is live.", "Take no more readings", "reaches the danger limit of 30 V", "Go on now")
	d.press(t, "Go on now")
	d.wantShown(t, "Do not plug in.", "The grounding contact is live")
	d.wantShown(t, "118 V")
}

// The shipped sheet is given after the first look, in one go; the walk takes
// from it what it asks for and ends in a finding.
func TestStoryOfTheShippedSheet(t *testing.T) {
	d := desk(t, wide, func(o *Options) { o.ContentDir = "" })
	d.press(t, "50 A")
	for d.visit.walk().Step().Kind != faulttree.KindMeasure {
		d.typeIn(t, "1")
	}
	d.press(t, "All readings on one page")
	known := map[string]string{
		"meter.known-source": "119.8", "pedestal.l1-earth": "119.5", "pedestal.g-earth": "0.4", "pedestal.n-earth": "0.4",
		"pedestal.l1-n": "119.9", "pedestal.l2-n": "120.0", "pedestal.l1-l2": "239.9", "pedestal.n-g": "0.0",
		"pedestal.l1-g": "119.9", "pedestal.l2-g": "120.0",
	}
	at := d.Here()
	for i, id := range d.book.Forest.Trees["pedestal-50a"].Sheet {
		if known[id] == "" {
			t.Fatalf("the sheet asks for %s", id)
		}
		d.keep(at, i, known[id])
	}
	d.render()
	d.press(t, "Use these readings and go on")
	for !d.visit.walk().Ended() && d.visit.walk().Step().Kind != faulttree.KindMeasure {
		d.typeIn(t, "1")
	}
	if n := len(d.visit.walk().Trail()); n < 8 {
		t.Errorf("only %d answers were taken from the sheet; now asked: %s", n, d.visit.walk().At())
	}
	d.wantShown(t, "Pedestal: L1 to neutral", "119.9 V")
}

func firstField(d *Desk) *look.Field {
	var found *look.Field
	for _, o := range d.pane.body {
		look.Walk(o, func(o fyne.CanvasObject) bool {
			if f, ok := o.(*look.Field); ok && found == nil {
				found = f
			}
			return found == nil
		})
	}
	return found
}

func TestStoryOfASearchedReading(t *testing.T) {
	d := desk(t, wide, func(o *Options) { o.ContentDir = "" })
	d.typeIn(t, "/")
	d.typeIn(t, "58 volts on the bumper")
	d.wantShown(t, "STEP THAT TAKES THIS READING", "58 V")
	d.key(fyne.KeyReturn) // the first hit
	d.wantShown(t, "This reading can hurt", "Leads to: stop")
	d.press(t, "Begin a walk here with this reading")
	d.wantShown(t, "STOP: the body is live")
	d.press(t, "Back")
	d.wantShown(t, "Body to earth", "answered")
}

func TestStoryOfAFirstStart(t *testing.T) {
	dir := t.TempDir()
	if err := WriteSettings(filepath.Join(dir, "settings.json"), DefaultSettings()); err != nil {
		t.Fatal(err)
	}
	d := deskIn(t, dir, wide)
	d.wantShown(t, "Live supply", "Who will take the readings?")
	d.Go(Location{Page: pageOpening})
	d.wantShown(t, "Who will take the readings?") // the caution comes first
	d.typeIn(t, "2")
	d.wantShown(t, "What is happening?")
	s, err := ReadSettings(filepath.Join(dir, "settings.json"))
	if err != nil || !s.Welcomed || s.Role != faulttree.Qualified {
		t.Errorf("kept: %+v, %v", s, err)
	}
}

func TestStoryOfAReadingThatCannotBeTaken(t *testing.T) {
	d := desk(t, small)
	d.toBody(t)
	d.typeIn(t, "12000")
	d.wantShown(t, "This is not taken yet")
	d.key(fyne.KeyReturn)
	d.wantShown(t, "Measure from bare metal")
	d.press(t, "Cannot")
	d.wantShown(t, "Why can it not be measured?")
	d.typeIn(t, "2")
	d.wantShown(t, "Hand this to a licensed electrician", "not measured")
}

// Nothing typed is lost when a page is built anew: another text size, another
// column count, a message.
func TestTypedTextOutlivesTheLayout(t *testing.T) {
	d := desk(t, wide)
	d.toBody(t)
	d.typeIn(t, "41.5")
	d.window.Resize(small)
	d.shortcutTyped(t, fyne.KeyPlus, fyne.KeyModifierControl)
	d.window.Resize(middle)
	d.say("something")
	d.wantShown(t, "Leads to: stop")
	if f, ok := d.window.Canvas().Focused().(*look.Field); !ok || f.Text != "41.5" {
		t.Errorf("the keyboard is on %T", d.window.Canvas().Focused())
	}
	if d.settings.TextSize != 1.15 {
		t.Errorf("text size %v", d.settings.TextSize)
	}
}

func (d *Desk) shortcutTyped(t *testing.T, key fyne.KeyName, m fyne.KeyModifier) {
	t.Helper()
	s := &desktop.CustomShortcut{KeyName: key, Modifier: m}
	if f, ok := d.window.Canvas().Focused().(fyne.Shortcutable); ok {
		f.TypedShortcut(s)
		return
	}
	if !d.shortcutFor(s) {
		t.Fatalf("nothing listens to %s", s.ShortcutName())
	}
}

func TestKeys(t *testing.T) {
	d := desk(t, wide)
	d.toBody(t)
	d.press(t, "A meter that may be wrong")
	d.wantShown(t, "A meter that shows")
	d.key(fyne.KeyEscape)
	d.wantShown(t, "Measure from bare metal")
	d.shortcutTyped(t, fyne.KeyRight, fyne.KeyModifierAlt)
	d.wantShown(t, "A meter that shows")
	d.shortcutTyped(t, fyne.KeyLeft, fyne.KeyModifierAlt)
	d.wantShown(t, "Measure from bare metal")
	d.copyPage()
	if text := d.app.Clipboard().Content(); !strings.Contains(text, "Measure from bare metal of the body") || !strings.Contains(text, "AC volts") {
		t.Errorf("copied %q", text)
	}
	d.shortcutTyped(t, fyne.KeyF, fyne.KeyModifierControl)
	d.typeIn(t, "hold")
	d.wantShown(t, "A meter that may be wrong")
	d.key(fyne.KeyEscape)
	d.wantShown(t, "Measure from bare metal")
	if d.shell.search.Text != "" {
		t.Error("leaving the search leaves its words behind")
	}
}

// After a repair the same readings are taken again, beside the earlier ones.
func TestStoryOfATestAfterRepair(t *testing.T) {
	d := desk(t, wide)
	d.toFinding(t)
	d.press(t, "Test after repair")
	d.wantShown(t, "Was a tingle felt?")
	if !strings.Contains(d.shell.note, "test after the repair") {
		t.Errorf("the window says %q", d.shell.note)
	}
	d.typeIn(t, "2")
	d.answer(t, "120.0")
	d.answer(t, "0.4")
	d.wantShown(t, "These readings show no body voltage now")
	d.Go(Location{Page: pageVisits})
	d.wantShown(t, "Tested after repair.")
	if n := len(d.visit.rec.Visit().Rounds()); n != 2 {
		t.Errorf("%d rounds on record, want 2", n)
	}
}

// Back on a step leads over the answers one by one, and takes none away.
func TestStepsBackTakeNothingAway(t *testing.T) {
	d := desk(t, wide)
	d.toFinding(t)
	for _, want := range []string{"grounding pin to the body", "Stop, the body is live", "Measure from bare metal", "Prove the meter", "Was a tingle felt?"} {
		d.press(t, "Back")
		d.wantShown(t, want, "answered")
	}
	d.press(t, "Back")
	d.wantShown(t, "What is happening?")
	if n := len(d.visit.walk().Trail()); n != 5 {
		t.Errorf("%d answers stand, want all 5", n)
	}
}

// What can not be put on disk is not shown as taken, and stays typed.
func TestAnswerThatCannotBeKept(t *testing.T) {
	d := desk(t, wide)
	d.toBody(t)
	d.visit.file.Close() // the disk is gone
	d.answer(t, "58")
	d.wantShown(t, "Measure from bare metal", "Leads to: stop")
	if !strings.Contains(d.shell.note, "could not be put on record") {
		t.Errorf("the window says %q", d.shell.note)
	}
	if n := len(d.visit.walk().Trail()); n != 2 {
		t.Errorf("%d answers stand, want 2", n)
	}
}

func TestMyMeter(t *testing.T) {
	d := desk(t, wide)
	d.Go(Location{Page: pageSettings})
	d.keep(d.Here(), 1, "20000")
	d.keep(d.Here(), 2, "0.5 % + 10")
	d.render()
	d.press(t, "Use this meter")
	if m := d.settings.Meter; m.FullScale != 20000 || m.ACVolts != (faulttree.Accuracy{Percent: faulttree.One / 2, Counts: 10}) {
		t.Errorf("meter %+v, the page says %q", m, d.shell.note)
	}
	d.keep(d.Here(), 3, "quite good")
	d.render()
	d.press(t, "Use this meter")
	d.wantShown(t, "Not taken: DC volts is “quite good”; expected something like 1.2 + 5.")
	d.press(t, "An ordinary meter")
	if d.settings.Meter != faulttree.DefaultMeter() {
		t.Errorf("meter %+v", d.settings.Meter)
	}
}

// Links of a document lead within the handbook; nothing else is opened, and a
// citation is asked about first.
func TestLinks(t *testing.T) {
	d := desk(t, wide)
	for link, want := range map[string]string{
		"caution:live-work":      "Live supply; one hand only",
		"tree:tingle":            "From a felt tingle to its cause.",
		"step:tingle#stop":       "Pull the plug with one dry hand.",
		"card:none":              "Not found",
		"source:common-practice": "Not written down anywhere.",
	} {
		d.follow(link)
		d.wantShown(t, want)
	}
	for _, link := range []string{"file:///etc/passwd", "javascript:alert(1)", "https:", "mailto:a@b", "../x"} {
		d.follow(link)
		if !strings.Contains(d.shell.note, "leads nowhere") {
			t.Errorf("%s: %q", link, d.shell.note)
		}
	}
	d.follow("https://example.org/table")
	if len(d.window.Canvas().Overlays().List()) != 1 {
		t.Error("a citation must be asked about before the browser is started")
	}
}

func TestAHandbookThatCannotBeRead(t *testing.T) {
	d := desk(t, wide, func(o *Options) { o.ContentDir = filepath.Join(t.TempDir(), "none") })
	d.wantShown(t, "The handbook could not be read")
	d.press(t, "Settings")
	d.wantShown(t, "COLOURS", "MY METER")
	d.cancelLoad()
	d.Go(Location{Page: pageOpening})
	d.wantShown(t, errStopped.Error()[:20])
	if !errors.Is(d.bookErr, errStopped) || errors.Is(d.bookErr, context.Canceled) {
		t.Error(d.bookErr)
	}
}
