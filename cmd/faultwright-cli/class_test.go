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
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/practice/store"

	"golang.org/x/net/html"
)

// classCommands are the commands under "Hold a class" of the readme, in order.
func classCommands(t *testing.T) [][]string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, part, _ := strings.Cut(string(text), "## Hold a class\n")
	part, _, _ = strings.Cut(part, "\n## ")
	part = strings.ReplaceAll(part, "\\\n", "")
	var out [][]string
	for _, line := range regexp.MustCompile(`(?m)^    \./faultwright-cli (.*)$`).FindAllStringSubmatch(part, -1) {
		var args []string
		for _, word := range regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(line[1], -1) {
			args = append(args, strings.Trim(word, `"`))
		}
		out = append(out, args)
	}
	if len(out) != 5 {
		t.Fatalf("the readme has %d commands for a class: %q", len(out), out)
	}
	return out
}

var (
	ohms = meter.Setting{Function: meter.Ohms}
	held = meter.Setting{Function: meter.VoltsAC, Hold: true}
)

// twelve is a class: who, and how each goes about it.
var twelve = []struct {
	name string
	how  func(truth string) []practice.Act // the readings
	says func(truth string) practice.Conclusion
}{
	{"Wren Ash", careful, rightly}, {"Finch", careful, rightly}, {"Lark", careful, rightly}, {"Linnet", hasty, rightly},
	{"Dunnock", hasty, rightly}, {"Siskin", hasty, wrongly}, {"Plover", nothing, rightly}, {"Teal", nothing, wrongly},
	{"Rail", handOn, rightly}, {"Knot", onHold, wrongly}, {"Ruff", careful, rightly}, {"=Smew", careful, rightly},
}

func careful(string) []practice.Act {
	return []practice.Act{{Kind: practice.Prove}, {Kind: practice.Read, Red: "body", Black: "earth"}, {Kind: practice.Throw, Name: "pedestal"}, {Kind: practice.Throw, Name: "plug"},
		{Kind: practice.Read, Red: "plug.g", Black: "body", Setting: ohms}, {Kind: practice.Read, Red: "plug.n", Black: "panel.n", Setting: ohms}}
}

func hasty(string) []practice.Act {
	return []practice.Act{{Kind: practice.Prove}, {Kind: practice.Read, Red: "body", Black: "earth"}, {Kind: practice.Read, Red: "panel.l1", Black: "panel.n"}}
}

func nothing(string) []practice.Act { return nil }

func handOn(string) []practice.Act {
	return []practice.Act{{Kind: practice.GoIn}, {Kind: practice.Read, Red: "panel.l1", Black: "panel.n"}}
}

func onHold(string) []practice.Act {
	return []practice.Act{{Kind: practice.Read, Red: "body", Black: "earth", Setting: held}}
}

func rightly(truth string) practice.Conclusion {
	return practice.Conclusion{Faults: []string{truth}, Sure: practice.Likely}
}

func wrongly(string) practice.Conclusion {
	return practice.Conclusion{Faults: []string{practice.NoFault}, Sure: practice.Sure}
}

// sit has a learner play scenarios before the store of the computer in dir.
func sit(t *testing.T, dir string, scenarios []string, pace time.Duration, how func(string) []practice.Act, says func(string) practice.Conclusion) {
	t.Helper()
	records, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer records.Close()
	for i, id := range scenarios {
		c := scenes.CaseOf(shipped(), shipped().Scenarios[id])
		truth := c.Truth()[0]
		f, err := records.Create(practice.Header{Case: id, Role: faulttree.Qualified, Meter: faulttree.DefaultMeter(), Started: time.Date(2026, 12, 1, 10+i, 0, 0, 0, time.UTC), Content: shipped().Fingerprint()})
		if err != nil {
			t.Fatal(err)
		}
		r, err := c.Resume(f, f.Kept())
		if err != nil {
			t.Fatal(err)
		}
		at := time.Duration(0)
		for _, act := range how(truth) {
			at += pace
			act.At, act.Asked = at, true
			if act.Setting.Function != 0 || act.Setting.Hold {
				r.Learner().Set(act.Setting)
			}
			if _, err := r.Do(act); err != nil {
				t.Fatal(id, err)
			}
		}
		end := says(truth)
		end.At = at + pace
		if err := r.Conclude(end); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
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
	if err := os.Mkdir("attempts", 0o755); err != nil {
		t.Fatal(err)
	}
	scenarios := []string{"barefoot-on-the-steel-step", "bright-over-the-sink", "dead-says-the-meter"}
	for i, l := range twelve {
		env["XDG_DATA_HOME"] = filepath.Join(dir, "computer", fmt.Sprint(i))
		sit(t, filepath.Join(env["XDG_DATA_HOME"], "faultwright", "practice"), scenarios, time.Duration(20+i)*time.Second, l.how, l.says)
		hand := slices.Clone(commands[1])
		hand[slices.Index(hand, "Wren Ash")] = l.name
		hand[slices.Index(hand, "wren.zip")] = filepath.Join("attempts", fmt.Sprintf("%d.zip", i))
		do(hand)
	}
	for from, to := range map[string]string{"week-1.zip": "attempts/week-1.zip", "attempts/0.zip": "attempts/wren.zip"} {
		if err := os.Rename(from, to); err != nil {
			t.Fatal(err)
		}
	}
	doctored(t, "attempts/10.zip", "attempts/10.zip", `"shown": "`, `"shown": "9`)
	doctored(t, "attempts/wren.zip", "attempts/11.zip", `"Wren Ash"`, `"=Smew"`)

	page := do(commands[2])
	for _, want := range []string{"12 learners handed in 36 attempts at 3 scenarios; 35 have a conclusion and verify. Edited by hand: 1.", "≠", "The first line that does not follow is act 1.", "were done at the very same times as those of Wren Ash."} {
		if !strings.Contains(strings.Join(strings.Fields(page), " "), want) {
			t.Errorf("the class does not say %q:\n%s", want, page)
		}
	}
	hidden := do(commands[3])
	for _, l := range twelve {
		if strings.Contains(hidden, l.name) || strings.Contains(read(t, "table.html"), l.name) {
			t.Errorf("with names hidden the table says %s", l.name)
		}
		if !strings.Contains(page, l.name) || !strings.Contains(read(t, "class.html"), l.name) {
			t.Errorf("the class does not say %s", l.name)
		}
	}
	if got := do(commands[4]); !strings.Contains(got, "Wren Ash: Grounds and neutrals") || !strings.Contains(got, "Bright over the sink") || strings.Contains(got, "Barefoot") {
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
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
