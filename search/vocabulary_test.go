package search

import "testing"

func TestOneTypo(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"bumper", "bumpr", true}, {"bumper", "bummper", true}, {"bumper", "bumber", true}, {"neutral", "nuetral", true},
		{"bumper", "ubmper", true}, {"bumper", "bumpre", true}, {"erdé", "erde", true},
		{"bumper", "bumper", false}, {"bumper", "bmpr", false}, {"bumper", "bumpers!", false}, {"abcd", "badc", false}, {"", "", false},
	} {
		if got := oneTypo([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("oneTypo(%q, %q) = %v", c.a, c.b, got)
		}
		if got := oneTypo([]rune(c.b), []rune(c.a)); got != c.want {
			t.Errorf("oneTypo(%q, %q) = %v", c.b, c.a, got)
		}
	}
}

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
