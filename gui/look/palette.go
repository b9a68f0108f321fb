package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"faultwright/faulttree"
)

// The colours a widget may ask the theme for. Each is a role, not a hue.
const (
	ColorPage   = theme.ColorNameBackground
	ColorInk    = theme.ColorNameForeground
	ColorAccent = theme.ColorNamePrimary // actions, links, focus
	ColorLine   = theme.ColorNameSeparator

	ColorPanel    fyne.ThemeColorName = "look-panel"
	ColorSoftInk  fyne.ThemeColorName = "look-soft-ink"
	ColorOnAccent                     = theme.ColorNameForegroundOnPrimary
	ColorChosen   fyne.ThemeColorName = "look-chosen" // ground of the entry one is on
	ColorInside   fyne.ThemeColorName = "look-inside" // ruler: inside limits, always grey

	ColorDanger    fyne.ThemeColorName = "look-danger"
	ColorOnDanger  fyne.ThemeColorName = "look-on-danger"
	ColorWarning   fyne.ThemeColorName = "look-warning"
	ColorOnWarning fyne.ThemeColorName = "look-on-warning"
	ColorCaution   fyne.ThemeColorName = "look-caution"
	ColorOnCaution fyne.ThemeColorName = "look-on-caution"
	ColorNotice    fyne.ThemeColorName = "look-notice"
	ColorOnNotice  fyne.ThemeColorName = "look-on-notice"
	ColorHatch     fyne.ThemeColorName = "look-hatch" // ground under the orange stripes of the ruler
)

// SignalColors names the ground of a signal word and the colour of the word on
// it, by ANSI Z535.4. NoSignal has the grey of "inside limits".
func SignalColors(s faulttree.Signal) (ground, word fyne.ThemeColorName) {
	switch s {
	case faulttree.Danger:
		return ColorDanger, ColorOnDanger
	case faulttree.Warning:
		return ColorWarning, ColorOnWarning
	case faulttree.Caution:
		return ColorCaution, ColorOnCaution
	case faulttree.Notice:
		return ColorNotice, ColorOnNotice
	}
	return ColorInside, ColorInk
}

func hex(rgb uint32) color.NRGBA {
	return color.NRGBA{R: uint8(rgb >> 16), G: uint8(rgb >> 8), B: uint8(rgb), A: 0xff}
}

var (
	white = hex(0xFFFFFF)
	black = hex(0x000000)
	none  = color.NRGBA{}
)

// signals are the same in every mode.
var signals = map[fyne.ThemeColorName]color.NRGBA{
	ColorDanger: hex(0xC8102E), ColorOnDanger: white,
	ColorWarning: hex(0xFF7900), ColorOnWarning: black,
	ColorCaution: hex(0xFFC72C), ColorOnCaution: black,
	ColorNotice: hex(0x0057B8), ColorOnNotice: white,
}

// veil lets what is under a colour through.
func veil(c color.NRGBA, a uint8) color.NRGBA {
	c.A = a
	return c
}

// palette gives a mode's own colours; names that it lacks fall back to signals,
// then to the toolkit's theme.
type palette map[fyne.ThemeColorName]color.NRGBA

// derive fills the toolkit's names from our roles, so that its own widgets
// (entries, scroll bars, menus, dialogs) match.
func (p palette) derive() palette {
	for name, c := range map[fyne.ThemeColorName]color.NRGBA{
		theme.ColorNameButton:              p[ColorPanel],
		theme.ColorNameDisabledButton:      p[ColorPanel],
		theme.ColorNameDisabled:            p[ColorSoftInk],
		theme.ColorNamePlaceHolder:         p[ColorSoftInk],
		theme.ColorNameInputBackground:     p[ColorPanel],
		theme.ColorNameInputBorder:         p[ColorSoftInk], // a box that is not ticked is nothing else
		theme.ColorNameMenuBackground:      p[ColorPanel],
		theme.ColorNameOverlayBackground:   p[ColorPanel],
		theme.ColorNameHeaderBackground:    p[ColorPanel],
		theme.ColorNameHyperlink:           p[ColorAccent],
		theme.ColorNameFocus:               veil(p[ColorAccent], 0x60),
		theme.ColorNameSelection:           veil(p[ColorAccent], 0x50),
		theme.ColorNameHover:               veil(p[ColorInk], 0x12),
		theme.ColorNamePressed:             veil(p[ColorInk], 0x24),
		theme.ColorNameScrollBar:           veil(p[ColorInk], 0x70),
		theme.ColorNameScrollBarBackground: none,
		theme.ColorNameShadow:              veil(black, 0x18),
		theme.ColorNameSuccess:             p[ColorInk], // nothing is green
		theme.ColorNameForegroundOnSuccess: p[ColorPage],
		theme.ColorNameWarning:             signals[ColorWarning],
		theme.ColorNameForegroundOnWarning: black,
		theme.ColorNameForegroundOnError:   white,
	} {
		if _, own := p[name]; !own {
			p[name] = c
		}
	}
	return p
}

var palettes = map[Mode]palette{
	Light: palette{
		ColorPage: hex(0xF6F5F1), ColorPanel: hex(0xFFFFFF),
		ColorInk: hex(0x1C2126), ColorSoftInk: hex(0x5B6570),
		ColorLine: hex(0xD8D5CC), ColorAccent: hex(0x0A5C66), ColorOnAccent: white,
		ColorChosen: hex(0xE4EEED), ColorInside: hex(0xD6D6D2), ColorHatch: hex(0xFFD9B5),
		theme.ColorNameError: hex(0xB00E28), theme.ColorNameFocus: veil(hex(0x0A5C66), 0x9E),
	}.derive(),
	Dark: palette{
		ColorPage: hex(0x14181B), ColorPanel: hex(0x1D2327),
		ColorInk: hex(0xECEFF1), ColorSoftInk: hex(0x9AA6AF),
		ColorLine: hex(0x343C42), ColorAccent: hex(0x5CC4CE), ColorOnAccent: hex(0x14181B),
		ColorChosen: hex(0x1B2D31), ColorInside: hex(0x3A4248), ColorHatch: hex(0x4A2F14),
		theme.ColorNameError:             hex(0xFF8F9B),
		theme.ColorNameFocus:             veil(hex(0x5CC4CE), 0x82),
		theme.ColorNameForegroundOnError: black,
	}.derive(),
	HighContrast: palette{
		ColorPage: black, ColorPanel: black,
		ColorInk: white, ColorSoftInk: white,
		ColorLine: white, ColorAccent: white, ColorOnAccent: black,
		ColorChosen: black, ColorInside: hex(0x8A8A8A), ColorHatch: black,
		theme.ColorNameError:             hex(0xFFC72C),
		theme.ColorNameForegroundOnError: black,
	}.derive(),
}
