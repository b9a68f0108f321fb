package look

import (
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

// BenchmarkCard builds and lays out a long card.
func BenchmarkCard(b *testing.B) {
	text := must.Have(os.ReadFile("../../content/handbook/cards/voltage-ranges.md"))(b)
	test.NewTempApp(b)
	fyne.CurrentApp().Settings().SetTheme(NewTheme(Light, 1))
	var diags source.List
	doc := document.Parse(source.NewFile("card.md", text), &diags)
	for b.Loop() {
		o := NewBlocks(doc.Body, nil)
		o.Resize(fyne.NewSize(760, heightAt(o, 760)))
	}
}

// BenchmarkFigure paints a picture at the size of a step view.
func BenchmarkFigure(b *testing.B) {
	d, ok := figure.Named("receptacle-14-50")
	if !ok {
		b.Fatal("no such figure")
	}
	for b.Loop() {
		paintFigure(d, figure.Light(), 600, 375)
	}
}

// BenchmarkTyping sets the ruler anew, as every key does.
func BenchmarkTyping(b *testing.B) {
	test.NewTempApp(b)
	fyne.CurrentApp().Settings().SetTheme(NewTheme(Light, 1))
	r := NewRuler(NewRulerValue(body(), faulttree.VoltsAC, nil))
	r.Resize(fyne.NewSize(716, 60))
	for b.Loop() {
		r.SetValue(NewRulerValue(body(), faulttree.VoltsAC, reading("41.5", "41.5", "1")))
	}
}
