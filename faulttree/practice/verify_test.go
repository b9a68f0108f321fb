package practice_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// sent is an attempt that went through its text form, with bytes replaced.
func sent(t *testing.T, a practice.Attempt, from, to string) practice.Attempt {
	t.Helper()
	text := must.Have(json.Marshal(a))(t)
	if !bytes.Contains(text, []byte(from)) {
		t.Fatalf("the attempt does not say %s: %s", from, text)
	}
	var got practice.Attempt
	must.Do(t, json.Unmarshal(bytes.Replace(text, []byte(from), []byte(to), 1), &got))
	return got
}

// An attempt that was sent as text comes back whole; one that says another
// reading than the case gives is told by its first act that does not follow.
func TestVerify(t *testing.T) {
	c := with(t, "open-ground")
	l := stand(t, c)
	l.read("body", "earth")
	l.do(practice.Act{Kind: practice.Load, Name: "l1", On: true})
	l.dial(func(s *meter.Setting) { s.Function = meter.LowZ })
	l.read("panel.n", "panel.g")
	want := l.a.Name("open-ground")
	got, differs, err := c.Verify(sent(t, want, "", ""))
	if err != nil || differs != nil {
		t.Fatal(differs, err)
	}
	if diff := cmp.Diff(want, got, cmpopts.IgnoreUnexported(practice.Act{})); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if got.Acts[0].Reading() != want.Acts[0].Reading() || !got.Acts[0].Numeric() {
		t.Errorf("the reading is %+v", got.Acts[0].Reading())
	}
	shown := want.Acts[0].Shown
	got, differs, err = c.Verify(sent(t, want, shown, "0.0 V"))
	if err != nil || differs == nil || *differs != (practice.Difference{Act: 0, Said: "0.0 V", Computed: shown}) {
		t.Errorf("an edited reading: %v, %v", differs, err)
	}
	if got.Acts[0].Shown != shown {
		t.Errorf("it is taken over as %q", got.Acts[0].Shown)
	}
	if _, _, err := with(t).Verify(practice.Attempt{Case: "another"}); err == nil {
		t.Error("an attempt at another case is verified")
	}
	if _, differs, err := c.Verify(practice.Attempt{Case: c.ID, Meter: faulttree.DefaultMeter(), Acts: []practice.Act{{Kind: practice.Throw, Name: "generator", Asked: true}}}); err != nil || differs == nil {
		t.Errorf("a switch that may not be thrown: %v, %v", differs, err)
	}
}
