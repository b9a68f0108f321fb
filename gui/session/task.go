package session

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/practice"
	attempts "faultwright/faulttree/practice/store"
)

// Task is a scenario of an assignment as one learner has it.
type Task struct {
	Assignment *class.Assignment
	Learner    string
	Scenario   *content.Scenario // the learner's own variant
	Header     practice.Header   // how an attempt at it begins
	Mine       map[string]bool   // ids of attempts on record that are the learner's, where everybody has the same vehicle
}

// Own reports whether every learner has a vehicle of his own, which tells whose an
// attempt is.
func (t Task) Own() bool {
	i, ok := t.Assignment.Task(t.Scenario.ID)
	return ok && t.Assignment.Tasks[i].Own
}

// Assign takes a task in hand; its scenario is that of [Session.Task].
func (s *Session) Assign(t Task) {
	if s.tasks == nil {
		s.tasks = map[string]Task{}
	}
	s.tasks[t.Scenario.ID] = t
}

// Task is the task in hand at a scenario.
func (s *Session) Task(scenario string) (t Task, ok bool) {
	t, ok = s.tasks[scenario]
	return t, ok
}

// TakePart says which assignment a learner has open, with its scenarios as the handbook in
// use reads them; nil for none. It stays open when the handbook is read again.
func (s *Session) TakePart(a *class.Assignment, scenarios []*content.Scenario) {
	s.assignment, s.assigned = a, scenarios
}

// TakesPart is the assignment that a learner has open, and its scenarios; nil for none.
func (s *Session) TakesPart() (*class.Assignment, []*content.Scenario) {
	return s.assignment, s.assigned
}

// handedAgain reads what was handed out, and what of it is in hand, with the handbook that
// is in use now instead of the one before. What cannot be read with it is let go of, and
// told; what was done at it stays on record.
func (s *Session) handedAgain(before *content.Library) (said string) {
	files := s.handed
	s.handed = map[string]*content.Scenario{}
	for _, id := range slices.Sorted(maps.Keys(files)) {
		text := load.ScenarioText(before, files[id])
		again, _ := load.Scenario(context.Background(), s.book, id+".md", strings.NewReader(text), nil)
		if again == nil || again.ID != id {
			said = join(said, "The scenario “"+files[id].Title+"” was opened from a file and cannot be read with this handbook.")
			continue
		}
		s.handed[id] = again
	}
	tasks := s.tasks
	s.tasks = nil
	if s.assignment == nil {
		return said
	}
	var err error
	if s.assigned, err = s.assignment.Scenarios(context.Background(), s.book); err != nil {
		said = join(said, "The assignment “"+s.assignment.Title+"” is closed, and what was done at it is on record. "+view.Sentence(view.Capital(err.Error())))
		s.TakePart(nil, nil)
		return said
	}
	for id, t := range tasks {
		if i, ok := s.assignment.Task(id); ok && t.Assignment == s.assignment {
			t.Scenario = scenes.VariantOf(s.assigned[i], t.Header.Seed)
			s.Assign(t)
		}
	}
	return said
}

// Assigned is the assignment that is open, where a scenario is one of its vehicles, in
// whatever variant; nil where it is not.
func (s *Session) Assigned(scenario string) *class.Assignment {
	if s.assignment != nil {
		if _, ok := s.assignment.Task(scenario); ok {
			return s.assignment
		}
	}
	return nil
}

// DropTasks lets go of all tasks in hand; what was done at them stays on record.
func (s *Session) DropTasks() { s.tasks = nil }

// errUnkept means that there is no folder of attempts.
var errUnkept = errors.New("attempts are not kept on this computer, so there is nothing to hand in")

// AttemptsOf lists the attempts on record that a learner may have made at an
// assignment, the newest first. Where everybody has the same vehicle, and it
// is not on record whose they are, somebody else's at this computer are among them.
func (s *Session) AttemptsOf(a *class.Assignment, learner string) ([]attempts.Summary, error) {
	if s.options.Practice == nil {
		return nil, errUnkept
	}
	all, err := s.options.Practice.List()
	return slices.DeleteFunc(all, func(x attempts.Summary) bool {
		_, ok := a.Belongs(practice.Attempt{Case: x.Header.Case, Seed: x.Header.Seed, Level: x.Header.Level, Role: x.Header.Role, Supervised: x.Header.Supervised}, learner)
		return x.Err != nil || !ok || x.Header.For != "" && x.Header.For != a.For(learner)
	}), err
}

// HandIn puts attempts on record into the file of a learner; missing is the tasks
// without a conclusion.
func (s *Session) HandIn(a *class.Assignment, learner string, ids []string) (raw []byte, missing []int, err error) {
	if s.options.Practice == nil {
		return nil, nil, errUnkept
	}
	var tries []practice.Attempt
	for _, id := range ids {
		kept, err := s.options.Practice.Read(id)
		if err != nil {
			return nil, nil, err
		}
		tries = append(tries, kept.Attempt)
	}
	f, missing := a.HandIn(s.book, learner, tries, s.clock())
	if len(f.Attempts) == 0 {
		return nil, missing, errors.New("no attempt at this assignment was chosen")
	}
	raw, err = f.Bytes()
	return raw, missing, err
}
