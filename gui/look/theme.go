package look

import (
	_ "embed"
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// Mode is a set of colours.
type Mode uint8

const (
	System       Mode = iota // light or dark, as the desktop says
	Light                    // a light page
	Dark                     // a dark page
	HighContrast             // black, white and the four signal colours
)

var modeNames = [...]string{"system", "light", "dark", "high-contrast"}

// String is the name settings are kept under: system, light, dark,
// high-contrast.
func (m Mode) String() string { return modeNames[m%4] }

// ParseMode reads a name as written by [Mode.String].
func ParseMode(name string) (Mode, bool) {
	i := slices.Index(modeNames[:], name)
	return Mode(max(i, 0)), i >= 0
}

// Modes lists every Mode, in the order a settings view shows them.
func Modes() []Mode { return []Mode{System, Light, Dark, HighContrast} }

// The sizes of type, in points at text size 1.
const (
	SizeText                        = theme.SizeNameText // 16, body
	SizeLead     fyne.ThemeSizeName = "look-lead"        // 15, rows, rail, soft lines
	SizeSmall    fyne.ThemeSizeName = "look-small"       // 13, captions
	SizeRuler    fyne.ThemeSizeName = "look-ruler"       // 12, labels of the ruler and of figures
	SizeTitle    fyne.ThemeSizeName = "look-title"       // 18, titles of choices, headings in a text
	SizeHeading  fyne.ThemeSizeName = "look-head"        // 21, chapter headings in a text
	SizeQuestion fyne.ThemeSizeName = "look-ask"         // 27, the question
	SizeUnit     fyne.ThemeSizeName = "look-unit"        // 24, the unit behind the reading
	SizeReading  fyne.ThemeSizeName = "look-number"      // 44, the reading
)

var sizes = map[fyne.ThemeSizeName]float32{
	SizeText: 16, SizeLead: 15, SizeSmall: 13, SizeRuler: 12, SizeTitle: 18, SizeHeading: 21,
	SizeQuestion: 27, SizeUnit: 24, SizeReading: 44,
	theme.SizeNameCaptionText: 13, theme.SizeNameHeadingText: 27, theme.SizeNameSubHeadingText: 18,
	theme.SizeNamePadding: 4, theme.SizeNameInnerPadding: 12, theme.SizeNameLineSpacing: 4,
	theme.SizeNameInlineIcon: 20, theme.SizeNameScrollBar: 12, theme.SizeNameScrollBarSmall: 4,
}

// fixed sizes do not grow with the text.
var fixed = map[fyne.ThemeSizeName]float32{
	theme.SizeNameSeparatorThickness: 1, theme.SizeNameInputBorder: 1,
	theme.SizeNameInputRadius: 8, theme.SizeNameSelectionRadius: 4, theme.SizeNameButtonRadius: 10,
	theme.SizeNameCardRadius: 12, theme.SizeNameDialogRadius: 12, theme.SizeNamePopupRadius: 8,
	theme.SizeNameMenuRadius: 8, theme.SizeNameScrollBarRadius: 4,
}

//go:embed font/DejaVuSans.ttf
var regularTTF []byte

//go:embed font/DejaVuSans-Bold.ttf
var boldTTF []byte

//go:embed font/DejaVuSans-Oblique.ttf
var obliqueTTF []byte

//go:embed font/DejaVuSansMono.ttf
var monoTTF []byte

// FontLicence is the licence text of the embedded fonts, for an about view.
//
//go:embed font/LICENSE.txt
var FontLicence string

var (
	regular = fyne.NewStaticResource("DejaVuSans.ttf", regularTTF)
	bold    = fyne.NewStaticResource("DejaVuSans-Bold.ttf", boldTTF)
	oblique = fyne.NewStaticResource("DejaVuSans-Oblique.ttf", obliqueTTF)
	mono    = fyne.NewStaticResource("DejaVuSansMono.ttf", monoTTF)
)

// Smallest and Largest are the bounds of the text-size setting.
const (
	Smallest float32 = 0.75
	Largest  float32 = 2.5
)

// NewTheme makes the theme of a mode with all type scaled by the text-size
// setting. A scale outside Smallest and Largest is moved to the nearer one;
// zero means 1.
func NewTheme(mode Mode, scale float32) fyne.Theme {
	if scale == 0 {
		scale = 1
	}
	return &skin{mode: mode, scale: min(max(scale, Smallest), Largest)}
}

type skin struct {
	mode  Mode
	scale float32
}

func (l *skin) Color(name fyne.ThemeColorName, variant fyne.ThemeVariant) color.Color {
	mode := l.mode
	if mode == System {
		mode = Dark
		if variant == theme.VariantLight {
			mode = Light
		}
	}
	if c, ok := palettes[mode][name]; ok {
		return c
	}
	if c, ok := signals[name]; ok {
		return c
	}
	return theme.DefaultTheme().Color(name, variant)
}

func (l *skin) Font(style fyne.TextStyle) fyne.Resource {
	switch {
	case style.Monospace:
		return mono
	case style.Bold:
		return bold
	case style.Italic:
		return oblique
	case style.Symbol:
		return theme.DefaultTheme().Font(style)
	}
	return regular
}

func (l *skin) Icon(name fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(name) }

func (l *skin) Size(name fyne.ThemeSizeName) float32 {
	if s, ok := sizes[name]; ok {
		return s * l.scale
	}
	if s, ok := fixed[name]; ok {
		return s
	}
	return theme.DefaultTheme().Size(name)
}

// Compact draws the toolkit's widgets under o with less space around their text,
// for a page on which much is seen at once.
func Compact(o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewThemeOverride(o, compact{})
}

// compact is the theme in force with lead type and little space inside widgets.
type compact struct{ inForce }

func (t compact) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameInnerPadding:
		return t.base().Size(n) * 0.55
	case theme.SizeNameText:
		return t.base().Size(SizeLead)
	}
	return t.base().Size(n)
}
