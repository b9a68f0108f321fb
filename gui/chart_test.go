package gui

import (
	"strings"
	"testing"
)

// A chart is walked as ordinary pages: its fact as choices, each reading as a
// measure step, and on wish why that one comes next.
func TestAChartIsWalkedAsOrdinaryPages(t *testing.T) {
	w := open(t, wide, folder("../testdata/pedestal"))
	w.Press("Not plugged in")
	w.Want("Which plug has the vehicle?", "step 1")
	w.Pick("2")
	w.Want("Pedestal: ground to the spike", "Nothing is plugged in.", "Why this one next?")
	w.Press("Why this one next?")
	w.Want("It is read first", "The grounding contact is live")
	w.Type("0.4")
	w.Press("Take this reading")
	asked := w.session.Visit().Walk().At().Step
	if !strings.HasPrefix(asked, "readings/") || asked == "readings/g-earth" {
		t.Fatalf("the walk stands at %s; the page shows\n%s", asked, w.Text())
	}
	w.Want("Pedestal: ground to the spike\t0.4 V", "Why this one next?")
}

func TestALiveGroundEndsAChartAtOnce(t *testing.T) {
	w := open(t, small, folder("../testdata/pedestal"))
	w.Press("Not plugged in")
	w.Pick("1")
	w.Type("58")
	w.Want("The grounding contact is live")
	w.Press("Take this reading")
	w.Want("1. Do not plug in.", "58 V", "30 V and more")
	if !w.session.Visit().Walk().Ended() {
		t.Error("the walk goes on")
	}
}
