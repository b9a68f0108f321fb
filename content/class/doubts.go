package class

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"faultwright/content/view"
	"faultwright/faulttree/lists"
)

// Doubts is what an instructor should look at: what was edited, is like somebody
// else's, was handed in late or could not be read, a line each. What holds of several
// is said once, and of two files that are alike one line tells.
func (c *Class) Doubts() []string {
	var d, files doubts
	for i, l := range c.Learners {
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
		for _, other := range c.Learners[i+1:] {
			if at := c.alikeAt(l, other); at != "" {
				d.add(l.Name+" and "+other.Name, "the same acts at the very same times "+at+".")
			}
		}
	}
	for _, t := range c.Told {
		files.add(plain(t.File), t.Why+".")
	}
	return append(d.lines(math.MaxInt), files.lines(mostFilesNamed)...)
}

// alikeAt says at which vehicles two learners did the same acts, "" for none.
func (c *Class) alikeAt(l, other *Learner) string {
	var titles []string
	for task, x := range l.Tries {
		if x != nil && slices.Contains(x.sameActs, other) {
			titles = append(titles, "“"+c.Scenarios[task].Title+"”")
		}
	}
	switch n := len(titles); {
	case n == 0:
		return ""
	case n > 1 && n == len(c.Scenarios):
		return "at every vehicle"
	}
	return "at " + strings.Join(titles, " and ")
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
