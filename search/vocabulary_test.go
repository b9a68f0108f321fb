package search

import "testing"

func TestCorrectionsAndCompletions(t *testing.T) {
	v := newVocabulary()
	analyzer, _ := newAnalyzers(nil)
	for _, text := range []string{"battery batteries bumper pump battery hub", "barn", "energised body"} {
		v.add(analyzer.Analyze([]byte(text)), text)
	}
	v.sort()
	if got := v.corrections("battrey", false); len(got) != 1 || got[0] != "battery" {
		t.Errorf("corrections of battrey: %v", got)
	}
	for _, word := range []string{"battery", "hab", "b1tery"} {
		if got := v.corrections(word, false); len(got) != 0 {
			t.Errorf("%s is known, short or a figure, but was corrected to %v", word, got)
		}
	}
	if got := v.completions("bat"); len(got) != 2 || got[0] != "battery" {
		t.Errorf("completions of bat: %v", got)
	}
	if got := v.completions("zzz"); len(got) != 0 {
		t.Errorf("completions of zzz: %v", got)
	}
}
