package gui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
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

// A figure that is searched for and is a column of a chart begins the walk at that
// chart: the fact is asked first, what is pinned first as well, and the figure is
// taken when its turn comes, without being asked again.
func TestASearchedColumnBeginsAtItsChart(t *testing.T) {
	w := open(t, wide, folder("../testdata/pedestal"))
	w.Type("/")
	w.Type("118 volts L1 to neutral at the pedestal")
	w.Want("STEP THAT TAKES THIS READING", "118 V")
	w.Key(fyne.KeyReturn) // the first hit
	w.Want("Pedestal: L1 to neutral", "Begin a walk here")
	w.Check("Read as this page says", true)
	w.Press("Begin a walk here with this reading")
	w.Want("Which plug has the vehicle?")
	w.Pick("2")
	if at := w.session.Visit().Walk().At().Step; at != "readings/g-earth" {
		t.Fatalf("the walk asks %s", at)
	}
	w.Type("0.4")
	w.Press("Take this reading")
	w.Want("Pedestal: L1 to neutral\t118 V")
	if !strings.Contains(w.Text(), "step 4") || w.session.Visit().Walk().Readings() != 2 {
		t.Errorf("the figure is not taken:\n%s", w.Text())
	}
}

// One that hurts stops at once, before any fact.
func TestASearchedColumnThatHurtsStopsAtOnce(t *testing.T) {
	w := open(t, wide, folder("../testdata/pedestal"))
	w.Type("/")
	w.Type("58 volts from the ground contact of the pedestal to a spike")
	w.Key(fyne.KeyReturn)
	w.Want("This reading can hurt", "The grounding contact is live")
	w.Press("Begin a walk here with this reading")
	w.Want("1. Do not plug in.", "58 V")
}

// A fact is changed from the trail, in the middle of a chart and at its end: what
// was read stands, and the walk is judged anew. The test after a repair knows it.
func TestAFactIsChangedFromTheTrail(t *testing.T) {
	w := open(t, wide, folder("../testdata/pedestal"))
	w.Press("Not plugged in")
	w.Pick("1")
	for w.session.Visit().Walk().Readings() < 2 {
		w.Type(map[string]string{"readings/g-earth": "0.4", "readings/l1-n": "120.1", "readings/l1-earth": "120.0", "readings/n-g": "0.2", "readings/l1-g": "120.0"}[w.session.Visit().Walk().At().Step])
		w.Press("Take this reading")
	}
	change := func(digit string) {
		t.Helper()
		w.Press("Which plug has the vehicle?")
		w.Want("The answer on record", "step 1")
		w.Type(digit)
		w.Want("Every later answer still stands")
		w.Press("Change it")
	}
	before := w.session.Visit().Walk()
	change("2")
	if now := w.session.Visit().Walk(); now.Fact("service") != "50a" || now.Readings() != 2 || now.Ended() {
		t.Errorf("changed, the walk is at %v with %d readings and knows %v", now.At(), now.Readings(), now.Facts())
	}
	change("1")
	if now := w.session.Visit().Walk(); now.At() != before.At() || now.Readings() != 2 {
		t.Errorf("changed back, the walk is at %v with %d readings; it was at %v", now.At(), now.Readings(), before.At())
	}
}

// After a DANGER finding as well: a fact does not take back what hurts.
func TestAFactChangedAfterALiveGround(t *testing.T) {
	w := open(t, wide, folder("../testdata/pedestal"))
	w.Press("Not plugged in")
	w.Pick("1")
	w.Type("58")
	w.Press("Take this reading")
	w.Want("1. Do not plug in.")
	w.Press("Which plug has the vehicle?")
	w.Type("2")
	w.Press("Change it")
	w.Want("1. Do not plug in.", "58 V", "Which plug has the vehicle?\t50 A")
	w.Press("Test after repair")
	w.Want("Pedestal: ground to the spike", "Which plug has the vehicle?\t50 A")
}
