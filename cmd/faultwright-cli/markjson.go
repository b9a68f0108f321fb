package main

import (
	"faultwright/content/class"
	"faultwright/faulttree/practice"
)

// jsonClassOf is a class as programs read it.
func jsonClassOf(all *class.Class, hidden bool) jsonClass {
	gaps := all.Gaps()
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
