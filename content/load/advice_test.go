package load

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"faultwright/faulttree"
)

// leak is a milder fault beside the base handbook's lost ground.
const leak = `---
fault: leak
title: Something leaks
hazard: warning
place: [vehicle, cord]
findings: {first_action: "Plug out. Label the plug.", do_not: "Do not reset it again.", repair_by: a technician, sure: "Nearly certain."}
---
Current comes where it should not.
`

// A finding takes what its faults say for its place, the worst hazard's first,
// and adds its own; no sentence stands twice. Its signal is the worst hazard.
func TestAFindingTakesFromItsFaults(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	files["faults/leak.md"] = leak
	files["faults/lost-ground.md"] = strings.Replace(files["faults/lost-ground.md"], "variants:", `findings:
  supply: {first_action: "Tell the office."}
  cord: {first_action: "Stand 3 m off. Plug out.", do_not: "Do not touch the body.", repair_by: an electrician, sure: "Certain."}
variants:`, 1)
	finding := func(id, text string) string {
		return "## " + id + " {#" + id + "}\n\n```yaml step\nfinding: {" + text + "}\n```\n\n"
	}
	files["trees/other.md"] = "---\ntree: other\ntitle: Another\nsummary: Another tree.\nstart: both\nscope: [dc]\n---\n" +
		finding("both", `faults: [leak, lost-ground], at_once: true, place: cord, first_action: "Plug out. Call for help.", repair_by: an electrician`) +
		finding("mild", `faults: [leak], place: vehicle`) +
		finding("own", `faults: [leak, lost-ground], sure: "By itself."`) +
		finding("said", `faults: [lost-ground], signal: warning, place: supply, do_not: "Do not plug in; wait."`)
	l := FS(context.Background(), folder(files))
	for _, d := range l.Diagnostics {
		t.Error(d)
	}
	for id, want := range map[string]string{
		"both": "danger|Stand 3 m (10 ft) off. Plug out. Label the plug. Call for help.|Do not touch the body. Do not reset it again.|an electrician; a technician|Certain. Nearly certain.",
		"mild": "warning|Plug out. Label the plug.|Do not reset it again.|a technician|Nearly certain.",
		"own":  "danger||||By itself.",
		"said": "warning|Tell the office.|Do not plug in; wait.||",
	} {
		f := l.Forest.Trees["other"].Step(id).Finding
		if got := fmt.Sprintf("%s|%s|%s|%s|%s", f.Signal, f.FirstAction, f.DoNot, f.RepairBy, f.Sure); got != want {
			t.Errorf("%s says\n%s\nwant\n%s", id, got, want)
		}
	}
	if f := l.Forest.Trees["other"].Step("both").Finding; !f.AtOnce || f.Place != faulttree.Cord {
		t.Errorf("both hold at once, in the cord: %+v", f)
	}
}
