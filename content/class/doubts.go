package class

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"faultwright/content/view"
	"faultwright/faulttree/lists"
)

// Doubts is what an instructor should look at: what was edited, is like somebody
// else's, was handed in late or could not be read, a line each. What holds of several
// is said once, and of files that are alike one line tells.
func (c *Class) Doubts() []string {
	var d, files doubts
	for _, l := range c.Learners {
		if l.Late {
			d.add(l.Name, fmt.Sprintf("saved on %s, after the day it was due, by the clock of that computer.", l.Saved.Format("2006-01-02")))
		}
		for _, r := range l.Remarks {
			d.add(l.Name, r)
		}
		for task, x := range l.Tries {
			if x == nil {
				continue
			}
			at := fmt.Sprintf("%s, %s", l.Name, c.Scenarios[task].Title)
			for _, text := range append([]string{x.Edited, x.Unmarked}, x.foreign...) {
				d.add(at, text)
			}
		}
	}
	c.addAlike(&d)
	for _, t := range c.Told {
		files.add(plain(t.File), t.Why+".")
	}
	return append(d.lines(math.MaxInt), files.lines(mostFilesNamed)...)
}

// addAlike adds whose acts are the same, all of them together.
func (c *Class) addAlike(d *doubts) {
	alike := lists.Each(c.Learners, c.alike)
	for i, l := range c.Learners {
		earlier := map[string]map[*Learner]string{} // with whom the first one is alike that is alike here, too
		for k := i - 1; k >= 0; k-- {
			if at := alike[k][l]; at != "" {
				earlier[at] = alike[k]
			}
		}
		with := map[string][]string{}
		for _, other := range c.Learners[i+1:] {
			if at := alike[i][other]; at != "" && earlier[at][other] != at {
				with[at] = append(with[at], other.Name)
			}
		}
		for _, at := range slices.Sorted(maps.Keys(with)) {
			d.add(l.Name+" and "+strings.Join(with[at], " and "), "the same acts at the very same times "+at+".")
		}
	}
}

// alike is whose acts are the same as a learner's, and at which vehicles, in words.
func (c *Class) alike(l *Learner) map[*Learner]string {
	titles := map[*Learner][]string{}
	for task, x := range l.Tries {
		if x == nil {
			continue
		}
		for _, other := range x.sameActs {
			titles[other] = append(titles[other], "“"+c.Scenarios[task].Title+"”")
		}
	}
	out := map[*Learner]string{}
	for other, at := range titles {
		out[other] = "at " + strings.Join(at, " and ")
		if len(at) > 1 && len(at) == len(c.Scenarios) {
			out[other] = "at every vehicle"
		}
	}
	return out
}

// doubts gathers lines, each with all of whom it holds.
type doubts struct {
	texts []string
	of    map[string][]string
}

func (d *doubts) add(who, text string) {
	if text == "" {
		return
	}
	if d.of == nil {
		d.of = map[string][]string{}
	}
	if d.of[text] == nil {
		d.texts = append(d.texts, text)
	}
	d.of[text] = append(d.of[text], who)
}

// mostFilesNamed is how many files are named of which a line holds.
const mostFilesNamed = 4

// lines are what was gathered, each with the first most of whom it holds.
func (d *doubts) lines(most int) []string {
	return lists.Each(d.texts, func(text string) string {
		who := d.of[text]
		named := strings.Join(who[:min(len(who), most)], "; ")
		if more := len(who) - most; more > 0 {
			named += " and " + view.Count(more, "other")
		}
		return named + ": " + text
	})
}
