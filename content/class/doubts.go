package class

import "fmt"

// Doubts is what an instructor should look at: what was edited, is like somebody
// else's, was handed in late or could not be read, a sentence each.
func (c *Class) Doubts() []string {
	var out []string
	for _, l := range c.Learners {
		if l.Late {
			out = append(out, fmt.Sprintf("%s: saved on %s, after the day it was due, by the clock of that computer.", l.Name, l.Saved.Format("2006-01-02")))
		}
		for _, r := range l.Remarks {
			out = append(out, l.Name+": "+r)
		}
		for task, x := range l.Tries {
			if x == nil {
				continue
			}
			at := fmt.Sprintf("%s, %s: ", l.Name, c.Scenarios[task].Title)
			if x.Edited != "" {
				out = append(out, at+x.Edited)
			}
			if x.Unmarked != "" {
				out = append(out, at+x.Unmarked)
			}
			for _, text := range x.Copied {
				out = append(out, at+text)
			}
		}
	}
	for _, t := range c.Told {
		out = append(out, fmt.Sprintf("%s: %s.", plain(t.File), t.Why))
	}
	return out
}
