// Package frametest is a reader at the window in tests: somebody who looks at
// the page, presses what it shows and types.
package frametest

import (
	"flag"
	"fmt"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"

	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// Pictures is the folder in which a picture of every view is kept; "" keeps
// none.
var Pictures = flag.String("pictures", "", "keep a picture of every view in this folder")

// Sizes of a window: the smallest, one with two columns, and the usual one.
var (
	Small  = fyne.NewSize(480, 640)
	Middle = fyne.NewSize(900, 720)
	Wide   = fyne.NewSize(1280, 800)
)

// Reader is somebody at a window. What cannot be done fails the test.
type Reader struct {
	tb     testing.TB
	window *frame.Frame
}

// NewReader sits down at a window, which is shown at a size until the test
// ends.
func NewReader(tb testing.TB, f *frame.Frame, size fyne.Size) *Reader {
	f.Window().Resize(size)
	f.Window().Show()
	tb.Cleanup(func() {
		f.Window().Close()
		letGo()
	})
	return &Reader{tb, f}
}

// mostMemory is from how many bytes on rubbish is looked for before there is as much of it
// as of what is in use. Each window in a test brings its fonts, of which the window library
// keeps the last few dozen: about a gigabyte. A machine with four is to run all tests.
const mostMemory = 2 << 30

func init() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(mostMemory)
	}
}

// letGo has the window library let go of what was drawn in windows that are closed long
// since. It does so where a real window is painted, and in tests nowhere but for a picture
// of a canvas: else they fill memory with all windows of a run.
func letGo() { software.NewCanvas().Capture() }

// Open opens a window in memory with some pages, as it is at first: light, with
// text of the usual size, at the first of its places.
func Open(tb testing.TB, size fyne.Size, o frame.Options, first place.Location, pages func(*frame.Frame)) (*frame.Frame, *Reader) {
	f := frame.New(test.NewTempApp(tb))
	f.SetLook("light", 1)
	pages(f)
	o.Inline = true
	f.Open(o, first)
	return f, NewReader(tb, f, size)
}

func (r *Reader) canvas() fyne.Canvas { return r.window.Window().Canvas() }

// on is everything drawn on the page.
func (r *Reader) on() []fyne.CanvasObject {
	p := r.window.Shown()
	return append(append(append([]fyne.CanvasObject{}, p.Body...), p.Foot), p.Side...)
}

// Text is all text of the page shown.
func (r *Reader) Text() string {
	var b strings.Builder
	for _, o := range r.on() {
		b.WriteString(look.TextOf(o) + "\n")
	}
	return b.String()
}

// Want fails unless the page shows every text.
func (r *Reader) Want(texts ...string) {
	r.tb.Helper()
	page := r.Text()
	for _, text := range texts {
		if !strings.Contains(page, text) {
			r.tb.Fatalf("the page does not show %q:\n%s", text, page)
		}
	}
}

// WantSaid fails unless the message above the page holds every text.
func (r *Reader) WantSaid(texts ...string) {
	r.tb.Helper()
	for _, text := range texts {
		if !strings.Contains(r.window.Said(), text) {
			r.tb.Errorf("the window says %q, not %q", r.window.Said(), text)
		}
	}
}

// Press presses the button, choice, row or link with this text.
func (r *Reader) Press(text string) {
	r.tb.Helper()
	for _, o := range append([]fyne.CanvasObject{r.window.Window().Content()}, r.on()...) {
		if press := pressable(o, text); press != nil {
			press()
			return
		}
	}
	r.tb.Fatalf("nothing to press says %q:\n%s", text, r.Text())
}

// pressable is what pressing the first thing of this text under an object
// does; nil if there is none.
func pressable(under fyne.CanvasObject, text string) (press func()) {
	look.Walk(under, func(o fyne.CanvasObject) bool {
		if press != nil {
			return false
		}
		if p, ok := o.(*look.Prose); ok {
			for _, target := range p.Targets() {
				if strings.Contains(p.Plain(), text) {
					press = func() { p.Press(target) }
				}
			}
		}
		named, ok := o.(interface{ AccessibilityLabel() string })
		tap, can := o.(fyne.Tappable)
		if ok && can && strings.Contains(named.AccessibilityLabel(), text) {
			press = func() { tap.Tapped(nil) }
		}
		return press == nil
	})
	return press
}

// Type types into whatever has the keyboard.
func (r *Reader) Type(text string) {
	if f := r.canvas().Focused(); f != nil {
		test.Type(f, text)
		return
	}
	test.TypeOnCanvas(r.canvas(), text)
}

// Key presses a key without a character.
func (r *Reader) Key(name fyne.KeyName) {
	ev := &fyne.KeyEvent{Name: name}
	if f := r.canvas().Focused(); f != nil {
		f.TypedKey(ev)
		return
	}
	r.canvas().OnTypedKey()(ev)
}

// Shortcut presses a key with others.
func (r *Reader) Shortcut(key fyne.KeyName, m fyne.KeyModifier) {
	s := &desktop.CustomShortcut{KeyName: key, Modifier: m}
	if f, ok := r.canvas().Focused().(fyne.Shortcutable); ok {
		f.TypedShortcut(s)
		return
	}
	if !r.window.RunShortcut(s) {
		r.tb.Fatalf("nothing listens to %s", s.ShortcutName())
	}
}

// Answer types a reading and presses Enter.
func (r *Reader) Answer(text string) {
	r.Type(text)
	r.Key(fyne.KeyReturn)
}

// Pick marks a choice by its digit and takes it with Enter.
func (r *Reader) Pick(digit string) {
	r.Type(digit)
	r.Key(fyne.KeyReturn)
}

// Retype puts another text into the field that has the keyboard.
func (r *Reader) Retype(text string) {
	r.tb.Helper()
	f, ok := r.canvas().Focused().(*look.Field)
	if !ok {
		r.tb.Fatalf("the keyboard is on %T, not on a field", r.canvas().Focused())
	}
	f.SetText(text)
}

// Choose chooses an option in whichever list has it.
func (r *Reader) Choose(option string) {
	r.tb.Helper()
	for _, list := range Find[*look.Select](r) {
		for i, o := range list.Options {
			if o == option {
				list.SetSelectedIndex(i)
				return
			}
		}
	}
	r.tb.Fatalf("no list has %q", option)
}

// Check ticks the first box whose text begins so, or takes its tick away.
func (r *Reader) Check(text string, on bool) {
	r.tb.Helper()
	for _, c := range Find[*look.Check](r) {
		if strings.HasPrefix(c.Text, text) {
			c.SetChecked(on)
			return
		}
	}
	r.tb.Fatalf("nothing to check says %q:\n%s", text, r.Text())
}

// Find lists what the body of the page has of one kind.
func Find[T fyne.CanvasObject](r *Reader) []T {
	var out []T
	for _, o := range append(r.window.Shown().Body, r.window.Shown().Foot) {
		look.Walk(o, func(o fyne.CanvasObject) bool {
			if w, ok := o.(T); ok {
				out = append(out, w)
			}
			return true
		})
	}
	return out
}

// longestWord is how long words of the language are at most; what is longer must be broken.
const longestWord = 24

// WantNothingCut fails if a text, or a thing to press, reaches beyond the right edge of the
// window, or if a word is broken for want of room.
func (r *Reader) WantNothingCut() {
	r.tb.Helper()
	room := r.canvas().Size().Width
	look.Walk(r.window.Window().Content(), func(o fyne.CanvasObject) bool {
		p, text := o.(*look.Prose)
		if _, press := o.(fyne.Focusable); text || press {
			if right := fyne.CurrentApp().Driver().AbsolutePositionForObject(o).X + o.Size().Width; right > room+1 {
				r.tb.Errorf("%+v, %v wide: %s reaches %v", r.window.Here(), room, named(o), right)
			}
		}
		if text {
			if word := p.Broken(); word != "" && len(word) <= longestWord {
				r.tb.Errorf("%+v, %v wide: “%s” is broken in “%s”", r.window.Here(), room, word, p.Plain())
			}
		}
		_, dial := o.(*look.Dial) // its slider has room around it in which nothing is seen
		return !dial
	})
}

// Pressables lists what the body of the page has to press, turn and choose from.
func (r *Reader) Pressables() []fyne.CanvasObject {
	return slices.DeleteFunc(Find[fyne.CanvasObject](r), func(o fyne.CanvasObject) bool {
		_, ok := o.(fyne.Focusable)
		return !ok
	})
}

// WantSteady fails if one of some things on the page is elsewhere in the window
// after something was done, is another size, or is gone.
func (r *Reader) WantSteady(what string, all []fyne.CanvasObject, do func()) {
	r.tb.Helper()
	type rectangle struct {
		at   fyne.Position
		size fyne.Size
	}
	of := func(o fyne.CanvasObject) rectangle {
		return rectangle{fyne.CurrentApp().Driver().AbsolutePositionForObject(o), o.Size()}
	}
	const rounding = 0.01 // of a scroll, in points
	near := func(a, b fyne.Position) bool {
		return math.Abs(float64(a.X-b.X)) < rounding && math.Abs(float64(a.Y-b.Y)) < rounding
	}
	before := make([]rectangle, len(all))
	for i, o := range all {
		before[i] = of(o)
	}
	do()
	still := r.Pressables()
	for i, o := range all {
		name := fmt.Sprintf("%T", o)
		if named, ok := o.(interface{ Plain() string }); ok {
			name = named.Plain()
		}
		if now := of(o); !slices.Contains(still, o) {
			r.tb.Errorf("%s: %q is gone", what, name)
		} else if !near(now.at, before[i].at) || now.size != before[i].size {
			r.tb.Errorf("%s: %q was at %v and is at %v", what, name, before[i], now)
		}
	}
}

// Picture keeps what the window shows, if pictures are asked for.
func (r *Reader) Picture(name string) {
	r.tb.Helper()
	if *Pictures == "" {
		return
	}
	if err := os.MkdirAll(*Pictures, 0o755); err != nil {
		r.tb.Fatal(err)
	}
	f, err := os.Create(filepath.Join(*Pictures, name+".png"))
	if err != nil {
		r.tb.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, r.canvas().Capture()); err != nil {
		r.tb.Fatal(err)
	}
}
