package gui

import (
	"flag"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/faulttree/visit/store"
	"faultwright/gui/look"
)

var (
	pictures = flag.String("pictures", "", "keep a picture of every view in this folder")
	small    = fyne.NewSize(480, 640)
	middle   = fyne.NewSize(900, 720)
	wide     = fyne.NewSize(1280, 800)
)

// desk opens a window in memory over the small handbook of the tests, past
// the first start. It keeps visits in a folder of its own.
func desk(t *testing.T, size fyne.Size, change ...func(*Options)) *Desk {
	t.Helper()
	return deskIn(t, t.TempDir(), size, change...)
}

func deskIn(t *testing.T, dir string, size fyne.Size, change ...func(*Options)) *Desk {
	t.Helper()
	visits, err := store.Open(filepath.Join(dir, "visits"))
	if err != nil {
		t.Fatal(err)
	}
	o := Options{
		ContentDir: "../testdata/handbook", Settings: filepath.Join(dir, "settings.json"), Visits: visits, Inline: true,
		Now: func() time.Time { return time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC) },
	}
	if _, err := os.Stat(o.Settings); err != nil {
		if err := WriteSettings(o.Settings, Settings{Welcomed: true, Mode: look.Light, Meter: DefaultSettings().Meter, TextSize: 1}); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range change {
		c(&o)
	}
	a := test.NewTempApp(t)
	d := New(a, o)
	d.window.Resize(size)
	d.window.Show()
	t.Cleanup(func() { d.release(); d.window.Close(); visits.Close() })
	return d
}

// shown is all text of the page shown.
func (d *Desk) shown() string {
	var b strings.Builder
	for _, o := range append(append([]fyne.CanvasObject{}, d.pane.body...), d.pane.side...) {
		b.WriteString(look.TextOf(o) + "\n")
	}
	return b.String()
}

// wantShown fails unless the page shows every text.
func (d *Desk) wantShown(t *testing.T, texts ...string) {
	t.Helper()
	page := d.shown()
	for _, text := range texts {
		if !strings.Contains(page, text) {
			t.Fatalf("the page does not show %q:\n%s", text, page)
		}
	}
}

// press presses the button, choice, row or link with this text.
func (d *Desk) press(t *testing.T, text string) {
	t.Helper()
	var found func()
	for _, o := range append(append([]fyne.CanvasObject{d.shell.root}, d.pane.body...), d.pane.side...) {
		look.Walk(o, func(o fyne.CanvasObject) bool {
			if found != nil {
				return false
			}
			if p, ok := o.(*look.Prose); ok {
				for _, target := range p.Targets() {
					if strings.Contains(p.Plain(), text) {
						found = func() { p.Press(target) }
					}
				}
			}
			named, ok := o.(interface{ AccessibilityLabel() string })
			tap, can := o.(fyne.Tappable)
			if ok && can && strings.Contains(named.AccessibilityLabel(), text) {
				found = func() { tap.Tapped(nil) }
			}
			return found == nil
		})
		if found != nil {
			found()
			return
		}
	}
	t.Fatalf("nothing to press says %q:\n%s", text, d.shown())
}

// typeIn types into whatever has the keyboard.
func (d *Desk) typeIn(t *testing.T, text string) {
	t.Helper()
	f := d.window.Canvas().Focused()
	if f == nil {
		test.TypeOnCanvas(d.window.Canvas(), text)
		return
	}
	test.Type(f, text)
}

// key presses a key without a character.
func (d *Desk) key(name fyne.KeyName) {
	ev := &fyne.KeyEvent{Name: name}
	if f := d.window.Canvas().Focused(); f != nil {
		f.TypedKey(ev)
		return
	}
	d.window.Canvas().OnTypedKey()(ev)
}

// picture keeps what the window shows, if pictures are asked for.
func (d *Desk) picture(t *testing.T, name string) {
	t.Helper()
	if *pictures == "" {
		return
	}
	img := d.window.Canvas().Capture()
	if err := os.MkdirAll(*pictures, 0o755); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(filepath.Join(*pictures, name+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
