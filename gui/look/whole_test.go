package look

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// What is chosen in a whole list is read whole at every width, also under less space, and no
// choice changes the room that it takes.
func TestAWholeListCutsNothing(t *testing.T) {
	test.NewTempApp(t)
	fyne.CurrentApp().Settings().SetTheme(NewTheme(Light, 1))
	window := test.NewTempWindow(t, nil)
	options := []string{"none of them", "It points to: a pole of the transfer switch does not make, or a lug in the panel is loose (vehicle)", "It tells nothing by itself"}
	for _, width := range []float32{700, 400, 240} {
		s := NewWholeSelect(options, -1, func(int) {})
		window.SetContent(Compact(Stack(0, s)))
		window.Resize(fyne.NewSize(width, 400))
		room := s.MinSize().Height
		for i, option := range options {
			s.SetSelectedIndex(i)
			if lines, tall := linesOf(s); strings.Join(lines, " ") != option || tall > room {
				t.Errorf("at %v it shows %q, %v tall in %v; want %q", width, lines, tall, room, option)
			}
			if s.MinSize().Height != room || s.Size().Height < room {
				t.Errorf("at %v with %q the list takes %v and has %v; before it took %v", width, option, s.MinSize().Height, s.Size().Height, room)
			}
		}
	}
}

// linesOf is the lines that stand in a list, and how tall they are together.
func linesOf(s *Select) (out []string, tall float32) {
	for _, o := range test.WidgetRenderer(s).Objects() {
		words, ok := o.(*widget.RichText)
		if !ok {
			continue
		}
		tall = words.MinSize().Height
		for _, line := range test.WidgetRenderer(words).Objects() {
			if text, ok := line.(*canvas.Text); ok && text.Text != "" {
				out = append(out, strings.TrimSpace(text.Text))
			}
		}
	}
	return out, tall
}
