package paper

import (
	"fmt"
	"io"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/faulttree/mark"
)

// returned is what goes back about one attempt.
type returned struct {
	Title, Shape, Word, Total, Edited string
	Unsafe                            []string
	Parts                             []mark.Part
	Acts                              []actLine
	Answer, Lesson, Read              string
}

// actLine is an act and what came of it, or what was told or said between.
type actLine struct {
	Number, At, What, Came string
}

// Feedback writes what goes back to one learner: the marks with their reasons, what
// was done, and what it was. It names nobody else.
func Feedback(w io.Writer, lib *content.Library, c *class.Class, l *class.Learner) error {
	page := struct {
		For   string
		Cases []returned
	}{For: "For " + l.Name + ". Marks say what the readings of this attempt showed, and no more."}
	for _, x := range l.Tries {
		if x == nil {
			continue
		}
		s := x.Scenario
		one := returned{Title: s.Title, Edited: x.Edited, Answer: s.Answer, Lesson: s.Lesson, Acts: actLines(lib, x)}
		one.Shape, one.Word = x.State()
		if x.Edited != "" && x.Elsewhere {
			one.Edited += " Another handbook was used for it, so that nobody need have changed anything."
		}
		if m := x.Marks; m != nil {
			one.Total, one.Parts = x.Total(), m.Parts
			var read []string
			for _, cap := range m.Caps {
				one.Unsafe = append(one.Unsafe, cap.Text)
			}
			for _, id := range m.Missed() {
				read = append(read, cardTitle(lib, id))
			}
			one.Read = strings.Join(read, "; ")
		}
		page.Cases = append(page.Cases, one)
	}
	return write(w, "feedback.html", "Feedback", c.Assignment.Title, page)
}

// actLines are the acts of an attempt in words.
func actLines(lib *content.Library, x *class.Checked) []actLine {
	var out []actLine
	for _, s := range class.Replay(lib, x, nil) {
		line := actLine{"", Clock(s.At), s.What, s.Came}
		if s.Number > 0 {
			line.Number = fmt.Sprint(s.Number)
		}
		out = append(out, line)
	}
	return out
}

// Clock is a time since the attempt began: "4:07".
func Clock(d time.Duration) string {
	s := int(d.Round(time.Second) / time.Second)
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// FeedbackName is the name of a learner's file, not taken yet on disks that do not tell
// capitals.
func FeedbackName(learner string, taken map[string]bool) string {
	name := class.FileName("feedback", learner)
	try := name
	for n := 2; taken[strings.ToLower(try)]; n++ {
		try = fmt.Sprintf("%s-%d", name, n)
	}
	taken[strings.ToLower(try)] = true
	return try + ".html"
}
