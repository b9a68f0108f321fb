package scenes

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"faultwright/content"
	"faultwright/content/load"
)

// draft is a form as it is kept while it is filled in.
type draft struct {
	Form Form
	From string `json:",omitempty"` // the file of the scenario that it was made from
}

// Draft writes a form as it stands, however little of it is filled in, for
// [FormOfDraft] to read. The handbook is the one that the form was made by.
func (f Form) Draft(lib *content.Library) ([]byte, error) {
	d := draft{Form: f}
	if f.from != nil {
		d.From = load.ScenarioText(lib, f.from)
	}
	return json.Marshal(d)
}

// FormOfDraft reads what [Form.Draft] wrote, by the same handbook or another. What the
// form does not show is lost where the scenario that it was made from cannot be read
// by this one.
func FormOfDraft(ctx context.Context, lib *content.Library, text []byte) (Form, error) {
	var d draft
	if err := json.Unmarshal(text, &d); err != nil {
		return Form{}, fmt.Errorf("the draft of a scenario cannot be read: %w", err)
	}
	f := d.Form
	for i, x := range f.Faults {
		f.Faults[i].Variant = max(x.Variant, 0)
	}
	if s, _ := load.Scenario(ctx, lib, f.ID+".md", strings.NewReader(d.From), nil); s != nil && s.Rig.ID == f.Rig {
		f.from = s
	}
	return f, nil
}
