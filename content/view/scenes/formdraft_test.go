package scenes_test

import (
	"context"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/must"
)

// A draft comes back with what the form does not show: it says the same file.
func TestADraftComesBack(t *testing.T) {
	lib, ctx := load.Shipped(), context.Background()
	for _, s := range view.Scenarios(lib) {
		f := scenes.FormOf(s)
		f.Title += " once more"
		text := must.Have(f.Draft(lib))(t)
		back := must.Have(scenes.FormOfDraft(ctx, lib, text))(t)
		_, want, _ := f.Scenario(ctx, lib)
		if _, got, problems := back.Scenario(ctx, lib); got != want || want == "" {
			t.Errorf("%s: %v, want\n%s\ngot\n%s", s.ID, problems, want, got)
		}
	}
}

// A draft is a file from outside: whatever stands in it, the form can be shown.
func TestADraftMayBeAnything(t *testing.T) {
	lib, ctx := load.Shipped(), context.Background()
	for _, text := range []string{
		`{}`, `{"Form":{"Rig":"nothing","Tree":"nothing"},"From":"---\n"}`,
		`{"Form":{"Rig":"coach-50a","Faults":[{"Fault":"open-neutral","Variant":-7,"Severity":1e300},{"Fault":"nothing","Variant":99}],"Loads":{"x":"y"}}}`,
	} {
		f, err := scenes.FormOfDraft(ctx, lib, []byte(text))
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		f.Choices(lib)
		f.WithRig(lib, "house-12v")
		if _, _, problems := f.Scenario(ctx, lib); len(problems) == 0 {
			t.Errorf("%s makes a scenario", text)
		}
	}
	for _, text := range []string{``, `[`, `{"Form":[]}`, "\x00"} {
		if f, err := scenes.FormOfDraft(ctx, lib, []byte(text)); err == nil {
			t.Errorf("%q is read as %+v", text, f)
		}
	}
}
