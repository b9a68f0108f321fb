package sheet

import (
	"testing"

	"faultwright/content/sheet/sheettest"
)

func TestWordsOfASheetStandOut(t *testing.T) { sheettest.WantLegible(t, style) }
