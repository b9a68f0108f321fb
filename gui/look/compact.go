package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// Compact draws the toolkit's widgets under o with less space around their text,
// for a page on which much is seen at once.
func Compact(o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewThemeOverride(o, compact{})
}

// compact is the theme in force with lead type and little space inside widgets.
type compact struct{}

func (compact) base() fyne.Theme { return fyne.CurrentApp().Settings().Theme() }

func (t compact) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	return t.base().Color(name, v)
}
func (t compact) Font(s fyne.TextStyle) fyne.Resource     { return t.base().Font(s) }
func (t compact) Icon(n fyne.ThemeIconName) fyne.Resource { return t.base().Icon(n) }
func (t compact) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameInnerPadding:
		return t.base().Size(n) * 0.55
	case theme.SizeNameText:
		return t.base().Size(SizeLead)
	}
	return t.base().Size(n)
}
