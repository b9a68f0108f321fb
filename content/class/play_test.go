package class

import (
	"bytes"
	"context"
	"testing"
	"testing/fstest"
	"time"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/archive"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
)

var shipped = load.Shipped()

// noon is when everything here happens.
var noon = time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC)

// assigned is an assignment of shipped scenarios.
func assigned(t testing.TB, own bool, ids ...string) *Assignment {
	t.Helper()
	var all []*content.Scenario
	for _, id := range ids {
		s := shipped.Scenarios[id]
		if s == nil {
			t.Fatalf("there is no scenario %s", id)
		}
		all = append(all, s)
	}
	return must.Have(NewAssignment(shipped, Assignment{Title: "Grounds", Made: noon, Due: "2026-12-04", Role: faulttree.Qualified}, all, own, 0))(t)
}

// play is an attempt at a task of an assignment: acts done one after another, as far
// as they can be, pace apart.
func play(t testing.TB, a *Assignment, task int, learner string, pace time.Duration, acts ...practice.Act) practice.Attempt {
	t.Helper()
	s := shipped.Scenarios[a.Tasks[task].Scenario]
	seed := a.Seed(task, learner)
	c := scenes.CaseOf(shipped, scenes.VariantOf(s, seed))
	out := practice.Attempt{Case: s.ID, Seed: seed, Level: a.Level, Role: a.Role, Supervised: a.Supervised, Meter: faulttree.DefaultMeter(), Rules: practice.Rules, Started: noon}
	v := must.Have(c.BeginAs(out))(t)
	for i, act := range acts {
		act.At, act.Asked = pace*time.Duration(i+1), true
		if act.Setting != (meter.Setting{}) {
			v.Set(act.Setting)
		}
		done, err := v.Do(act)
		if err != nil {
			t.Fatal(s.ID, act, err)
		}
		out = out.With(done...)
	}
	return out.Conclude(practice.Conclusion{Faults: []string{c.Truth()[0]}, At: pace * time.Duration(len(acts)+1)})
}

// usual is acts that can be done before most vehicles.
func usual() []practice.Act {
	return []practice.Act{
		{Kind: practice.Prove}, {Kind: practice.Read, Red: "body", Black: "earth"}, {Kind: practice.Read, Red: "panel.l1", Black: "panel.n"},
		{Kind: practice.Read, Red: "panel.n", Black: "panel.g"}, {Kind: practice.Read, Red: "outlet.n", Black: "outlet.g"},
	}
}

// handedIn is what a learner hands in for all tasks.
func handedIn(t testing.TB, a *Assignment, learner string, pace time.Duration) AttemptFile {
	t.Helper()
	f := AttemptFile{Learner: learner, Assignment: a.ID, Handbook: shipped.Fingerprint(), Saved: noon.Add(time.Hour)}
	for task := range a.Tasks {
		f.Attempts = append(f.Attempts, play(t, a, task, learner, pace, usual()...))
	}
	return f
}

// written is the bytes of a file.
func written(t testing.TB, f interface{ Bytes() ([]byte, error) }) []byte {
	t.Helper()
	return must.Have(f.Bytes())(t)
}

// folderOf is a folder with an assignment and some files.
func folderOf(t testing.TB, a *Assignment, files map[string][]byte) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{"handed-out.zip": {Data: written(t, a)}}
	for name, raw := range files {
		out[name] = &fstest.MapFile{Data: raw}
	}
	return out
}

// collected is the class of a folder.
func collected(t testing.TB, folder fstest.MapFS, o Options) *Class {
	t.Helper()
	return must.Have(Collect(context.Background(), shipped, folder, o))(t)
}

// archiveOf is a ZIP with entries as they are given.
func archiveOf(t testing.TB, entries ...archive.Entry) []byte {
	t.Helper()
	return must.Have(archive.Pack(entries, noon))(t)
}

// changed is a file with text of its JSON replaced, once.
func changed(t testing.TB, raw []byte, name, from, to string) []byte {
	t.Helper()
	files := must.Have(unpack(raw))(t)
	if !bytes.Contains(files[name], []byte(from)) {
		t.Fatalf("%s does not say %s:\n%s", name, from, files[name])
	}
	files[name] = bytes.Replace(files[name], []byte(from), []byte(to), 1)
	entries := lists.Each(archive.Names(files), func(n string) archive.Entry { return archive.Entry{Name: n, Text: files[n]} })
	return archiveOf(t, entries...)
}
