package session

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/content/figure"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

func TestSettingsComeBackAsWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "below", "settings.json")
	want := Settings{
		Face:     figure.FaceTT30,
		Welcomed: true, Role: faulttree.Qualified, Colours: "high-contrast", TextSize: 1.5,
		Tools: suspect.ClampDC | suspect.LowImpedance,
		Meter: faulttree.Meter{Name: "mine", FullScale: 20000, ACVolts: faulttree.Accuracy{Percent: faulttree.One / 2, Counts: 10}},
	}
	must.Do(t, WriteSettings(path, want))
	got := must.Have(ReadSettings(path))(t)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".writing-*")); len(left) > 0 {
		t.Errorf("temporary files left: %v", left)
	}
}

func TestSettingsOfAFirstStart(t *testing.T) {
	s, err := ReadSettings(filepath.Join(t.TempDir(), "none.json"))
	if err != nil || s.Welcomed || s.Tools != 0 || s.Role != faulttree.Owner || s.Meter != faulttree.DefaultMeter() {
		t.Errorf("%+v, %v", s, err)
	}
}

// Whatever is wrong in the file, the reader is an owner with the usual meter,
// and is asked again.
func TestSettingsThatCannotBeRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "settings.json")
	must.Do(t, os.WriteFile(path, []byte("{"), 0o600))
	s, err := ReadSettings(path)
	if err == nil || s.Welcomed || s.Role != faulttree.Owner {
		t.Errorf("%+v, %v", s, err)
	}
	s = must.Have(decodeSettings([]byte(`{"welcomed":true,"role":"wizard","text_size":90,"tools":["hammer"],"meter":{"counts":-5}}`)))(t)
	if s.Welcomed || s.TextSize != 1 || s.Tools != 0 || s.Meter != faulttree.DefaultMeter() {
		t.Errorf("senseless values were taken: %+v", s)
	}
}
