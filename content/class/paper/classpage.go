package paper

import (
	"fmt"
	"io"
	"strings"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
)

// GapList is a list of what a class has yet to learn.
type GapList struct {
	Heading, What string
	Gaps          []GapLine
}

// GapLine is one thing, who has it, and how often.
type GapLine struct {
	Text, Who string
	Times     int
}

// mostGaps is how many of a kind are listed.
const mostGaps = 8

// Class writes the class on one page. With names hidden nobody on it can be told,
// and nothing on it says whose file is like whose.
func Class(w io.Writer, lib *content.Library, c *class.Class, hidden bool) error {
	page := struct {
		Summary, Handbook string
		Table             class.Table
		Legend            []string
		Lists             []GapList
		Doubts            []string
	}{Summary(c), c.Handbook, c.Table(hidden), class.Legend(), GapLists(lib, c, hidden), nil}
	if !hidden {
		page.Doubts = c.Doubts()
	}
	return write(w, "class.html", "Class", c.Assignment.Title, page)
}

// Summary says in a sentence or two what was handed in.
func Summary(c *class.Class) string {
	if len(c.Learners) == 0 {
		return "Nobody has handed in anything at this assignment yet."
	}
	tries, edited, elsewhere, ended := 0, 0, 0, 0
	for _, l := range c.Learners {
		for _, x := range l.Tries {
			switch {
			case x == nil:
			case x.Edited != "" && x.Elsewhere:
				tries, elsewhere = tries+1, elsewhere+1
			case x.Edited != "":
				tries, edited = tries+1, edited+1
			default:
				tries++
				if x.Attempt.Ended() {
					ended++
				}
			}
		}
	}
	text := fmt.Sprintf("%s handed in %s at %s; %d have a conclusion and verify.", view.Count(len(c.Learners), "learner"), view.Count(tries, "attempt"), view.Count(len(c.Scenarios), "scenario"), ended)
	if elsewhere > 0 {
		text += fmt.Sprintf(" %d do not follow, and were not handed out or not made with this handbook.", elsewhere)
	}
	if edited > 0 {
		text += fmt.Sprintf(" Edited by hand: %d.", edited)
	}
	a := c.Assignment
	return text + " They worked as " + rolesWords[practice.RoleName(a.Role, a.Supervised)] + "."
}

// GapLists are the gaps of a class in words, without the names of the learners where
// these are hidden.
func GapLists(lib *content.Library, c *class.Class, hidden bool) []GapList {
	g := c.Gaps(lib)
	var out []GapList
	add := func(heading, what string, gaps []class.Gap, word func(class.Gap) string) {
		list := GapList{Heading: heading, What: what}
		for _, gap := range gaps[:min(mostGaps, len(gaps))] {
			list.Gaps = append(list.Gaps, GapLine{word(gap), who(c, gap, hidden), gap.Times})
		}
		if len(list.Gaps) > 0 {
			out = append(out, list)
		}
	}
	text := func(gap class.Gap) string { return gap.Text }
	add("Unsafe acts", "What", g.Unsafe, text)
	add("Concepts missed", "What, and the card that explains it", g.Missed, func(gap class.Gap) string { return gap.Text + ": “" + cardTitle(lib, gap.ID) + "”" })
	add("Most common wrong readings", "Reading", g.Wrong, text)
	add("Concluded before the readings held it", "Scenario", g.Early, text)
	return out
}

// who is how many of the class they are, with their names where these are not hidden
// and it is not all of them.
func who(c *class.Class, gap class.Gap, hidden bool) string {
	of := fmt.Sprintf("%d of %d", len(gap.Learners), len(c.Learners))
	if hidden || len(gap.Learners) == len(c.Learners) {
		return of
	}
	names := lists.Each(gap.Learners, func(l *class.Learner) string { return l.Name })
	return of + ": " + strings.Join(names, "; ") // a name may have a comma
}

// cardTitle is the title of the card or caution of a concept.
func cardTitle(lib *content.Library, id string) string {
	if link, ok := view.LinkTo(lib, id); ok {
		return strings.TrimSuffix(link.Title, ".")
	}
	return scenes.FaultTitle(lib, id)
}
