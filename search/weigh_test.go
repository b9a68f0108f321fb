package search

import (
	"context"
	"os"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
)

// A weigh step takes no reading, so none is offered to it; its text is found.
func TestNoReadingIsOfferedToAWeighStep(t *testing.T) {
	lib := load.FS(context.Background(), os.DirFS("../testdata/handbook"))
	if err := lib.Diagnostics.Err(); err != nil {
		t.Fatal(err)
	}
	find := func() (offered, found bool) {
		x, err := Build(context.Background(), lib)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range x.Find(Query{Text: "58 V body to earth", Limit: 50}).Hits {
			if h.ID == "tingle#body-earth" {
				offered, found = offered || h.Reading != "", true
			}
		}
		return offered, found
	}
	if offered, _ := find(); !offered {
		t.Fatal("the reading is not offered to the step that measures it")
	}
	lib.Forest.Trees["tingle"].Step("body-earth").Kind = faulttree.KindWeigh
	if offered, found := find(); offered || !found {
		t.Errorf("as a weigh step: offered %v, found %v", offered, found)
	}
}
