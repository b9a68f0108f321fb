package main

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/faulttree/practice"
)

// printClass writes the table of a class, what it has yet to learn, and what to look
// at oneself.
func (p *program) printClass(lib *content.Library, all *class.Class, hidden bool) {
	g := p.page(p.out)
	g.title(all.Assignment.Title)
	g.para("", paper.Summary(all))
	if all.Handbook != "" {
		g.para("", all.Handbook)
	}
	if len(all.Learners) > 0 {
		g.blank()
		g.classTable(all.Table(hidden))
		g.blank()
		for _, line := range class.Legend() {
			g.para("  ", line)
		}
	}
	for _, list := range paper.GapLists(lib, all, hidden) {
		g.blank()
		g.para("", list.Heading)
		for _, gap := range list.Gaps {
			g.hanging("- ", "  ", fmt.Sprintf("%s (%s)", gap.Text, gap.Who))
		}
	}
	if doubts := all.Doubts(); len(doubts) > 0 && !hidden {
		g.blank()
		g.para("", "For you to look at")
		for _, text := range doubts {
			g.hanging("- ", "  ", text)
		}
	}
}

// classTable writes learners by scenarios, the scenarios by number.
func (g page) classTable(t class.Table) {
	for i, title := range t.Columns {
		g.hanging(fmt.Sprintf("%3d  ", i+1), "     ", title)
	}
	g.blank()
	widest := len("Learner")
	for _, r := range t.Rows {
		widest = max(widest, min(24, utf8.RuneCountInString(clean(r.Name))))
	}
	const cell = 9
	line := padded("Learner", widest)
	for i := range t.Columns {
		line += "  " + padded(fmt.Sprint(i+1), cell)
	}
	fmt.Fprintln(g.w, strings.TrimRight(line, " "))
	for _, r := range t.Rows {
		line := padded(clean(r.Name), widest)
		for _, c := range r.Cells {
			line += "  " + padded(c.Short(), cell)
		}
		if r.Late {
			line += "  late"
		}
		fmt.Fprintln(g.w, strings.TrimRight(line, " "))
	}
}

// padded is text cut or filled to so many characters.
func padded(text string, width int) string {
	runes := []rune(text)
	if len(runes) > width {
		return string(runes[:width-1]) + "…"
	}
	return text + strings.Repeat(" ", width-len(runes))
}

// jsonClass is a class as programs read it.
type jsonClass struct {
	Assignment string        `json:"assignment"` // id
	Title      string        `json:"title"`
	Scenarios  []string      `json:"scenarios"`
	Handbook   string        `json:"handbook,omitempty"` // that it differs, a sentence
	Learners   []jsonLearner `json:"learners"`
	Missed     []jsonGap     `json:"concepts_missed"`
	Unsafe     []jsonGap     `json:"unsafe_acts"`
	Wrong      []jsonGap     `json:"wrong_readings"`
	Early      []jsonGap     `json:"concluded_early"`
	Told       []jsonTold    `json:"other_files"`
}

type jsonLearner struct {
	Name     string        `json:"name"`
	File     string        `json:"file,omitempty"`
	Saved    time.Time     `json:"saved"`
	Late     bool          `json:"late"`
	Attempts []jsonAttempt `json:"attempts"`
	Remarks  []string      `json:"remarks,omitempty"`
}

// jsonAttempt is an attempt; Total is null where nothing is marked or concluded.
type jsonAttempt struct {
	Scenario string       `json:"scenario"`
	Variant  uint64       `json:"variant"`
	State    string       `json:"state"`
	Total    *int         `json:"total"`
	Unsafe   []jsonUnsafe `json:"unsafe"`
	Parts    []jsonPart   `json:"parts"`
	Edited   string       `json:"edited,omitempty"`
	Copied   []string     `json:"copied,omitempty"`
}

type jsonUnsafe struct {
	Rule string `json:"rule"`
	Act  int    `json:"act"` // its number
	Text string `json:"text"`
}

type jsonPart struct {
	Part   string `json:"part"`
	Points int    `json:"points"`
	Of     int    `json:"of"`
	Reason string `json:"reason"`
	Acts   []int  `json:"acts"` // their numbers
}

type jsonGap struct {
	ID       string `json:"id,omitempty"`
	Text     string `json:"text,omitempty"`
	Learners int    `json:"learners"`
	Times    int    `json:"times"`
}

type jsonTold struct {
	File string `json:"file"`
	Why  string `json:"why"`
}

// jsonClassOf is a class as programs read it.
func jsonClassOf(lib *content.Library, all *class.Class, hidden bool) jsonClass {
	gaps := all.Gaps(lib)
	out := jsonClass{
		Assignment: all.Assignment.ID, Title: all.Assignment.Title, Handbook: all.Handbook, Learners: []jsonLearner{}, Told: []jsonTold{},
		Missed: jsonGaps(gaps.Missed), Unsafe: jsonGaps(gaps.Unsafe), Wrong: jsonGaps(gaps.Wrong), Early: jsonGaps(gaps.Early),
	}
	for _, s := range all.Scenarios {
		out.Scenarios = append(out.Scenarios, s.ID)
	}
	for _, l := range all.Ordered(hidden) {
		one := jsonLearner{Name: all.Called(l, hidden), Saved: l.Saved, Late: l.Late}
		if !hidden {
			one.File, one.Remarks = l.File, l.Remarks
		}
		for task, x := range l.Tries {
			one.Attempts = append(one.Attempts, jsonAttemptOf(all.Scenarios[task].ID, x, hidden))
		}
		out.Learners = append(out.Learners, one)
	}
	if !hidden {
		for _, t := range all.Told {
			out.Told = append(out.Told, jsonTold(t))
		}
	}
	return out
}

func jsonAttemptOf(scenario string, x *class.Checked, hidden bool) jsonAttempt {
	_, state := x.State()
	out := jsonAttempt{Scenario: scenario, State: state, Unsafe: []jsonUnsafe{}, Parts: []jsonPart{}}
	if x == nil {
		return out
	}
	out.Variant, out.Edited = x.Attempt.Seed, x.Edited
	if !hidden { // it names others
		out.Copied = x.Copied
	}
	if x.Marks == nil {
		return out
	}
	if x.Attempt.Ended() {
		out.Total = &x.Marks.Total
	}
	for _, c := range x.Marks.Caps {
		out.Unsafe = append(out.Unsafe, jsonUnsafe{string(c.Rule), practice.Number(c.Act), c.Text})
	}
	for _, part := range x.Marks.Parts {
		acts := []int{}
		for _, act := range part.Acts {
			acts = append(acts, practice.Number(act))
		}
		out.Parts = append(out.Parts, jsonPart{part.ID, part.Points, part.Of, part.Reason, acts})
	}
	return out
}

func jsonGaps(gaps []class.Gap) []jsonGap {
	out := []jsonGap{}
	for _, g := range gaps {
		out = append(out, jsonGap{g.ID, g.Text, len(g.Learners), g.Times})
	}
	return out
}
