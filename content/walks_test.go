package content_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// expectedWalk is where a file of readings ends.
type expectedWalk struct {
	file, finding string
	stop          string // the STOP passed, if any
	signal        faulttree.Signal
	fault         string // named by the finding; "" if none must be
	next          string
}

// Each file of readings in testdata/walks ends where the catalogue of faults
// says. The readings are pictures of each fault, computed by hand from the
// circuit: half of line, the sum of the legs, 208 = 120·√3. Where a file says so
// they are those that the model of a rig shows with the fault in it.
var walks = []expectedWalk{
	{"body-58", "stop-dead.ground-lost-in-cord", "stop-live-body", faulttree.Danger, "open-ground", ""},
	{"body-2", "nothing-shown", "", faulttree.Warning, "", ""},
	{"body-ol", "stop-dead.leaking", "stop-live-body", faulttree.Danger, "leakage-to-body", ""},
	{"body-on-the-limit", "stop-dead.ground-lost-somewhere", "stop-live-body", faulttree.Danger, "open-ground", ""},
	{"body-near-the-limit", "supply-does-not-hold", "stop-live-body", faulttree.Danger, "rod-only-ground", ""},
	{"body-site-shift", "earth-shift", "", faulttree.Warning, "neutral-earth-shift", ""},
	{"body-short-behind-heater", "dead.hot-shorted", "", faulttree.Danger, "hot-to-body-short", ""},
	{"body-neutral-joined", "dead.bonded-inside", "", faulttree.Danger, "vehicle-bond", ""},
	{"body-floating-ground", "ground-hangs", "", faulttree.Danger, "open-ground", ""},
	{"body-ground-hangs-50a", "ground-hangs", "", faulttree.Danger, "open-ground", ""},
	{"body-reversed-polarity", "neutral-away", "", faulttree.Danger, "reversed-polarity", ""},
	{"body-neutral-lost", "neutral-away", "", faulttree.Danger, "open-neutral", ""},
	{"body-reversed-bootleg", "live-ground-untested", "stop-live-ground", faulttree.Danger, "bootleg-ground-reversed", ""},
	{"body-hot-on-ground", "live-ground-untested", "stop-live-ground", faulttree.Danger, "hot-ground-swapped", ""},
	{"body-ground-pulled", "live-ground-untested", "stop-live-ground", faulttree.Danger, "neighbour-fault-shared-ground", ""},
	{"body-plug-backfed", "dead.pins.pins-live", "", faulttree.Danger, "backfed-plug", ""},
	{"body-ground-lost-in-vehicle", "dead.ground-lost-in-vehicle", "", faulttree.Danger, "body-bond-open", ""},
	{"body-bond-and-leak", "dead.bond-and-leak", "", faulttree.Danger, "leakage-to-body", ""},
	{"body-cord-ground-poor", "dead.ground-lost-in-cord", "", faulttree.Danger, "high-resistance-ground", ""},
	{"body-leads-not-nulled", "nothing-shown", "", faulttree.Warning, "", ""},
	{"body-leads-and-bad-ground", "dead.ground-lost-in-cord", "", faulttree.Danger, "high-resistance-ground", ""},
	{"body-ground-poor-leads-good", "dead.ground-lost-in-cord", "", faulttree.Danger, "high-resistance-ground", ""},
	{"body-cord-and-leak", "dead.cord-and-leak", "", faulttree.Danger, "leakage-to-body", ""},
	{"body-cord-open-twice", "dead.cord-and-leak", "", faulttree.Danger, "leakage-to-body", ""},
	{"body-cord-hot-swapped", "dead.cord-exchanged", "", faulttree.Danger, "hot-ground-swapped", ""},
	{"body-cord-neutral-swapped", "dead.cord-exchanged", "", faulttree.Danger, "neutral-ground-swapped", ""},
	{"body-cord-is-wet", "dead.cord-is-wet", "", faulttree.Danger, "wet-cord", ""},
	{"body-water", "wet", "", faulttree.Danger, "wet-cord", ""},
	{"body-leak", "dead.leaking", "", faulttree.Danger, "leakage-to-body", ""},
	{"body-fixed-cord-leak", "dead.lost-and-leak", "", faulttree.Danger, "leakage-to-body", ""},
	{"body-ground-lost-somewhere", "dead.ground-lost-somewhere", "", faulttree.Danger, "open-ground", ""},
	{"body-adapter-defeats", "dead.adapter-defeats", "", faulttree.Danger, "ground-defeating-adapter", ""},
	{"body-adapter-and-leak", "dead.adapter-and-leak", "", faulttree.Danger, "leakage-to-body", ""},
	{"body-contactor-open", "not-seen", "", faulttree.Warning, "", ""},
	{"body-low-site", "nothing-shown", "", faulttree.Warning, "", ""},
	{"body-on-generator", "own-source", "", faulttree.Warning, "generator-floating", ""},
	{"body-load-only", "supply-does-not-hold", "stop-live-body", faulttree.Danger, "rod-only-ground", ""},
	{"body-meter-reads-low", "proof.meter-reads-low", "", faulttree.Danger, "meter-weak", ""},
	{"body-meter-leads", "proof.meter-leads", "", faulttree.Danger, "meter-weak", ""},
	{"body-not-judged", "not-judged", "", faulttree.Danger, "leakage-to-body", ""},
	{"twelve-volt-mains", "line-voltage", "stop-mains", faulttree.Danger, "mains-on-12v", ""},
	{"twelve-volt-tens-of-volts", "line-voltage", "stop-mains", faulttree.Danger, "meter-ghost", ""},
	{"twelve-volt-fuse", "branch-open", "", faulttree.Warning, "dc-fuse-open", ""},
	{"twelve-volt-swollen", "battery-spoiled", "", faulttree.Danger, "battery-damaged", ""},
	{"twelve-volt-reversed", "reversed", "", faulttree.Danger, "battery-reversed", ""},
	{"twelve-volt-overcharge", "overcharged", "", faulttree.Danger, "overcharge", ""},
	{"twelve-volt-gel-at-14-4", "overcharged", "", faulttree.Danger, "overcharge", ""},
	{"twelve-volt-cold-charge", "both-sides-lose", "", faulttree.Warning, "dc-undersized", ""},
	{"twelve-volt-lithium-cut-off", "posts-dead", "", faulttree.Warning, "battery-management-cutoff", ""},
	{"twelve-volt-lithium-nearly-empty", "other-empty", "", faulttree.Warning, "battery-low", ""},
	{"twelve-volt-converter-dead", "converter-gives-nothing", "", faulttree.Warning, "converter-dead", ""},
	{"twelve-volt-cable-of-the-converter", "converter-cut-off", "", faulttree.Warning, "converter-dead", ""},
	{"twelve-volt-disconnect", "feed-open", "", faulttree.Warning, "disconnect-open", ""},
	{"twelve-volt-corroded-clamp", "one-side-loses", "", faulttree.Warning, "dc-high-resistance", ""},
	{"twelve-volt-loss-under-charge", "one-side-loses", "", faulttree.Warning, "dc-high-resistance", ""},
	{"twelve-volt-thin-wire", "both-sides-lose", "", faulttree.Warning, "dc-undersized", ""},
	{"twelve-volt-cell-gone", "cell-gone", "", faulttree.Danger, "battery-damaged", ""},
	{"twelve-volt-near-a-quarter", "battery-low", "", faulttree.Notice, "battery-low", ""},
	{"twelve-volt-over-a-quarter", "something-draws", "", faulttree.Notice, "parasitic-draw", ""},
	{"twelve-volt-worn", "battery-worn", "", faulttree.Warning, "battery-weak", ""},
	{"twelve-volt-drained", "something-draws", "", faulttree.Notice, "parasitic-draw", ""},
	{"twelve-volt-over-the-chains", "tow-ground-open", "", faulttree.Warning, "return-through-tow-chain", ""},
	{"twelve-volt-healthy-lithium", "no-fault-shown", "", faulttree.Notice, "", ""},
	{"twelve-volt-meter-not-on-volts", "proof-ac.meter-dial", "", faulttree.Danger, "meter-wrong-function", ""},
	{"twelve-volt-reads-low", "proof-ac.meter-reads-low", "", faulttree.Danger, "meter-weak", ""},
	{"half-dead-tingle", "stop-dead.ground-lost-in-cord", "stop-live-body", faulttree.Danger, "open-ground", ""},
	{"own-source-tingle", "dead.leaking", "", faulttree.Danger, "leakage-to-body", ""},
	{"own-source-main-opened", "main-opened", "", faulttree.Danger, "hot-to-body-short", ""},
	{"own-source-gfci-opened", "gfci-opened", "", faulttree.Danger, "gfci-tripped", ""},
	{"own-source-branch-opened", "branch-opened", "", faulttree.Danger, "breaker-tripped", ""},
	{"own-source-frame-apart", "frame-apart", "", faulttree.Danger, "open-ground", ""},
	{"own-source-lead-broken", "proof.meter-leads", "", faulttree.Danger, "meter-weak", ""},
	{"own-source-inverter-outlet-ground", "ground-of-outlet", "", faulttree.Danger, "open-ground-inside", ""},
	{"own-source-generator-like-filters", "generator-floats", "", faulttree.Warning, "generator-floating", ""},
	{"own-source-generator-floating", "generator-floats", "", faulttree.Warning, "generator-floating", ""},
	{"own-source-generator-slow", "too-slow", "", faulttree.Warning, "generator-low-frequency", ""},
	{"own-source-generator-low-at-60", "source-low", "", faulttree.Warning, "meter-weak", ""},
	{"own-source-no-output", "no-output", "", faulttree.Warning, "supply-dead", ""},
	{"own-source-overvoltage", "too-high", "stop-over", faulttree.Danger, "high-supply", ""},
	{"own-source-source-high", "too-high", "", faulttree.Danger, "high-supply", ""},
	{"own-source-inverter-floating", "inverter-floats", "", faulttree.Warning, "inverter-floating", ""},
	{"own-source-hot-on-frame", "hot-on-frame", "", faulttree.Danger, "reversed-polarity", ""},
	{"own-source-frozen", "contradict", "", faulttree.Danger, "meter-hold", ""},
	{"own-source-neutral-of-branch", "neutral-of-branch", "", faulttree.Danger, "open-neutral-inside", ""},
	{"own-source-neutral-wanders", "neutral-lost", "", faulttree.Danger, "open-neutral", ""},
	{"own-source-outlet-reversed", "outlet-reversed", "", faulttree.Danger, "reversed-outlet", ""},
	{"own-source-outlet-wrong", "outlet-reversed", "", faulttree.Danger, "reversed-outlet", ""},
	{"own-source-way-poor", "neutral-gives-way", "", faulttree.Danger, "high-resistance-neutral", ""},
	{"own-source-hot-gives-way", "hot-gives-way", "", faulttree.Danger, "high-resistance-hot", ""},
	{"own-source-source-sags", "source-low", "", faulttree.Warning, "meter-weak", ""},
	{"own-source-neutral-unread", "not-judged", "", faulttree.Warning, "", ""},
	{"own-source-generator-built-in", "no-fault-shown", "", faulttree.Warning, "", ""},
	{"own-source-generator-healthy", "no-fault-shown", "", faulttree.Notice, "", ""},
	{"own-source-inverter-healthy", "no-fault-shown", "", faulttree.Notice, "", ""},
	{"trips-element-leaks", "leaks", "", faulttree.Danger, "leakage-to-body", ""},
	{"trips-bonded-inside", "joined", "", faulttree.Danger, "vehicle-bond", ""},
	{"trips-screw-in-cable", "shorted", "", faulttree.Danger, "hot-to-body-short", ""},
	{"trips-two-heaters", "overload", "", faulttree.Warning, "breaker-tripped", ""},
	{"trips-rain", "wet", "", faulttree.Danger, "wet-cord", ""},
	{"trips-contactor-hides", "blind", "", faulttree.Warning, "gfci-tripped", ""},
	{"trips-leaks-when-hot", "one-appliance", "", faulttree.Danger, "leakage-to-body", ""},
	{"trips-device-names-neutral", "supply-refused", "", faulttree.Danger, "open-neutral", ""},
	{"trips-opens-with-all-off", "opens-empty", "", faulttree.Danger, "", ""},
	{"trips-once", "not-shown", "", faulttree.Warning, "gfci-tripped", ""},
	{"trips-pins-near-the-limit", "pins.pins-live", "", faulttree.Danger, "backfed-plug", ""},
	{"trips-inverter-on-the-pins", "pins.pins-live", "", faulttree.Danger, "backfed-plug", ""},
	{"trips-small-load", "tired", "", faulttree.Danger, "high-resistance-hot", ""},
	{"trips-device-waits", "device-waits", "", faulttree.Warning, "protective-device-lockout", ""},
	{"heat-hot-blade", "hot", "", faulttree.Danger, "high-resistance-hot", ""},
	{"heat-all-blades", "all", "", faulttree.Danger, "high-resistance-neutral", ""},
	{"heat-inlet", "inlet", "stop-hot", faulttree.Danger, "high-resistance-hot", ""},
	{"heat-warm-for-little", "warm-for-little", "", faulttree.Danger, "high-resistance-hot", ""},
	{"heat-fire", "burns", "stop-fire", faulttree.Danger, "", ""},
	{"heat-neutral-blade", "neutral", "stop-hot", faulttree.Danger, "high-resistance-neutral", ""},
	{"heat-melted-in", "burns", "stop-hot", faulttree.Danger, "", ""},
	{"heat-adapter", "cord-end", "", faulttree.Danger, "high-resistance-hot", ""},
	{"heat-coiled-cord", "cord", "stop-hot", faulttree.Danger, "undersized-cord", ""},
	{"heat-grounding-pin", "ground", "", faulttree.Danger, "neutral-ground-swapped", ""},
	{"heat-warm-at-full-load", "heavy-load", "", faulttree.Warning, "undersized-cord", ""},
	{"pedestal-meter-not-proved", "prove-meter.meter-doubtful", "", faulttree.Warning, "meter-weak", ""},
	{"half-dead-not-judged", "not-judged", "", faulttree.Warning, "", ""},
	{"half-dead-adapter-burnt", "cord-hot-open", "", faulttree.Danger, "high-resistance-hot", ""},
	{"half-dead-alive", "outlet-alive", "", faulttree.Warning, "", ""},
	{"half-dead-alive-beside-over-range", "tests.leaking", "", faulttree.Danger, "leakage-to-body", ""},
	{"half-dead-all-bright", "all-bright", "", faulttree.Danger, "high-supply", ""},
	{"half-dead-bonded-inside", "tests.bonded-inside", "", faulttree.Danger, "vehicle-bond", ""},
	{"half-dead-both-legs-hang", "neutral-open", "", faulttree.Danger, "open-neutral", ""},
	{"half-dead-bright-cord", "cord-neutral-open", "", faulttree.Danger, "open-neutral", ""},
	{"half-dead-bright-panel", "neutral-lost-inside", "", faulttree.Danger, "open-neutral", ""},
	{"half-dead-bright-supply", "neutral-open-supply", "", faulttree.Danger, "open-neutral", ""},
	{"half-dead-bright-thirty", "neutral-open-somewhere", "", faulttree.Danger, "open-neutral", ""},
	{"half-dead-contactor-hides", "hidden", "", faulttree.Warning, "", ""},
	{"half-dead-cord-hot-open", "cord-hot-open", "", faulttree.Danger, "open-hot-l1", ""},
	{"half-dead-cord-hot-poor", "cord-hot-open", "", faulttree.Danger, "high-resistance-hot", ""},
	{"half-dead-cord-neutral-poor", "cord-neutral-open", "", faulttree.Danger, "high-resistance-neutral", ""},
	{"half-dead-cord-too-thin", "cord-too-thin", "", faulttree.Danger, "undersized-cord", ""},
	{"half-dead-frozen", "bright-pins.pins-live", "", faulttree.Danger, "meter-hold", ""},
	{"half-dead-gfci", "not-shown", "", faulttree.Warning, "gfci-tripped", ""},
	{"half-dead-gfci-unseen", "branch-circuit-open", "", faulttree.Warning, "gfci-tripped", ""},
	{"half-dead-ground-live-elsewhere", "ground-live", "stop-live", faulttree.Danger, "neighbour-fault-shared-ground", ""},
	{"half-dead-ground-lost-in-cord", "tests.ground-lost-in-cord", "", faulttree.Danger, "open-ground", ""},
	{"half-dead-ground-poor", "tests.ground-lost-in-cord", "", faulttree.Danger, "high-resistance-ground", ""},
	{"half-dead-hot-beside-over-range", "tests.hot-shorted", "", faulttree.Danger, "hot-to-body-short", ""},
	{"half-dead-hot-ground-in-cord", "tests.cord-exchanged", "", faulttree.Danger, "hot-ground-swapped", ""},
	{"half-dead-hot-on-ground", "ground-live", "stop-live", faulttree.Danger, "hot-ground-swapped", ""},
	{"half-dead-lead-broken", "proof.meter-leads", "", faulttree.Danger, "meter-weak", ""},
	{"half-dead-leak-lost-ground", "tests.leaking", "", faulttree.Danger, "leakage-to-body", ""},
	{"half-dead-leg-1-lost-inside", "lost-inside", "", faulttree.Danger, "open-hot-l1", ""},
	{"half-dead-leg-2", "leg-lost", "", faulttree.Warning, "open-hot-l2", ""},
	{"half-dead-locked-out", "device-waits", "", faulttree.Warning, "protective-device-lockout", ""},
	{"half-dead-low-site", "cord-hot-open", "", faulttree.Danger, "high-resistance-hot", ""},
	{"half-dead-meter-other-function", "proof.meter-dial", "", faulttree.Danger, "meter-wrong-function", ""},
	{"half-dead-neutral-contact-hangs", "neutral-open", "", faulttree.Danger, "open-neutral", ""},
	{"half-dead-neutral-ground-exchanged", "tests.cord-exchanged", "", faulttree.Danger, "neutral-ground-swapped", ""},
	{"half-dead-neutral-lost-inside", "lost-inside", "", faulttree.Danger, "open-neutral", ""},
	{"half-dead-neutral-open-inside", "neutral-open-inside", "", faulttree.Danger, "open-neutral-inside", ""},
	{"half-dead-open-neutral", "all-bright", "", faulttree.Danger, "open-neutral", ""},
	{"half-dead-outlet-exchanged", "neutral-open-inside", "", faulttree.Danger, "reversed-outlet", ""},
	{"half-dead-outlet-ground-open", "neutral-open-inside", "", faulttree.Danger, "open-ground-inside", ""},
	{"half-dead-pedestal-breaker-off", "nothing", "", faulttree.Warning, "supply-dead", ""},
	{"half-dead-pins-live-here", "bright-pins.pins-live", "", faulttree.Danger, "backfed-plug", ""},
	{"half-dead-rises-with-load", "neutral-open-supply", "", faulttree.Danger, "open-neutral", ""},
	{"half-dead-same-leg-supply", "same-leg", "", faulttree.Danger, "same-leg", ""},
	{"half-dead-supply-far-too-high", "high", "", faulttree.Warning, "high-supply", ""},
	{"half-dead-thirty-all-dead", "nothing", "", faulttree.Warning, "supply-dead", ""},
	{"half-dead-two-hots-one-receptacle", "all-bright", "", faulttree.Danger, "240-on-30a", ""},
	{"half-dead-uneven-pedestal", "uneven", "", faulttree.Danger, "high-resistance-neutral", ""},
	{"half-dead-wild-leg", "high-leg", "", faulttree.Danger, "high-leg-delta", ""},
}

func TestWalksOnReadings(t *testing.T) {
	lib := shipped()
	files, err := filepath.Glob("../testdata/walks/*.yaml")
	expected := slices.Clone(walks)
	for _, c := range pedestalWalks {
		expected = append(expected, c.expectedWalk)
	}
	if err != nil || len(files) != len(expected) {
		t.Fatalf("%d files of readings, %d expectations, %v", len(files), len(expected), err)
	}
	for _, c := range expected {
		w, next := walkFile(t, lib, c.file)
		r, ended := w.Finding()
		stop, stopped := w.Stop()
		switch {
		case !ended:
			t.Errorf("%s: stops at %s, wanting %q", c.file, w.At(), next)
			continue
		case r.Ref.Step != c.finding || r.Finding.Signal != c.signal:
			t.Errorf("%s: ends in %s with %s; want %s with %s", c.file, r.Ref, r.Finding.Signal, c.finding, c.signal)
		case c.fault != "" && !slices.Contains(r.Finding.Faults, c.fault):
			t.Errorf("%s: names %v; want %s among them", c.file, r.Finding.Faults, c.fault)
		case stopped != (c.stop != "") || stopped && stop.Step != c.stop:
			t.Errorf("%s: STOP %s, %v; want %q", c.file, stop, stopped, c.stop)
		}
	}
}

func walkFile(t *testing.T, lib *content.Library, file string) (faulttree.Walk, string) {
	t.Helper()
	in := must.Have(os.Open("../testdata/walks/" + file + ".yaml"))(t)
	defer in.Close()
	supplied, diags := load.Readings(in, file, lib.Forest)
	if diags.HasErrors() {
		t.Fatal(diags.Err())
	}
	w := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: treeOf(file)}, faulttree.Owner, faulttree.DefaultMeter()))(t)
	w, next, err := w.Supply(supplied)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return w, next
}

func treeOf(file string) string {
	for _, tree := range []string{"pedestal-50a", "pedestal-30a", "pedestal", "half-dead", "twelve-volt", "own-source", "heat", "trips"} {
		if strings.HasPrefix(file, tree) {
			return tree
		}
	}
	return "body-voltage"
}

// A dangerous reading alone, whatever else is missing, already stands on a
// STOP or a DANGER finding.
func TestDangerousReadingAloneStops(t *testing.T) {
	lib := shipped()
	for _, tree := range lib.Forest.IDs() {
		for quantity := range lib.Forest.Trees[tree].Danger {
			q := lib.Forest.Quantities[quantity]
			for _, text := range []string{"OL", "160 V"} {
				r, err := faulttree.ParseReading(text, q)
				if err != nil {
					t.Fatal(err)
				}
				w := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: tree}, faulttree.Owner, faulttree.DefaultMeter()))(t)
				w, _, err = w.Supply(faulttree.Supplied{Readings: map[string][]faulttree.Reading{quantity: {r}}})
				if err != nil {
					t.Fatal(err)
				}
				_, stopped := w.Stop()
				if lib.Forest.Trees[tree].AtOnce[quantity] != "" { // no step asks for it: it is told on every page, with what to do
					if all := view.GivenOf(lib, w); len(all) != 1 || !strings.Contains(all[0].Text, "reaches the danger limit of") && text != "OL" || !strings.Contains(all[0].Text, "Breaker off, plug out, now. Pedestal breaker off") {
						t.Errorf("%s: %s = %s is told as %+v", tree, quantity, text, all)
					}
					continue
				}
				if f, ended := w.Finding(); !stopped && !(ended && f.Finding.Signal == faulttree.Danger) {
					t.Errorf("%s: %s = %s stands at %s without a STOP", tree, quantity, text, w.At())
				}
			}
		}
	}
}
