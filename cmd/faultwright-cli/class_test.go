package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/practice/store"
	"faultwright/faulttree/scripted"

	"golang.org/x/net/html"
)

// classCommands are the commands under "Hold a class" of the readme, in order.
func classCommands(t *testing.T) [][]string {
	t.Helper()
	text := must.Have(os.ReadFile("../../README.md"))(t)
	_, part, _ := strings.Cut(string(text), "## Hold a class\n")
	part, _, _ = strings.Cut(part, "\n## ")
	part = strings.ReplaceAll(part, "\\\n", "")
	var out [][]string
	for _, line := range regexp.MustCompile(`(?m)^    \./faultwright-cli (.*)$`).FindAllStringSubmatch(part, -1) {
		args := lists.Each(regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(line[1], -1), func(word string) string { return strings.Trim(word, `"`) })
		out = append(out, args)
	}
	if len(out) != 6 {
		t.Fatalf("the readme has %d commands for a class: %q", len(out), out)
	}
	return out
}

// twelve is a class. They go about it in four ways.
var twelve = []string{"Wren Ash", "Finch", "Lark", "Linnet", "Dunnock", "Siskin", "Plover", "Teal", "Rail", "Knot", "Ruff", "=Smew"}

// sit has a learner play scenarios on a computer that keeps attempts in dir.
func sit(t *testing.T, dir string, scenarios []string, i int, beliefs *mark.Beliefs) {
	t.Helper()
	records := must.Have(store.Open(dir))(t)
	defer records.Close()
	kinds := scripted.Kinds()
	for n, id := range scenarios {
		s, m := shipped().Scenarios[id], faulttree.DefaultMeter()
		c := scenes.CaseOf(shipped(), s)
		try, err := scripted.Play(context.Background(), kinds[i%len(kinds)], c, faulttree.Qualified, m, scenes.MarkBook(shipped(), s, beliefs), uint64(i))
		if err != nil {
			t.Fatal(id, err)
		}
		f := must.Have(records.Create(practice.Header{Case: id, Role: faulttree.Qualified, Meter: m, Started: time.Date(2026, 12, 1, 10+n, 0, 0, 0, time.UTC), Content: shipped().Fingerprint()}))(t)
		r := must.Have(c.Resume(f, f.Record()))(t)
		record(t, r, try, time.Duration(100+i))
		must.Do(t, f.Close())
	}
}

// record puts an attempt on record, at a pace in hundredths of its own.
func record(t *testing.T, r *practice.Recorder, try practice.Attempt, pace time.Duration) {
	t.Helper()
	for i, act := range try.Acts {
		if try.Repaired > 0 && i == try.Repaired {
			conclude(t, r, try, pace)
		}
		if act.Reads() {
			r.Learner().Set(act.Setting)
		}
		act.At = (act.At + time.Duration(i+1)*time.Second) * pace / 100
		must.Have(r.Do(act))(t)
	}
	if !r.Attempt().Ended() {
		conclude(t, r, try, pace)
	}
}

func conclude(t *testing.T, r *practice.Recorder, try practice.Attempt, pace time.Duration) {
	t.Helper()
	end := *try.Conclusion
	end.At = (end.At + time.Duration(len(try.Acts)+1)*time.Second) * pace / 100
	err := r.Conclude(end)
	if err == nil && try.Repaired > 0 {
		err = r.Repair()
	}
	if err != nil {
		t.Fatal(err)
	}
}

// A class of twelve is held by the commands of the readme alone: the assignment is
// made, twelve attempts by learners of different kinds come in, of which one is
// edited and one copied, and they are marked, tabled, replayed and given back.
func TestAClassOfTwelve(t *testing.T) {
	commands := classCommands(t)
	dir := t.TempDir()
	t.Chdir(dir)
	env := map[string]string{"SOURCE_DATE_EPOCH": "1796122800", "COLUMNS": "100"} // 1 December 2026, 11:00
	do := func(args []string) string {
		t.Helper()
		var out, errs bytes.Buffer
		begun := time.Now()
		if code := run(context.Background(), args, strings.NewReader(""), &out, &errs, func(key string) string { return env[key] }); code != exitFine {
			t.Fatalf("%q exits %d: %s", args, code, errs.String())
		}
		t.Logf("%s took %v", args[0], time.Since(begun).Round(time.Millisecond))
		return out.String()
	}
	do(commands[0])
	env["XDG_DATA_HOME"] = filepath.Join(dir, "computer", "of one who stops at once")
	var played bytes.Buffer
	if code := run(context.Background(), commands[1], strings.NewReader("quit\n"), &played, &played, func(key string) string { return env[key] }); code != exitRanOut || !strings.Contains(played.String(), "You stop here") {
		t.Errorf("%q exits %d: %s", commands[1], code, played.String())
	}
	must.Do(t, os.Mkdir("attempts", 0o755))
	scenarios := commands[0][1:4]
	beliefs := scenes.NewBeliefs(shipped(), faulttree.DefaultMeter())
	for i, name := range twelve {
		env["XDG_DATA_HOME"] = filepath.Join(dir, "computer", fmt.Sprint(i))
		sit(t, filepath.Join(env["XDG_DATA_HOME"], "faultwright", "practice"), scenarios, i, beliefs)
		hand := slices.Clone(commands[2])
		hand[slices.Index(hand, "Wren Ash")] = name
		hand[slices.Index(hand, "wren.zip")] = filepath.Join("attempts", fmt.Sprintf("%d.zip", i))
		do(hand)
	}
	for from, to := range map[string]string{"week-1.zip": "attempts/week-1.zip", "attempts/0.zip": "attempts/wren.zip"} {
		must.Do(t, os.Rename(from, to))
	}
	doctored(t, "attempts/10.zip", "attempts/10.zip", `"shown": "`, `"shown": "9`)
	doctored(t, "attempts/wren.zip", "attempts/11.zip", `"Wren Ash"`, `"=Smew"`)

	page := do(commands[3])
	for _, want := range []string{"12 learners handed in 36 attempts at 3 scenarios; 35 have a conclusion and verify. Edited by hand: 1.", "≠", "The first line that does not follow is act ", "=Smew and Wren Ash: the same acts at the very same times at every vehicle."} {
		if !strings.Contains(strings.Join(strings.Fields(page), " "), want) {
			t.Errorf("the class does not say %q:\n%s", want, page)
		}
	}
	hidden := do(commands[4])
	for _, name := range twelve {
		if strings.Contains(hidden, name) || strings.Contains(read(t, "table.html"), name) {
			t.Errorf("with names hidden the table says %s", name)
		}
		if !strings.Contains(page, name) || !strings.Contains(read(t, "class.html"), name) {
			t.Errorf("the class does not say %s", name)
		}
	}
	if got := do(commands[5]); !strings.Contains(got, "Wren Ash: Twelve volts") || !strings.Contains(got, shipped().Scenarios["lamps-like-candles"].Title) || strings.Contains(got, shipped().Scenarios["flat-by-breakfast"].Title) {
		t.Errorf("the replay is\n%s", got)
	}
	lines, err := csv.NewReader(strings.NewReader(read(t, "marks.csv"))).ReadAll()
	if err != nil || len(lines) != 1+12*3 {
		t.Errorf("%d lines of marks, %v", len(lines), err)
	}
	back, err := filepath.Glob("feedback/*.html")
	if err != nil || len(back) != 12 {
		t.Errorf("%d pages of feedback, %v", len(back), err)
	}
	for _, name := range append(back, "class.html", "table.html", "handout.html", "key.html") {
		if _, err := html.Parse(strings.NewReader(read(t, name))); err != nil || !strings.Contains(read(t, name), "</html>") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func read(t *testing.T, name string) string {
	t.Helper()
	text := must.Have(os.ReadFile(name))(t)
	return string(text)
}
