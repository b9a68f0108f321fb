package look

import (
	"image/color"
	"maps"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"faultwright/content/figure"
	"faultwright/faulttree"
)

func ratio(th fyne.Theme, ink, ground fyne.ThemeColorName) float64 {
	return figure.Contrast(shownIn(th, ink), shownIn(th, ground))
}

func shownIn(th fyne.Theme, n fyne.ThemeColorName) color.NRGBA {
	return color.NRGBAModel.Convert(th.Color(n, theme.VariantLight)).(color.NRGBA)
}

// blended is what is seen of a colour that lets some of another through.
func blended(over, under color.NRGBA) color.NRGBA {
	mix := func(a, b uint8) uint8 { return uint8((int(a)*int(over.A) + int(b)*(255-int(over.A))) / 255) }
	return color.NRGBA{mix(over.R, under.R), mix(over.G, under.G), mix(over.B, under.B), 255}
}

// No colour is left out of the contrasts that are computed.
func TestEveryColourHasItsContrastComputed(t *testing.T) {
	all := slices.Concat(inks, grounds, veils, shapes)
	for _, p := range pairs {
		all = append(all, p[0], p[1])
	}
	for mode, p := range palettes {
		for _, name := range slices.Concat(slices.Collect(maps.Keys(p)), slices.Collect(maps.Keys(signals))) {
			if !slices.Contains(all, name) {
				t.Errorf("%v: nothing computes the contrast of %s", mode, name)
			}
		}
	}
}

// What the colours are for: words, what words stand on, and what lies over that while
// the pointer or the keyboard is there.
var (
	inks    = []fyne.ThemeColorName{ColorInk, ColorSoftInk, ColorAccent, theme.ColorNameHyperlink, theme.ColorNameError, theme.ColorNamePlaceHolder, theme.ColorNameDisabled}
	grounds = []fyne.ThemeColorName{ColorPage, ColorPanel, ColorChosen, theme.ColorNameInputBackground, theme.ColorNameOverlayBackground,
		theme.ColorNameMenuBackground, theme.ColorNameHeaderBackground, theme.ColorNameButton, theme.ColorNameDisabledButton}
	veils = []fyne.ThemeColorName{theme.ColorNameFocus, theme.ColorNameSelection, theme.ColorNameHover, theme.ColorNamePressed}
	pairs = [][2]fyne.ThemeColorName{{ColorOnAccent, ColorAccent}, {theme.ColorNameForegroundOnSuccess, theme.ColorNameSuccess},
		{theme.ColorNameForegroundOnWarning, theme.ColorNameWarning}, {theme.ColorNameForegroundOnError, theme.ColorNameError},
		{ColorOnDanger, ColorDanger}, {ColorOnWarning, ColorWarning}, {ColorOnCaution, ColorCaution}, {ColorOnNotice, ColorNotice}}
	// No word stands in these or on them, and whatever they show is told in words beside.
	shapes = []fyne.ThemeColorName{ColorLine, ColorInside, ColorHatch, theme.ColorNameShadow, theme.ColorNameScrollBar,
		theme.ColorNameScrollBarBackground, theme.ColorNameInputBorder}
)

// The least contrast of text is that of WCAG 2, success criterion 1.4.3: 4.5
// to 1.
func TestContrast(t *testing.T) {
	for _, mode := range []Mode{Light, Dark, HighContrast} {
		th := NewTheme(mode, 1)
		for _, ground := range grounds {
			for _, ink := range inks {
				if r := ratio(th, ink, ground); r < 4.5 {
					t.Errorf("%v: %s on %s is %.2f to 1", mode, ink, ground, r)
				}
			}
			for _, veil := range veils {
				under, over := shownIn(th, ground), shownIn(th, veil)
				if veil == theme.ColorNameFocus && ground == ColorChosen {
					continue // a list that has the keyboard stands on none
				}
				if r := figure.Contrast(shownIn(th, ColorInk), blended(over, under)); r < 4.5 {
					t.Errorf("%v: %s on %s under %s is %.2f to 1", mode, ColorInk, ground, veil, r)
				}
			}
		}
		for _, ground := range []fyne.ThemeColorName{ColorPage, ColorPanel} { // WCAG 2, success criterion 1.4.11
			if r := ratio(th, theme.ColorNameInputBorder, ground); r < 3 {
				t.Errorf("%v: a box that is not ticked is %.2f to 1 on %s", mode, r, ground)
			}
			under := shownIn(th, ground)
			if r := figure.Contrast(blended(shownIn(th, theme.ColorNameFocus), under), under); r < 3 {
				t.Errorf("%v: what has the keyboard is %.2f to 1 on %s", mode, r, ground)
			}
		}
		for _, pair := range pairs {
			if r := ratio(th, pair[0], pair[1]); r < 4.5 {
				t.Errorf("%v: %s on %s is %.2f to 1", mode, pair[0], pair[1], r)
			}
		}
		for s := faulttree.Notice; s <= faulttree.Danger; s++ {
			ground, word := SignalColors(s)
			r := ratio(th, word, ground)
			t.Logf("%v: %v is %.2f to 1", mode, s, r)
			if r < 4.5 {
				t.Errorf("%v: %v is %.2f to 1", mode, s, r)
			}
			// Where the signal colour is darker or lighter enough for black to
			// reach 7 to 1, it does.
			if word == ColorOnWarning || word == ColorOnCaution {
				if r < 7 {
					t.Errorf("%v: %v is %.2f to 1", mode, s, r)
				}
			}
		}
	}
}

// The exact colours that the design fixes.
func TestFixedColors(t *testing.T) {
	for _, c := range []struct {
		mode Mode
		name fyne.ThemeColorName
		want uint32
	}{
		{Light, ColorPage, 0xF6F5F1}, {Light, ColorPanel, 0xFFFFFF}, {Light, ColorInk, 0x1C2126}, {Light, ColorSoftInk, 0x5B6570},
		{Light, ColorLine, 0xD8D5CC}, {Light, ColorAccent, 0x0A5C66},
		{Dark, ColorPage, 0x14181B}, {Dark, ColorPanel, 0x1D2327}, {Dark, ColorInk, 0xECEFF1}, {Dark, ColorSoftInk, 0x9AA6AF},
		{Dark, ColorLine, 0x343C42}, {Dark, ColorAccent, 0x5CC4CE},
		{Light, ColorDanger, 0xC8102E}, {Dark, ColorWarning, 0xFF7900}, {HighContrast, ColorCaution, 0xFFC72C}, {Dark, ColorNotice, 0x0057B8},
	} {
		if got := NewTheme(c.mode, 1).Color(c.name, theme.VariantDark); got != hex(c.want) {
			t.Errorf("%v: %s is %v, want %06X", c.mode, c.name, got, c.want)
		}
	}
}

// Nothing is green because it is low: no colour of ours has green as its
// strongest part by far, the success colour of the toolkit included.
func TestNothingIsGreen(t *testing.T) {
	for mode, p := range palettes {
		for name, c := range p {
			if int(c.G) > int(c.R)+40 && int(c.G) > int(c.B)+24 {
				t.Errorf("%v: %s is green, %v", mode, name, c)
			}
		}
		if _, ok := p[theme.ColorNameSuccess]; !ok {
			t.Errorf("%v: the toolkit's success colour is left as it is", mode)
		}
	}
}

func TestSizesFollowTheTextSize(t *testing.T) {
	for name, want := range map[fyne.ThemeSizeName]float32{SizeText: 16, SizeLead: 15, SizeQuestion: 27, SizeReading: 44} {
		if got := NewTheme(Light, 1).Size(name); got != want {
			t.Errorf("%s is %v, want %v", name, got, want)
		}
		if got := NewTheme(Light, 2).Size(name); got != 2*want {
			t.Errorf("%s at 2 is %v, want %v", name, got, 2*want)
		}
	}
	if got := NewTheme(Light, 99).Size(SizeText); got != 16*Largest {
		t.Errorf("text at 99 is %v", got)
	}
	if got := NewTheme(Light, 0).Size(SizeText); got != 16 {
		t.Errorf("text at 0 is %v", got)
	}
}

func TestModesHaveNames(t *testing.T) {
	for _, m := range Modes() {
		if got, ok := ParseMode(m.String()); !ok || got != m {
			t.Errorf("%v reads back as %v", m, got)
		}
	}
	if _, ok := ParseMode("sepia"); ok {
		t.Error("an unknown mode is accepted")
	}
}

func TestSystemFollowsTheDesktop(t *testing.T) {
	th := NewTheme(System, 1)
	if th.Color(ColorPage, theme.VariantLight) != hex(0xF6F5F1) || th.Color(ColorPage, theme.VariantDark) != hex(0x14181B) {
		t.Error("the page does not follow the variant")
	}
}

// Signs that the handbook uses are in the embedded fonts, not borrowed.
func TestFontsAreOurs(t *testing.T) {
	th := NewTheme(Light, 1)
	for _, style := range []fyne.TextStyle{{}, {Bold: true}, {Italic: true}, {Monospace: true}} {
		if r := th.Font(style); r == nil || len(r.Content()) < 100_000 || r.Name()[:6] != "DejaVu" {
			t.Errorf("font of %+v is %v", style, r)
		}
	}
}

// A change of theme or text size repaints what is already open.
func TestThemeChangesLive(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, NewTheme(Light, 1))
	c := NewColumns(railSample(), NewTitle("Faultwright"))
	c.SetContent(sampler(), sideSample(), nil)
	w := test.NewTempWindow(t, c)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(1280, 900))
	test.ApplyTheme(t, NewTheme(Dark, 1))
	changed := w.Canvas().Capture()
	fresh := NewColumns(railSample(), NewTitle("Faultwright"))
	fresh.SetContent(sampler(), sideSample(), nil)
	w.SetContent(fresh)
	w.Resize(fyne.NewSize(1280, 900))
	want := w.Canvas().Capture()
	b := want.Bounds()
	if changed.Bounds() != b {
		t.Fatalf("sizes %v and %v", changed.Bounds(), b)
	}
	bad := 0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if changed.At(x, y) != want.At(x, y) {
				bad++
			}
		}
	}
	if bad > 0 {
		t.Errorf("%d pixels differ from a window opened in the new theme", bad)
	}
}
