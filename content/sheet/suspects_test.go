package sheet

import (
	"bytes"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

// Where a finding is milder than what fits its readings the sheet says so above all
// and is of signal DANGER; without suspects it is as it was.
func TestSheetFollowsTheSafer(t *testing.T) {
	lib := load.Shipped()
	w := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "half-dead", Step: "outlet-alive"}, faulttree.Owner, faulttree.DefaultMeter()))(t)
	fits := &view.Suspects{Counted: 2,
		Likely:  []view.Suspect{{Word: "most likely", Share: "93 %", Title: "The neutral is open", Where: "cord", Signal: faulttree.Danger, Do: []string{"Keep it unplugged."}, Of: suspect.Suspect{System: "120 V", Share: 0.93, Parts: []suspect.Part{{At: faulttree.FaultAt{Fault: "open-neutral", Place: faulttree.Cord}, Share: 0.93}}}}},
		Dangers: []suspect.Open{{System: "120 V", Fault: "open-neutral", Place: faulttree.Cord, Share: 0.93, Tested: true, Test: "Ohms of the cord."}},
		Open:    []view.NotExcluded{{Test: "Ohms of the cord", Faults: []view.Link{{Title: "The neutral is open"}}}},
	}
	plain := HTML(Input{Walk: w}, lib)
	if bytes.Contains(plain, []byte("What fits these readings")) {
		t.Error("suspects are listed where none were worked out")
	}
	for name, page := range map[string][]byte{"HTML": HTML(Input{Walk: w, Fits: fits}, lib), "Markdown": Markdown(Input{Walk: w, Fits: fits}, lib)} {
		for _, want := range []string{"DANGER", "Keep it unplugged", "graver than this finding", "What fits these readings", "most likely, 93 %", "Ohms of the cord"} {
			if !bytes.Contains(page, []byte(want)) {
				t.Errorf("%s does not say %q:\n%s", name, want, page)
			}
		}
	}
}
