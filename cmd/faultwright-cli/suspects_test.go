package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree/must"

	"github.com/google/go-cmp/cmp"
)

// The JSON has the keys that programs were promised, and no others; what is not
// there is an empty list or null.
func TestSuspectsJSON(t *testing.T) {
	keys := func(args ...string) map[string]any {
		t.Helper()
		var out, errs bytes.Buffer
		if code := run(context.Background(), append([]string{"suspects", "--json", "--role", "qualified"}, args...), strings.NewReader(""), &out, &errs, func(string) string { return "" }); code != exitFine {
			t.Fatalf("exit code %d: %s", code, errs.String())
		}
		var v map[string]any
		must.Do(t, json.Unmarshal(out.Bytes(), &v))
		return shape(v).(map[string]any)
	}
	suspect := map[string]any{"faults": "list", "places": "list", "share": "number", "hazard": "text", "do": "text",
		"worst": map[string]any{"quantity": "text", "expected": "text", "reading": "text"}}
	want := map[string]any{
		"suspects":  []any{suspect},
		"none_fits": "number",
		"open":      []any{map[string]any{"fault": "text", "share": "number", "test": "text"}},
		"next":      []any{map[string]any{"quantity": "text", "why": "text", "bits": "number", "cost": "number"}},
	}
	if diff := cmp.Diff(want, keys("--fact", "service=50a", "--fact", "source=shore", "panel, loads on: L1-N 105 L2-N 134")); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	want["stop"] = []any{map[string]any{"title": "text", "readings": "list", "do": "list", "walk": "text"}}
	if diff := cmp.Diff(want, keys("--fact", "service=50a", "--fact", "source=shore", "body-earth=58")); diff != "" {
		t.Errorf("where a danger limit is reached (-want +got):\n%s", diff)
	}
	delete(want, "stop")
	want["taken_as"] = map[string]any{"service": "text"}
	if diff := cmp.Diff(want, keys("panel, loads on: L1-N 105 L2-N 134")); diff != "" {
		t.Errorf("where a reading says what nobody stated (-want +got):\n%s", diff)
	}
	delete(want, "taken_as")
	suspect["worst"] = nil
	if diff := cmp.Diff(want, keys("--fact", "service=50a", "--fact", "source=shore")); diff != "" {
		t.Errorf("where nothing is told (-want +got):\n%s", diff)
	}
}

// The file of readings that README shows is one.
func TestReadmeAccount(t *testing.T) {
	readme := must.Have(os.ReadFile("../../README.md"))(t)
	_, text, found := strings.Cut(string(readme), "\n    complaint: ")
	text, _, ended := strings.Cut(text, "\n\n")
	if !found || !ended {
		t.Fatal("README shows no file of readings with a complaint")
	}
	text = strings.ReplaceAll("complaint: "+text, "\n    ", "\n")
	told, diags := load.Account(strings.NewReader(text), "README.md", shipped().Forest)
	if len(diags) > 0 || len(told.Evidence) < 4 {
		t.Errorf("%v, %d things told of:\n%s", diags, len(told.Evidence), text)
	}
}

// shape is a value of JSON with the kinds of its values in place of them, and of
// a list of objects the first.
func shape(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := map[string]any{}
		for key, value := range v {
			out[key] = shape(value)
		}
		return out
	case []any:
		if len(v) > 0 {
			if _, ok := v[0].(map[string]any); ok {
				return []any{shape(v[0])}
			}
		}
		return "list"
	case string:
		return "text"
	case float64:
		return "number"
	}
	return v
}
