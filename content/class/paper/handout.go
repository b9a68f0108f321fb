package paper

import (
	"io"
	"strings"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
)

// HonestLine is said wherever an assignment is made or handed out.
const HonestLine = "What is hidden stands in the file that was handed out: whoever unpacks it can read the answers. It is for practice, and no proof in an exam that nobody watches."

// Handout writes what the learners get on paper: the stories, and what is allowed.
func Handout(w io.Writer, a *class.Assignment, scenarios []*content.Scenario) error {
	return write(w, "handout.html", "Assignment", a.Title, struct {
		Assignment              *class.Assignment
		Scenarios               []*content.Scenario
		Terms, Terminal, Honest string
		Steps                   []string
	}{a, scenarios, Terms(a), terminalLine(a), HonestLine, steps(a)})
}

// steps is how a learner goes about an assignment, from the file that he is given to the
// file that he hands in.
func steps(a *class.Assignment) []string {
	by := "."
	if a.Due != "" {
		by = ", by " + string(a.Due) + "."
	}
	return []string{
		"Open the program, then Practice, A class and Take part, and choose the file that you were given.",
		"Type your name, the same each time. It is all that your file says of you.",
		"Go to each vehicle, read it and say what you conclude. The first conclusion at a vehicle counts.",
		"After a break, open the same file and type the same name: a vehicle is as you left it.",
		"Save the file to hand in, and hand in that one file" + by,
	}
}

// terminalLine is the same for a learner without a window.
func terminalLine(a *class.Assignment) string {
	ids := lists.Each(a.Tasks, func(t class.Task) string { return t.Scenario })
	return `In a terminal: faultwright-cli scenario play VEHICLE --assignment FILE --name "NAME" for each VEHICLE of ` + strings.Join(ids, ", ") +
		`, then faultwright-cli hand-in FILE --name "NAME".`
}

// Terms says under what conditions an assignment is done, in sentences.
func Terms(a *class.Assignment) string {
	var open []string
	for _, o := range []struct {
		is   bool
		what string
	}{{a.Open.Tree, "the walk beside it"}, {a.Open.Handbook, "the handbook"}, {a.Open.Hints, "hints"}} {
		if o.is {
			open = append(open, o.what)
		}
	}
	out := []string{levelWords[a.Level], "You work as " + roleWords[practice.RoleName(a.Role, a.Supervised)] + "."}
	if len(open) > 0 {
		out = append(out, "Open to you: "+strings.Join(open, ", ")+".")
	}
	if !a.Open.Handbook { // no page of it is locked: somebody may need it in earnest
		out = append(out, "Leave the handbook and “What fits” closed; nothing locks them but you.")
	}
	if a.Held {
		out = append(out, "The look back comes with the feedback.")
	} else {
		out = append(out, "The look back is shown at once.")
	}
	if a.Tasks[0].Own {
		out = append(out, "Everybody gets a vehicle of his own: the numbers of your neighbour are not yours.")
	}
	if a.Due != "" {
		out = append(out, "Due on "+string(a.Due)+".")
	}
	return strings.Join(out, " ")
}

var levelWords = map[practice.Level]string{
	practice.Free: "Nothing helps you on the way.", practice.Guided: "A hint can be asked for, and is counted.", practice.Worked: "Each step is shown; you say first what it will read and what that tells.",
}

// rolesWords is as whom a class works.
var rolesWords = map[string]string{"owner": "owners", "trainee": "trainees, with somebody qualified beside them", "qualified": "qualified people"}

// roleWords is as whom a learner works, in what he is told.
var roleWords = map[string]string{
	"owner": "an owner, without access to enclosures", "qualified": "a qualified person",
	"trainee": "a trainee: you may read what a qualified person may, with one beside you at everything live, and repair nothing",
}
