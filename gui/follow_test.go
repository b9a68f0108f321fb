package gui

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree/must"
	"faultwright/gui/place"
)

// author is somebody who edits the handbook while its window is open.
type author struct {
	*window
	dir, tree string
	saves     []func() // still to be followed
}

// openFollowing opens a window that follows a copy of the small handbook.
func openFollowing(t *testing.T) *author {
	a := &author{dir: filepath.Join(t.TempDir(), "handbook")}
	must.Do(t, os.CopyFS(a.dir, os.DirFS("../testdata/handbook")))
	a.tree = filepath.Join(a.dir, "trees", "tingle.md")
	a.window = open(t, wide, folder(a.dir), func(o *Options) {
		o.changed = func(context.Context) error {
			if len(a.saves) == 0 {
				return context.Canceled
			}
			save := a.saves[0]
			a.saves = a.saves[1:]
			save()
			return nil
		}
	})
	return a
}

// save does something to the folder and lets the window follow it.
func (a *author) save(do ...func()) {
	a.saves = do
	a.handbook.Follow()
}

// write saves a file whole.
func (a *author) write(name string, text []byte) {
	a.save(func() { must.Do(a.t, os.WriteFile(name, text, 0o600)) })
}

// What an author saves is shown where he is, and judges what he has typed.
func TestTheWindowFollowsWhatIsSaved(t *testing.T) {
	a := openFollowing(t)
	a.toBody()
	a.Type("20")
	a.Want("Leads to: look further")
	at, answers := a.Here(), len(a.session.Visit().Walk().Trail())
	a.save(
		func() { edit(t, a.tree, "touch: {value: 30 V", "touch: {value: 15 V") },
		func() { edit(t, a.tree, "Measure from bare metal", "Measure at bare metal") },
	)
	a.WantSaid("read again as saved")
	a.Want("Measure at bare metal", "Leads to: stop")
	if v := a.session.Visit(); a.Here() != at || v == nil || len(v.Walk().Trail()) != answers {
		t.Errorf("at %v with visit %v, want %v with %d answers", a.Here(), v, at, answers)
	}
	a.Go(place.Handbook(view.KindCard, "meter"))
	a.save(func() { edit(t, filepath.Join(a.dir, "cards", "doubt-the-meter.md"), "title: ", "title: Anew, ") })
	a.Want("Anew, A meter")
}

// A tree that is broken as saved, half written or gone from its folder, does not take the visit
// that stands on it: the one before stays in use, the problems are those
// of what was saved, and the tree mended is in use again.
func TestABrokenTreeUnderAVisit(t *testing.T) {
	a := openFollowing(t)
	a.toBody()
	whole := must.Have(os.ReadFile(a.tree))(t)
	for _, n := range []int{0, 10, len(whole) / 4, len(whole) / 2, len(whole) * 3 / 4} {
		book := a.session.Book()
		a.write(a.tree, whole[:n])
		a.WantSaid("What was saved is not in use yet")
		a.Want("Measure from bare metal")
		if a.session.Visit() == nil || a.session.Book() != book {
			t.Fatalf("%d bytes of the tree: the visit %v is no longer in the handbook before", n, a.session.Visit())
		}
		a.Go(place.Problems())
		a.Want("What was saved is not in use yet", "trees/tingle.md:", "Use it as saved")
		a.Back()
		a.Answer("58")
		a.Want("Stop, the body is live")
		a.Back()
		a.write(a.tree, whole)
		a.WantSaid("read again as saved")
		a.Go(place.Problems())
		a.Want("Nothing is wrong with it.", "Read the handbook again")
		a.Back()
		if n := len(a.session.Visit().Walk().Trail()); n != 3 {
			t.Fatalf("%d answers stand, want 3", n)
		}
	}
	a.save(func() { must.Do(t, os.Remove(a.tree)) })
	a.WantSaid("What was saved is not in use yet", "tingle")
	a.Go(place.Problems())
	a.Press("Use it as saved") // on purpose
	a.WantSaid("cannot go on with the visit")
	if a.session.Book().Forest.Tree("tingle") != nil {
		t.Error("the handbook as saved is not in use")
	}
}

// A walk whose errors are in use already is followed while it is mended error by error.
func TestATreeIsMendedUnderAVisit(t *testing.T) {
	a := openFollowing(t)
	a.toBody()
	edit(t, a.tree, "touch: {value: 30 V", "touch: {value: 30 V, colour: red")
	a.handbook.Load() // on purpose
	a.save(func() { edit(t, a.tree, "Measure from bare metal", "Measure at bare metal") })
	a.WantSaid("read again as saved", "It has 1 problem: trees/tingle.md:")
	a.Want("Measure at bare metal")
	a.save(func() { must.Do(t, os.WriteFile(filepath.Join(a.dir, "cards", "a.txt"), nil, 0o600)) }) // of another file, and sorted before it
	a.save(func() { edit(t, a.tree, "Measure at bare metal", "Measure the bare metal") })
	a.WantSaid("It has 2 problems: trees/tingle.md:")
}

// A folder that vanishes, or is emptied, leaves the handbook and the visit; it is
// read once it is back.
func TestTheFolderVanishesUnderAVisit(t *testing.T) {
	a := openFollowing(t)
	a.toBody()
	a.save(func() { must.Do(t, os.Rename(a.dir, a.dir+".away")) })
	a.WantSaid("was not read again", "stays in use. The content folder cannot be opened")
	a.Want("Measure from bare metal")
	a.save(func() { must.Do(t, os.Mkdir(a.dir, 0o700)) })
	a.WantSaid("What was saved is not in use yet")
	a.Answer("58")
	a.Want("Stop, the body is live")
	a.save(func() {
		must.Do(t, os.Remove(a.dir))
		must.Do(t, os.Rename(a.dir+".away", a.dir))
	})
	a.WantSaid("read again as saved")
	a.Want("Stop, the body is live")
}

// Several saves in a row, the first of them while the handbook has not been read
// at all, end in the last one.
func TestSavesInARow(t *testing.T) {
	a := openFollowing(t)
	for _, title := range []string{"One", "Two", "Three"} {
		a.saves = append(a.saves, func() { edit(t, filepath.Join(a.dir, "cards", "doubt-the-meter.md"), "title: ", "title: "+title+" ") })
	}
	a.Go(place.Handbook(view.KindCard, ""))
	a.save(a.saves...)
	a.Want("Three Two One")
}

// What an author edits is shown as a page beside its text, with its problems by line.
func TestThePageBesideItsText(t *testing.T) {
	a := openFollowing(t)
	a.Go(place.Edited("", 0))
	a.Want("Nothing was saved since the window was opened.")
	card := filepath.Join(a.dir, "cards", "who-may-repair.md")
	a.save(func() { edit(t, card, "it is an electrician.", "an electrician repairs it.") })
	a.Want("cards/who-may-repair.md", "Nothing is wrong with this file.", "Who may repair what",
		"Behind a cover an electrician repairs it.", "5  Behind a cover an electrician repairs it.")
	a.save(func() { edit(t, a.tree, "Push the spike into wet soil", "Push the long spike into wet soil") })
	a.Want("trees/tingle.md", "Measure from bare metal", "Push the long spike into wet soil, well away")
	a.save(func() { edit(t, a.tree, "touch: {value: 30 V", "touch: {value: 30 V, colour: red") })
	a.Want("1 problem", "trees/tingle.md:10:24: error: a limit has no key colour", "10    touch: {value: 30 V, colour: red")
	a.Go(place.Problems())
	a.Press("Page and text of trees/tingle.md")
	a.Want("10    touch: {value: 30 V, colour: red")
	a.save(func() { edit(t, filepath.Join(a.dir, "synonyms.yaml"), "\n", " # words\n") })
	a.Go(place.Edited("", 0))
	a.Want("synonyms.yaml", "This text has no page of its own", "# words")
	a.Go(place.Edited("trees/none.md", 1))
	a.Want("This handbook has no file trees/none.md.")
	for _, size := range []fyne.Size{small, middle, wide} {
		a.Window.Window().Resize(size)
		a.Go(place.Edited("trees/tingle.md", 40))
		a.WantNothingCut()
	}
}

// The program follows the folder that it is given, and no other handbook: a save is told
// after two looks at most, whatever the clock.
func TestTheFolderGivenIsFollowed(t *testing.T) {
	var none Options
	none.fill()
	if none.changed != nil {
		t.Error("the built-in handbook is followed")
	}
	dir := copied(t)
	synctest.Test(t, func(t *testing.T) {
		o := Options{ContentDir: dir}
		o.fill()
		edit(t, filepath.Join(dir, "cards", "doubt-the-meter.md"), "title: ", "title: Anew ")
		began := time.Now()
		if err := o.changed(t.Context()); err != nil || time.Since(began) > time.Second {
			t.Errorf("told after %v: %v", time.Since(began), err)
		}
		ctx, cancel := context.WithCancel(t.Context())
		cancel()
		if err := o.changed(ctx); !errors.Is(err, context.Canceled) {
			t.Errorf("as the window closes: %v", err)
		}
	})
}
