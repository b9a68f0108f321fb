package check

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/trial"
)

// clearing is the small handbook with an all-clear of the supply for low readings
// of the body, and the test of its fault.
func clearing(t *testing.T) map[string]string {
	files := base(t)
	files["faults/lost-ground.md"] = strings.Replace(files["faults/lost-ground.md"], "sources:", "test: {what: A loop test, by: an electrician}\nsources:", 1)
	tree := strings.Replace(files["trees/tingle.md"], "finding: {signal: notice,", "finding: {signal: notice, clears: [supply],", 1)
	files["trees/tingle.md"] = strings.Replace(tree, `  cannot_exclude: [{fault: lost-ground, test: "Continuity of the cord, unplugged."}]`+"\n", "", 1)
	return files
}

// found is which rules a handbook breaks, where.
func found(files map[string]string) map[string]string {
	out := map[string]string{}
	for _, d := range Library(context.Background(), load.FS(context.Background(), folder(files))) {
		out[d.Rule] = d.Pos.String()
	}
	return out
}

// An all-clear that drawn vehicles can reach, and of which nobody computed what
// remains, is an error; a list makes it good, also one of nothing, and so does a
// hand-written one where no rig covers the tree.
func TestAnAllClearSaysWhatRemains(t *testing.T) {
	files := clearing(t)
	line := strings.Count(files["trees/tingle.md"][:strings.Index(files["trees/tingle.md"], "## Nothing shown")], "\n") + 1
	if at, want := found(files)[ruleRemaining], fmt.Sprintf("trees/tingle.md:%d:1", line); at != want {
		t.Errorf("%s at %q, want %q", ruleRemaining, at, want)
	}
	files[load.RemainingFile("tingle")] = string(load.FormatRemaining("tingle", map[string][]faulttree.NotExcluded{"live": nil}))
	if got := found(files); got[ruleRemaining] == "" {
		t.Errorf("with a list that does not speak of it: %v", got)
	}
	files[load.RemainingFile("tingle")] = string(load.FormatRemaining("tingle", map[string][]faulttree.NotExcluded{"nothing": nil}))
	if got := found(files); got[ruleRemaining] != "" || got["clears-cannot-exclude"] != "" {
		t.Errorf("with a list of nothing: %v", got)
	}
	delete(files, load.RemainingFile("tingle"))
	files["rigs/small.yaml"] = strings.Replace(files["rigs/small.yaml"], "trees: [tingle]", "trees: []", 1)
	delete(files, "scenarios/bite.md")
	if got := found(files); got[ruleRemaining] != "" || got["clears-cannot-exclude"] == "" {
		t.Errorf("without rigs: %v", got)
	}
}

// What was computed is what a trial finds, so that check has nothing against it;
// a list that lacks something, or claims what no vehicle shows, is told.
func TestAListIsComparedWithTheVehicles(t *testing.T) {
	files := clearing(t)
	const rigs, seed = 300, 7
	l := load.FS(context.Background(), folder(files))
	all := must.Have(Remaining(context.Background(), l, []string{"tingle"}, trial.Options{Rigs: rigs, Seed: seed}))(t)
	// A poor ground in the cord still holds the body down; an open one in the
	// supply lifts it, and is named there.
	want := map[string][]faulttree.NotExcluded{"nothing": {{Fault: "lost-ground", Place: faulttree.Cord, Computed: true}}}
	if diff := cmp.Diff(want, all["tingle"]); diff != "" {
		t.Fatalf("want (-) and got (+) differ:\n%s", diff)
	}
	deep := func(findings map[string][]faulttree.NotExcluded) map[string]string {
		files[load.RemainingFile("tingle")] = string(load.FormatRemaining("tingle", findings))
		l := load.FS(context.Background(), folder(files))
		out := map[string]string{}
		for _, d := range Deep(context.Background(), l, rigs, seed, nil) {
			out[d.Rule] = d.Severity.String() + " " + d.Pos.String() + " " + d.Message
		}
		return out
	}
	if got := deep(all["tingle"]); got[ruleCannotMissing]+got[ruleCannotExtra]+got[ruleFalseClear] != "" {
		t.Errorf("what was computed: %v", got)
	}
	got := deep(nil)
	if !strings.HasPrefix(got[ruleCannotMissing], "error trees/tingle.md:") || !strings.Contains(got[ruleCannotMissing], "lost-ground@cord") {
		t.Errorf("one too few: %v", got)
	}
	got = deep(map[string][]faulttree.NotExcluded{"nothing": want["nothing"], "live": want["nothing"]})
	if got[ruleCannotExtra] != "" {
		t.Errorf("the finding names the fault itself, so nothing is added to it: %v", got)
	}
	files["faults/other.md"] = strings.NewReplacer("lost-ground", "other", "[feeder.g]", "[feeder.l1]", "[cord.g]", "[cord.l1]").Replace(files["faults/lost-ground.md"])
	got = deep(map[string][]faulttree.NotExcluded{"nothing": want["nothing"], "live": {{Fault: "other", Place: faulttree.Supply}}})
	if !strings.HasPrefix(got[ruleCannotExtra], "warning remaining/tingle.yaml:") || !strings.Contains(got[ruleCannotExtra], "other@supply") {
		t.Errorf("one in vain: %v", got)
	}
}

// A row that leads a danger to an all-clear by oversight is told where it stands:
// one of which the all-clear does not speak, and one that the reader could have
// excluded himself, though it is on the list of what remains.
func TestAnAllClearByOversightIsTold(t *testing.T) {
	files := clearing(t)
	files["trees/tingle.md"] = strings.Replace(files["trees/tingle.md"], "clears: [supply]", "clears: [cord]", 1)
	deep := func(list []faulttree.NotExcluded) (out []string) {
		files[load.RemainingFile("tingle")] = string(load.FormatRemaining("tingle", map[string][]faulttree.NotExcluded{"nothing": list}))
		for _, d := range Deep(context.Background(), load.FS(context.Background(), folder(files)), 300, 7, nil) {
			if d.Rule == ruleOverlooked {
				line := strings.Split(files[d.Pos.File], "\n")[d.Pos.Line-1]
				out = append(out, d.Severity.String()+" at "+strings.TrimSpace(line[d.Pos.Column-1:])+": "+d.Message)
			}
		}
		return out
	}
	const at = "warning at {v: {below: touch}, go: nothing, signal: none, label: low}: "
	if got := deep(nil); len(got) != 1 || !strings.HasPrefix(got[0], at) || !strings.HasSuffix(got[0], "walks with lost-ground@cord come this way to the all-clear tingle#nothing, which does not speak of it") {
		t.Errorf("not on the list: %q", got)
	}
	list := []faulttree.NotExcluded{{Fault: "lost-ground", Place: faulttree.Cord}}
	if got := deep(list); len(got) > 0 {
		t.Errorf("left to an electrician: %q", got)
	}
	files["faults/lost-ground.md"] = strings.Replace(files["faults/lost-ground.md"], ", by: an electrician", "", 1)
	if got := deep(list); len(got) != 1 || !strings.HasPrefix(got[0], at) || !strings.HasSuffix(got[0], "is not asked to: A loop test.") {
		t.Errorf("left to the reader: %q", got)
	}
	list[0].Seldom = true
	if got := deep(list); len(got) > 0 {
		t.Errorf("seldom: %q", got)
	}
}
