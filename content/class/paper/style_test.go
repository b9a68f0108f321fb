package paper_test

import (
	"os"
	"testing"

	"faultwright/content/sheet/sheettest"
	"faultwright/faulttree/must"
)

func TestWordsOfTheClassPagesStandOut(t *testing.T) {
	sheettest.WantLegible(t, string(must.Have(os.ReadFile("style.css"))(t)))
}
