package look

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"faultwright/content/document"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

func parse(t testing.TB, markdown string) []document.Block {
	t.Helper()
	var diags source.List
	return document.Markdown(source.NewFile("test.md", []byte(markdown)), 0, &diags)
}

// written gathers the text of a document's objects without what we add to it:
// the marks of lists.
func written(o fyne.CanvasObject) string {
	var out []string
	var visit func(o fyne.CanvasObject)
	visit = func(o fyne.CanvasObject) {
		if !o.Visible() {
			return
		}
		switch o := o.(type) {
		case *Prose:
			out = append(out, o.Plain())
			return
		case *Tracked:
			out = append(out, o.Text)
			return
		case *fyne.Container:
			if _, ok := o.Layout.(hanging); ok {
				visit(o.Objects[1])
				return
			}
		}
		for _, c := range inside(o) {
			visit(c)
		}
	}
	visit(o)
	return strings.Join(out, "\n")
}

// letters is a text without white space, and without the bars that
// document.Plain sets between cells.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '|' {
			return -1
		}
		return r
	}, s)
}

// The examples are those of the CommonMark specification; see
// testdata/commonmark/NOTICE.
func TestNoTextIsLost(t *testing.T) {
	data := must.Have(os.ReadFile("../../testdata/commonmark/spec.json"))(t)
	var examples []struct {
		Markdown string
		Example  int
	}
	must.Do(t, json.Unmarshal(data, &examples))
	if len(examples) < 600 {
		t.Fatalf("only %d examples", len(examples))
	}
	test.NewTempApp(t)
	test.ApplyTheme(t, NewTheme(Light, 1))
	for _, e := range examples {
		blocks := parse(t, e.Markdown)
		o := NewBlocks(blocks, nil)
		for _, width := range []float32{120, 480} {
			h := heightAt(o, width)
			o.Resize(fyne.NewSize(width, h))
			if got, want := letters(written(o)), letters(document.Plain(blocks)); got != want {
				t.Errorf("example %d at width %v: shows %q, want %q", e.Example, width, got, want)
			}
		}
	}
}

// What stands in the pieces on the screen is what the runs say.
func TestPiecesHoldTheWholeText(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, NewTheme(Light, 1))
	text := "Plain **bold *both* joined**words and `code  twice` with averyveryveryveryverylongwordthatmustbecutsomewhere in it."
	for width := float32(20); width < 500; width += 37 {
		p := writer{}.prose(parse(t, text)[0].(document.Paragraph).Text, Run{})
		p.Resize(fyne.NewSize(width, 10))
		var shown strings.Builder
		for _, line := range wrap(p.runs, width, p.wide) {
			for _, c := range line {
				shown.WriteString(c.text)
				if end := c.x + p.wide(strings.TrimRight(c.text, " "), c.run); end > width+1 && len([]rune(c.text)) > 1 {
					t.Errorf("width %v: %q ends at %v", width, c.text, end)
				}
			}
		}
		if shown.String() != p.Plain() {
			t.Errorf("width %v: %q, want %q", width, shown.String(), p.Plain())
		}
	}
}

type oddBlock struct{ document.Block }

type oddInline struct{ document.Inline }

func TestUnknownBlockIsShown(t *testing.T) {
	test.NewTempApp(t)
	o := NewBlock(oddBlock{document.Paragraph{Text: []document.Inline{document.Text{Value: "still here"}}}}, nil)
	if got := written(o); !strings.Contains(got, "still here") {
		t.Errorf("shows %q", got)
	}
}

func TestUnknownInlineIsShown(t *testing.T) {
	test.NewTempApp(t)
	if got := (writer{}).prose([]document.Inline{oddInline{document.Text{Value: "still here"}}}, Run{}).Plain(); !strings.Contains(got, "still here") {
		t.Errorf("shows %q", got)
	}
}

func TestLinksReportTheirTarget(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, NewTheme(Light, 1))
	var went []string
	o := NewBlocks(parse(t, "Read [about **wet** soil](card:wet-soil-reference) and [stop](caution:one-hand).\n\n| a | b |\n|---|---|\n| [x](fault:rod-only-ground) | y |\n"), func(target string) { went = append(went, target) })
	w := test.NewTempWindow(t, o)
	w.Resize(fyne.NewSize(300, 300))
	for range 3 {
		w.Canvas().FocusNext()
		focused := w.Canvas().Focused()
		focused.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	}
	want := []string{"card:wet-soil-reference", "caution:one-hand", "fault:rod-only-ground"}
	if !slices.Equal(went, want) {
		t.Errorf("Tab and Enter went to %q, want %q", went, want)
	}
	went = nil
	p := o.Objects[0].(*Prose)
	test.TapAt(p.links[0], fyne.NewPos(2, 2))
	if len(went) != 1 {
		t.Errorf("a tap on a link went to %q", went)
	}
	if !p.Press("caution:one-hand") || p.Press("card:none") {
		t.Error("Press does not find its target")
	}
	p.links[0].MouseIn(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(2, 2)}})
	if p.links[0].Cursor() != desktop.PointerCursor {
		t.Error("no hand over a link")
	}
}

func TestTableStacksWhereItIsTooNarrow(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, NewTheme(Light, 1))
	blocks := parse(t, "| reading | meaning |\n|---|---|\n| disconnected | unmistakeable |\n")
	o := NewBlock(blocks[0], nil).(*table)
	heightAt(o, 500)
	if !o.wideEnough() {
		t.Fatal("stacked although it is wide")
	}
	heightAt(o, 150)
	if o.wideEnough() {
		t.Fatal("not stacked although it is narrow")
	}
	if got := TextOf(o); !strings.Contains(got, "reading: disconnected") || !strings.Contains(got, "meaning: unmistakeable") {
		t.Errorf("shows %q", got)
	}
}

// Every document of the handbook keeps its text and its width, from a narrow
// window to a wide one and at the largest type.
func TestHandbookFits(t *testing.T) {
	files, err := filepath.Glob("../../content/handbook/*/*.md")
	if err != nil || len(files) == 0 {
		t.Fatal("no handbook", err)
	}
	for _, scale := range []float32{1, Largest} {
		test.NewTempApp(t)
		test.ApplyTheme(t, NewTheme(Light, scale))
		for _, file := range files {
			text := must.Have(os.ReadFile(file))(t)
			var diags source.List
			doc := document.Parse(source.NewFile(file, text), &diags)
			o := NewBlocks(doc.Body, nil)
			for _, width := range []float32{448, 760} {
				o.Resize(fyne.NewSize(width, heightAt(o, width)))
				if m := o.MinSize(); m.Width > width {
					t.Errorf("%s at text size %v: wants %v of %v", file, scale, m.Width, width)
				}
				if at, edge := rightmost(o, 0); edge > width+2 {
					t.Errorf("%s at text size %v: %q ends at %v of %v", file, scale, at, edge, width)
				}
			}
		}
	}
}

// rightmost finds the text that reaches furthest to the right.
func rightmost(o fyne.CanvasObject, x float32) (text string, edge float32) {
	x += o.Position().X
	switch o := o.(type) {
	case *Figure:
		return "", 0
	case *Prose:
		for _, line := range wrap(o.runs, o.Size().Width+0.5, o.wide) {
			for _, c := range line {
				if e := x + c.x + o.wide(strings.TrimRight(c.text, " "), c.run); e > edge {
					text, edge = c.text, e
				}
			}
		}
		return text, edge
	}
	for _, c := range inside(o) {
		if t, e := rightmost(c, x); e > edge && c.Visible() {
			text, edge = t, e
		}
	}
	return text, edge
}

func TestCardsDraw(t *testing.T) {
	for _, name := range []string{"cards/receptacle-14-50", "cards/filters-and-half-of-line", "cards/voltage-ranges", "faults/open-neutral"} {
		text, err := os.ReadFile("../../content/handbook/" + name + ".md")
		if err != nil {
			continue // cards may be renamed; TestHandbookFits covers them all
		}
		var diags source.List
		doc := document.Parse(source.NewFile(name, text), &diags)
		for mode, width := range map[Mode]float32{Light: 480, Dark: 800, HighContrast: 480} {
			shoot(t, strings.ReplaceAll(name, "/", "-")+"-"+mode.String(), mode, 1, fyne.NewSize(width, 1500), func() fyne.CanvasObject {
				return NewScroll(Pad(24, 16, 24, 16, NewBlocks(doc.Body, nil)))
			})
		}
	}
}
