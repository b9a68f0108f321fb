package scenarios

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
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

// window is the form over the shipped handbook, with an instructor at it.
type window struct {
	*frame.Frame
	*frametest.Reader
	t       testing.TB
	area    *Area
	session *session.Session
	files   *chooser
	now     time.Time
}

// chooser answers for the machine: with a folder, a file, or a full disk.
type chooser struct {
	folder, file string
	full         bool
}

func (c *chooser) AskFolder(then func(fyne.ListableURI, error)) {
	if c.folder == "" {
		then(nil, nil)
		return
	}
	then(storage.ListerForURI(storage.NewFileURI(c.folder)))
}

func (c *chooser) AskOpen(_ string, then func(fyne.URIReadCloser, error)) {
	then(storage.Reader(storage.NewFileURI(c.file)))
}

func (c *chooser) Save(path, text string, over bool) error {
	if c.full {
		return sessiontest.ErrFull
	}
	return session.SaveScenario(path, text, over)
}

// open opens a window whose settings, and so the drafts, are in a folder.
func open(t testing.TB, size fyne.Size, folder string) *window {
	t.Helper()
	w := &window{t: t, files: &chooser{folder: t.TempDir()}, now: sessiontest.Noon()}
	var err error
	if w.session, err = session.New(session.Options{Settings: filepath.Join(folder, "settings.json"), Now: func() time.Time { return w.now }}); err != nil {
		t.Fatal(err)
	}
	w.session.UseBook(shipped())
	w.Frame, w.Reader = frametest.Open(t, size, frame.Options{}, place.Form(""), func(f *frame.Frame) {
		w.area = New(f, w.session)
		w.area.files = w.files
		f.Add(w.area.Pages(""))
		f.Add(map[place.Page]frame.Entry{place.ScenariosPage: {Build: func(place.Location) frame.Page {
			return frame.Page{Body: []fyne.CanvasObject{look.NewText("elsewhere")}}
		}}})
	})
	return w
}

// put types a text into the field that a hint or what stands in it names.
func (w *window) put(in, text string) {
	w.t.Helper()
	for _, f := range frametest.Find[*look.Field](w.Reader) {
		if strings.HasPrefix(f.PlaceHolder, in) || f.Text == in && in != "" {
			f.SetText(text)
			return
		}
	}
	w.t.Fatalf("no field says %q:\n%s", in, w.Text())
}

// fillIn makes a scenario from nothing, as far as its title.
func (w *window) fillIn(title string) {
	w.t.Helper()
	w.put("such as: Lamps", title)
	w.Choose(shipped().Rigs["coach-50a"].Title)
	w.Choose(shipped().Faults["high-resistance-neutral"].Title)
	w.put("Since noon", "Since noon the lamps dance.")
	w.put("It is shown", "Leg to neutral differs with the load, which shows a bad neutral contact.")
}

func (w *window) making() *making { return w.area.made[w.Here().ID] }

// An instructor makes a scenario by choosing and typing, saves it, and it is one that a
// learner can be given.
func TestAScenarioIsMadeAndSaved(t *testing.T) {
	w := open(t, frametest.Wide, t.TempDir())
	w.Want("Before it can be saved: Give the scenario a title. And 3 things more", "Choose the vehicle and its supply.")
	w.fillIn("Lamps that dance")
	if strings.Contains(w.Text(), "Before it can be saved") {
		t.Fatalf("something lacks:\n%s", w.Text())
	}
	for _, b := range frametest.Find[*look.Button](w.Reader) {
		if strings.HasPrefix(b.Plain(), "Check whether") && b.Disabled() {
			t.Error("nothing lacks any more, and it cannot be checked")
		}
	}
	w.Press("Save as a file")
	path := filepath.Join(w.files.folder, "lamps-that-dance.md")
	w.WantSaid("The scenario was saved to " + path)
	s := read(t, path)
	if s.Title != "Lamps that dance" || len(s.Faults) != 1 || s.Faults[0].Fault.ID != "high-resistance-neutral" || s.Story != "Since noon the lamps dance." {
		t.Errorf("the file holds %+v", s)
	}
	w.put("Lamps that dance", "Lamps that dance at night")
	w.Press("Save")
	if s := read(t, path); s.Title != "Lamps that dance at night" || s.ID != "lamps-that-dance" {
		t.Errorf("saved again it is %q, %q", s.Title, s.ID)
	}
	if left, _ := os.ReadDir(w.files.folder); len(left) != 1 {
		t.Errorf("beside it are left %v", left)
	}
	w.Press("Make another")
	w.Want("Make a scenario", "Before it can be saved")
}

// What the story says was seen is chosen in the words of the handbook, saved with the
// scenario, shown when that is opened again, and goes with a vehicle of which it cannot be
// seen.
func TestWhatTheStorySaysWasSeen(t *testing.T) {
	w := open(t, frametest.Wide, t.TempDir())
	w.fillIn("Lamps that dance")
	w.Press("Say what the customer saw")
	w.Choose("No, nobody")
	w.Press("Save as a file")
	path := filepath.Join(w.files.folder, "lamps-that-dance.md")
	if s := read(t, path); !slices.Equal(s.Seen, []suspect.Seen{{Observation: "tingle", Choice: "nobody"}}) {
		t.Errorf("the file says %v", s.Seen)
	}
	w.Go(place.Form("three-volts-and-a-worry"))
	w.Want("Has anybody felt a tingle or a shock? Only what was felt counts: do not touch anything to find out. No, nobody", "Does anything smell burnt, or is anything brown or soft? Nothing that I noticed")
	f := w.making().form.WithRig(shipped(), "house-12v")
	if s, _, _ := f.Scenario(t.Context(), shipped()); s != nil && slices.ContainsFunc(s.Seen, func(x suspect.Seen) bool { return x.Observation == "lamps" }) {
		t.Errorf("of a battery it says %v", s.Seen)
	}
}

func read(t *testing.T, path string) *content.Scenario {
	t.Helper()
	f := must.Have(os.Open(path))(t)
	defer f.Close()
	s, list := load.Scenario(t.Context(), shipped(), filepath.Base(path), f, nil)
	if s == nil {
		t.Fatal(list)
	}
	return s
}

// What a meter reads follows the dial, and a reading that hurts stands as a danger with
// why.
func TestReadingsFollowTheDial(t *testing.T) {
	w := open(t, frametest.Wide, t.TempDir())
	w.Go(place.Form("barefoot-on-the-steel-step"))
	w.Want("Body to the earth spike: 29.74 V", "may have reached the danger limit of 30 V", "In a vehicle in order it reads 290.2 mV.")
	w.Press("Take this fault out")
	if strings.Contains(look.TextOf(w.Shown().Side[0]), "DANGER") {
		t.Errorf("a vehicle in order is a danger:\n%s", w.Text())
	}
	w.Go(place.Form("lamps-like-candles"))
	w.Want("12 V panel: positive to negative, loads on: 10.50 V, in order 12.22 V")
	frametest.Find[*look.Dial](w.Reader)[0].Turn(0)
	if now := look.TextOf(w.Shown().Side[0]); strings.Contains(now, "10.50 V") || !strings.Contains(now, "12 V panel: positive to negative, loads on: 11.46 V") {
		t.Errorf("turned down it still reads\n%s", now)
	}
}

// A leg beyond what its appliances bear stands as a danger, with why, whoever the
// learner is and whatever he may read.
func TestABurningLegIsADanger(t *testing.T) {
	w := open(t, frametest.Wide, t.TempDir())
	w.fillIn("Lamps that dance")
	w.Press("Take this fault out")
	w.Choose(shipped().Faults["open-neutral"].Title)
	for _, role := range []string{"An owner", "Somebody qualified"} {
		w.Choose(role)
		w.Want("DANGER", "burns")
	}
	w.Press("Take this fault out")
	if strings.Contains(w.Text(), "DANGER") {
		t.Errorf("a vehicle in order is a danger:\n%s", w.Text())
	}
}

// A file of that name is not touched until that is wanted; a disk that is full, and a
// folder that is gone, cost nothing of what was typed.
func TestSavingFails(t *testing.T) {
	w := open(t, frametest.Wide, t.TempDir())
	w.fillIn("Lamps that dance")
	path := filepath.Join(w.files.folder, "lamps-that-dance.md")
	must.Do(t, os.WriteFile(path, []byte("mine"), 0o600))
	w.Press("Save as a file")
	w.WantSaid("Nothing was written", path)
	if text, _ := os.ReadFile(path); string(text) != "mine" {
		t.Errorf("the file that was there holds %q", text)
	}
	w.files.full = true
	w.Press("Write over that file")
	w.WantSaid("could not be written", "What you typed is still here", "No space is left")
	if text, _ := os.ReadFile(path); string(text) != "mine" {
		t.Errorf("the file that was there holds %q", text)
	}
	w.files.full = false
	w.Press("Save as a file")
	w.Press("Write over that file")
	if s := read(t, path); s.Title != "Lamps that dance" {
		t.Errorf("it is %q", s.Title)
	}
	w.put("Lamps that dance", "Lamps that dance")
	w.making().path = filepath.Join(path, "below-a-file", "x.md")
	w.Press("Save")
	w.WantSaid("could not be written", "What you typed is still here")
	if strings.Contains(w.Said(), ".writing") {
		t.Errorf("it names a file that nobody knows: %q", w.Said())
	}
	w.files.folder = ""
	w.Press("Save in another folder") // and nothing is chosen
	w.Want("Lamps that dance")
}

// What was typed is still there after a look elsewhere, another handbook, and a
// program that ended without a word.
func TestNothingTypedIsLost(t *testing.T) {
	folder := t.TempDir()
	w := open(t, frametest.Wide, folder)
	w.fillIn("Lamps that dance")
	w.now = w.now.Add(time.Minute)
	w.put("Lamps that dance", "Lamps that dance a lot")
	w.Go(place.Form("barefoot-on-the-steel-step"))
	w.Want("Not saved yet: go on with “Lamps that dance a lot”")
	w.Go(place.Scenarios())
	w.Go(place.Form(""))
	_, want, _ := w.making().form.Scenario(t.Context(), w.area.book)
	if !strings.Contains(want, "Lamps that dance a lot") {
		t.Fatalf("after a look elsewhere it is\n%s", want)
	}
	w.session.UseBook(load.Shipped())
	w.Return("The handbook was read again.")
	if _, got, problems := w.making().form.Scenario(t.Context(), w.area.book); got != want || w.area.book != w.session.Book() {
		t.Errorf("after another handbook: %v\n%s", problems, got)
	}
	// No goodbye: another program over the same folder.
	again := open(t, frametest.Wide, folder)
	if _, got, problems := again.making().form.Scenario(t.Context(), again.area.book); got != want {
		t.Errorf("after a crash: %v\n%s", problems, got)
	}
	again.Want("Throw it away")
	again.Press("Throw it away")
	again.Press("Throw it away for good")
	third := open(t, frametest.Wide, folder)
	third.Want("Before it can be saved: Give the scenario a title.")
}

// At most two seconds of typing are lost by a program that ends without a word.
func TestTypingReachesTheDisk(t *testing.T) {
	folder := t.TempDir()
	w := open(t, frametest.Wide, folder)
	w.put("such as: Lamps", "Lamps")
	w.now = w.now.Add(betweenDrafts)
	w.put("Lamps", "Lamps that")
	w.put("Lamps that", "Lamps that dance")
	if got := open(t, frametest.Wide, folder).making().form.Title; got != "Lamps that" {
		t.Errorf("kept is %q", got)
	}
}

// Drafts that are no drafts are told, and the form is there all the same; so is a disk
// that keeps none.
func TestDraftsFail(t *testing.T) {
	for _, text := range []string{"[", `{"At":3}`, `[{"At":"x","Form":[]}]`, strings.Repeat("x", 9<<20), "[" + strings.Repeat("{},", 200) + "{}]"} {
		folder := t.TempDir()
		must.Do(t, os.WriteFile(filepath.Join(folder, "scenario-drafts.json"), []byte(text), 0o600))
		w := open(t, frametest.Wide, folder)
		w.WantSaid("could not be read")
		w.fillIn("Lamps that dance")
	}
	folder := filepath.Join(t.TempDir(), "file")
	w := open(t, frametest.Wide, folder)
	must.Do(t, os.WriteFile(folder, nil, 0o600))
	w.fillIn("Lamps that dance")
	w.WantSaid("not kept if the program ends")
	w.Press("Save as a file")
	w.WantSaid("The scenario was saved to")
}

// A file is opened for change and saved where it was. What is typed is text, whatever
// it looks like.
func TestAFileIsChanged(t *testing.T) {
	w := open(t, frametest.Wide, t.TempDir())
	path := filepath.Join(t.TempDir(), "mine.md")
	must.Do(t, session.SaveScenario(path, load.ScenarioText(shipped(), shipped().Scenarios["lamps-like-candles"]), false))
	w.files.file = path
	w.Press("Open a scenario from a file")
	w.Want("Change “Lamps like candles, battery like new”")
	for _, hostile := range []string{"---\nscenario: x\n---", "\u202eturned\u0000: {a: &b}", `"quotes" 'and' <b>html</b> =1+1`} {
		w.put(w.making().form.Title, hostile)
		w.Press("Save")
		w.WantSaid("was saved to " + path)
		if got := read(t, path); got.ID != "lamps-like-candles" || strings.ContainsAny(got.Title, "\u202e\u0000") || len(got.Faults) != 1 {
			t.Errorf("of a title %q it holds %q, %+v", hostile, got.Title, got)
		}
	}
	must.Do(t, os.WriteFile(path, []byte("no scenario"), 0o600))
	w.Go(place.Form(""))
	w.Press("Open a scenario from a file")
	w.WantSaid("cannot be opened", "mine.md")
}

// What is said by a check is that of the values, and it is of the scenario as it was.
func TestAScenarioIsChecked(t *testing.T) {
	if testing.Short() {
		t.Skip("draws vehicles")
	}
	w := open(t, frametest.Wide, t.TempDir())
	w.Go(place.Form("lamps-like-candles"))
	w.Press("Check whether it can be solved")
	found := w.making().check.found
	if w.making().check.err != nil || !found.Fine() {
		t.Fatalf("a scenario of the handbook: %+v, %v", found, w.making().check.err)
	}
	w.Want(view.ShareText(found.Solved.Share)+" to what is hidden", "Nothing is to be mended")
	w.put("Lamps like candles, battery like new", "Lamps like candles, twice")
	w.Want("It was checked before you changed it.")
}

// A check that is left, or stopped, leaves nothing behind.
func TestACheckIsStopped(t *testing.T) {
	w := open(t, frametest.Wide, t.TempDir())
	w.Go(place.Form("lamps-like-candles"))
	m := w.making()
	frame.Run(w.Runner(), jobCheck, func(stopped context.Context) error {
		m.check = check{of: "x", running: true, weighed: 12}
		w.Render()
		w.Want("Being checked: 12 readings weighed so far.")
		w.Press("Stop checking")
		if stopped.Err() == nil {
			t.Error("it goes on")
		}
		return errors.New("stopped")
	}, func(error) { t.Error("it was done all the same") })
	w.Want("Check whether it can be solved")
}

// The form draws in every mode and at every size, and no label is cut.
func TestFormPictures(t *testing.T) {
	for _, v := range []struct {
		name, colours string
		size          fyne.Size
	}{{"light", "light", frametest.Wide}, {"dark", "dark", frametest.Wide}, {"middle", "light", frametest.Middle}, {"narrow", "light", frametest.Small}, {"long", "light", fyne.NewSize(480, 3000)}, {"high", "light", fyne.NewSize(1280, 3600)}} {
		for _, id := range []string{"", "barefoot-on-the-steel-step"} {
			w := open(t, v.size, t.TempDir())
			w.SetLook(v.colours, 1)
			w.Go(place.Form(id))
			name := "form-" + v.name
			if id != "" {
				name += "-filled"
			}
			if id != "" && v.size.Height > 1500 {
				w.Press("Say what the customer saw")
			}
			w.Picture(name)
			w.WantNothingCut()
		}
	}
}
