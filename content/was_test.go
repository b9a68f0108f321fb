package content_test

import (
	"testing"
	"time"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

// A visit kept before steps moved into a fragment names them by the ids they
// had. Every answer of it still stands, and it ends where it ended.
func TestAVisitByEarlierIDsStands(t *testing.T) {
	lib := load.Shipped()
	for file, had := range map[string]map[string]string{
		"pedestal-30a-dial":               {"prove-meter.source": "prove-meter", "prove-meter.tips-apart": "tips-apart", "prove-meter.tips-together": "tips-together"},
		"pedestal-50a-red-in-ampere-jack": {"prove-meter.source": "prove-meter", "prove-meter.tips-apart": "tips-apart", "prove-meter.tips-together": "tips-together"},
	} {
		w, _ := walkFile(t, lib, file)
		v := visit.Visit{Header: visit.Header{Start: w.Start(), Role: w.Role(), Meter: w.Meter(), Started: time.Unix(0, 0)}}
		renamed := 0
		for i, e := range w.Trail() {
			reply := visit.NewReply(lib.Forest.Step(e.Step), e.Answer)
			if was := had[reply.Step.Step]; was != "" {
				reply.Step.Step = was
				renamed++
			}
			v.Records = append(v.Records, visit.Record{Seq: i + 1, Kind: visit.Answered, Replies: []visit.Reply{reply}})
		}
		if renamed < 3 {
			t.Fatalf("%s names %d steps by an earlier id; want 3", file, renamed)
		}
		played := v.Replay(lib.Forest)[0]
		for _, s := range played.Lapsed() {
			t.Errorf("%s: the answer to %s does not stand: %s", file, s.Item.Reply.Step, s.Why)
		}
		want, _ := w.Finding()
		if got, ended := played.Walk.Finding(); !ended || got.Ref != want.Ref {
			t.Errorf("%s ends at %s; want %s", file, got.Ref, want.Ref)
		}
	}
	if at := lib.Forest.Canonical(faulttree.Ref{Tree: "pedestal-30a", Step: "meter-doubtful"}); at.Step != "prove-meter.meter-doubtful" {
		t.Errorf("a link to the earlier id leads to %s", at)
	}
}
