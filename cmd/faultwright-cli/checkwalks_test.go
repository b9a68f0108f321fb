package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

func TestWalkedByHand(t *testing.T) {
	lib := shipped()
	reached := must.Have(walkedByHand(lib, "../../testdata/walks"))(t)
	for _, want := range []faulttree.Ref{
		{Tree: "body-voltage", Step: "stop-dead.ground-lost-in-cord"}, // body-58.yaml
		{Tree: "pedestal", Step: "neutral-lost"},                      // pedestal-50a-open-neutral.yaml
		{Tree: "twelve-volt", Step: "overcharged"},                    // twelve-volt-overcharge.yaml
	} {
		if !slices.Contains(reached, want) {
			t.Errorf("no walk by hand is said to end at %s", want)
		}
	}
	if none, err := walkedByHand(lib, ""); none != nil || err != nil {
		t.Errorf("without a folder: %v, %v", none, err)
	}
	dir := t.TempDir()
	must.Do(t, os.WriteFile(filepath.Join(dir, "ladder-1.yaml"), []byte("body-earth: 2 V\n"), 0o600))
	if _, err := walkedByHand(lib, dir); err == nil || !strings.Contains(err.Error(), "ladder-1.yaml") {
		t.Errorf("a file of no tree: %v", err)
	}
}
