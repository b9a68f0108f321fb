package faulttree_test

import (
	"testing"

	. "faultwright/faulttree"
)

func TestInSentence(t *testing.T) {
	for text, want := range map[string]string{
		"Nothing that I noticed": "nothing that I noticed", "The plug, or the receptacle it is in.": "the plug, or the receptacle it is in",
		"A GFCI: an outlet": "a GFCI: an outlet", "GFCI tripped": "GFCI tripped", "L1 to neutral": "L1 to neutral",
		"I do not know, or it comes and goes": "I do not know, or it comes and goes", "": "",
	} {
		if got := InSentence(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
