package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree/must"
)

// Walks of the shipped trees with readings as the fault catalogue pictures
// them (faults/ID.md under "what the meter shows"); 208 V is 120 V × √3, the
// body limit of 30 V is the trees' own limit "touch".
func TestShippedWalks(t *testing.T) {
	tests := []struct {
		file, tree string
		fault      string // must be among the finding's faults; "" for a finding that names none
		signal     string
		stop       string // step of the STOP that must be passed
		unsure     string // step whose reading lies within the meter's error of a limit
	}{
		{file: "pedestal-50a-healthy-240", tree: "pedestal-50a", signal: "notice"},
		{file: "pedestal-50a-healthy-208", tree: "pedestal-50a", fault: "wye-208", signal: "notice"},
		{file: "pedestal-50a-open-neutral", tree: "pedestal-50a", fault: "open-neutral", signal: "danger"},
		{file: "pedestal-50a-leg-dead", tree: "pedestal-50a", fault: "open-hot-l2", signal: "warning"},
		{file: "pedestal-30a-reversed-polarity", tree: "pedestal-30a", fault: "reversed-polarity", signal: "danger"},
		{file: "pedestal-30a-wired-240", tree: "pedestal-30a", fault: "240-on-30a", signal: "danger"},
		{file: "body-58", tree: "body-voltage", fault: "open-ground", signal: "danger", stop: "body-voltage#stop-live-body"},
		{file: "body-2", tree: "body-voltage", signal: "warning"},
		{file: "body-ol", tree: "body-voltage", fault: "leakage-to-body", signal: "danger", stop: "body-voltage#stop-live-body"},
		{file: "body-on-the-limit", tree: "body-voltage", fault: "open-ground", signal: "danger", stop: "body-voltage#stop-live-body", unsure: "body-voltage#body-earth"},
		{file: "body-near-the-limit", tree: "body-voltage", fault: "rod-only-ground", signal: "danger", stop: "body-voltage#stop-live-body", unsure: "body-voltage#body-earth"},
	}
	for _, tt := range tests {
		t.Run(tt.file, func(t *testing.T) {
			var out, errs bytes.Buffer
			args := []string{"walk", tt.tree, "--json", "--readings", "../../testdata/walks/" + tt.file + ".yaml"}
			if code := run(context.Background(), args, strings.NewReader(""), &out, &errs, func(string) string { return "" }); code != exitFine {
				t.Fatalf("exit code %d\n%s%s", code, out.String(), errs.String())
			}
			var w jsonWalk
			must.Do(t, json.Unmarshal(out.Bytes(), &w))
			f := w.Finding
			if f == nil || f.Signal != tt.signal || tt.fault == "" && len(f.Faults) > 0 || tt.fault != "" && !slices.Contains(f.Faults, tt.fault) {
				t.Errorf("ends in %+v; want fault %q and signal %s", f, tt.fault, tt.signal)
			}
			stop := ""
			if w.Stop != nil {
				stop = w.Stop.String()
			}
			if stop != tt.stop {
				t.Errorf("STOP is %q, want %q", stop, tt.stop)
			}
			if f != nil && tt.fault == "" && len(f.CannotExclude) == 0 {
				t.Error("a finding that names no fault claims to exclude them all")
			}
			for _, e := range w.Path {
				if certain := e.Step.String() != tt.unsure; e.Certain != certain {
					t.Errorf("%s with %v is certain: %v", e.Step, e.Readings, e.Certain)
				}
			}
		})
	}
}

// Without --role an owner's walk never goes past the gate into work inside
// energised enclosures, whatever readings are supplied.
func TestOwnerIsHandedOver(t *testing.T) {
	var out, errs bytes.Buffer
	args := []string{"--content", "testdata/handbook", "walk", "in-the-panel", "--json", "--readings", "-"}
	code := run(context.Background(), args, strings.NewReader("panel.l1-n: 118.4"), &out, &errs, func(string) string { return "" })
	var w jsonWalk
	must.Do(t, json.Unmarshal(out.Bytes(), &w))
	if code != exitFine || len(w.Path) != 0 || w.Finding == nil || w.Finding.ID.Step != "hand-over" || w.Finding.For != "qualified" {
		t.Errorf("exit code %d, %s", code, out.String())
	}
}

// The scenario that README shows, with every key there is, is one.
func TestScenarioOfTheGuide(t *testing.T) {
	guide := must.Have(os.ReadFile("../../README.md"))(t)
	_, block, _ := strings.Cut(string(guide), "\n\n    scenario: ")
	block, _, _ = strings.Cut("scenario: "+block, "\n\n")
	text := "---\n" + strings.ReplaceAll(block, "\n    ", "\n") + "\n---\n\nThe step tingles.\n"
	if s, diags := load.Scenario(context.Background(), shipped(), "guide.md", strings.NewReader(text), nil); s == nil || len(diags) > 0 || len(s.Faults) != 1 || len(s.Meter) != 1 || len(s.May) != 2 {
		t.Errorf("%s\ngives %+v\n%v", text, s, diags)
	}
}
