package gui

import (
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/gui/look"
)

// chartScenes are the pages of a chart: its fact, its readings, where they end.
var chartScenes = []shot{
	{"fact", func(t *testing.T, w *window) { w.Press("Not plugged in") }},
	{"first", func(t *testing.T, w *window) { w.toChart() }},
	{"why", func(t *testing.T, w *window) { w.toChart("0.4"); w.Press("Why this one next?") }},
	{"typed", func(t *testing.T, w *window) { w.toChart("0.4"); w.Type("120.1") }},
	{"hurts", func(t *testing.T, w *window) { w.toChart(); w.Type("58") }},
	{"found", func(t *testing.T, w *window) { w.toChart("58") }},
	{"changed", func(t *testing.T, w *window) { w.toChart("0.4"); w.Press("Which plug"); w.Type("1") }},
	{"end", func(t *testing.T, w *window) { w.toChart("0.4", "80.2", "160.1", "240.3", "120.0", "0.3", "80.2") }},
}

// toChart answers the fact of the chart, and its readings as far as they are given
// and asked.
func (w *window) toChart(typed ...string) {
	w.t.Helper()
	w.Press("Not plugged in")
	w.Pick("2")
	for _, text := range typed {
		if !w.session.Visit().Walk().Ended() {
			w.Answer(text)
		}
	}
}

// treeScenes are the first pages of every shipped walk, and the first that reads.
func treeScenes(trees []string) []shot {
	var out []shot
	for _, tree := range trees {
		begin := func(w *window) { w.begin(faulttree.Ref{Tree: tree}) }
		out = append(out,
			shot{tree + "-1-begins", func(t *testing.T, w *window) { begin(w) }},
			shot{tree + "-2-goes-on", func(t *testing.T, w *window) { begin(w); w.Pick("1") }},
			shot{tree + "-3-reads", func(t *testing.T, w *window) {
				begin(w)
				for range 12 {
					walk := w.session.Visit().Walk()
					if walk.Ended() || walk.Step().Kind == faulttree.KindMeasure && walk.Step().Measure[0].Quantity.Proves != faulttree.ProvesVoltsAC {
						return
					}
					if walk.Step().Kind == faulttree.KindMeasure {
						w.Answer("119.8")
					} else {
						w.Pick(map[bool]string{true: "1", false: "3"}[walk.Step().Kind == faulttree.KindAct || len(walk.Step().Choices) < 3])
					}
				}
			}})
	}
	return out
}

func TestShortTreePictures(t *testing.T) {
	modes := []showing{{"light", look.Light, wide}, {"dark", look.Dark, middle}, {"narrow", look.Light, small}}
	drawScenes(t, "chart", chartScenes, modes, folder("../testdata/pedestal"))
	drawScenes(t, "tree", treeScenes(load.Shipped().Forest.IDs()), modes, shipped)
}
