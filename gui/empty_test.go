package gui

import (
	"regexp"
	"testing"

	"faultwright/content/view"
	"faultwright/gui/place"
)

// Where there is nothing to show yet a sentence says so, or says what to do: on
// every page, over a handbook without a document and with nothing on record.
func TestEveryPageHasASentenceWhereItIsEmpty(t *testing.T) {
	w := open(t, wide, folder(t.TempDir()))
	sentence := regexp.MustCompile(`(?m)^\p{Lu}\S* \S+ .*[.:]( |$)|^Type a word`)
	half := regexp.MustCompile(`“”|""|: ?\.`)
	for _, page := range w.Pages() {
		at := place.Location{Page: page, ID: "nothing", Kind: string(view.KindCard)}
		w.Go(at)
		if text := w.Text(); !sentence.MatchString(text) {
			t.Errorf("%s: no sentence in\n%s", page, text)
		} else if cut := half.FindString(text); cut != "" {
			t.Errorf("%s: a sentence with a gap (%q) in\n%s", page, cut, text)
		}
	}
	for _, c := range []struct {
		at   place.Location
		says string
	}{
		{place.Handbook("", ""), "This handbook has no documents. Its problems say"},
		{place.Handbook(view.KindCard, ""), "no documents of this kind"},
		{place.Handbook("", "ground"), "No title holds these words"},
		{place.Rubric(), "This handbook has no rubric"},
		{place.Settings(), "This handbook declares no danger limit"},
		{place.Settings(), "This handbook has no walk, so it compares nothing"},
		{place.Visits(), "No visit is on record yet"},
		{place.Problems(), "the content folder holds no tree"},
	} {
		w.Go(c.at)
		w.Want(c.says)
	}
}
