package session

import (
	"errors"
	"slices"

	"faultwright/content"
	"faultwright/content/class"
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

// Assign takes a task in hand, for as long as the handbook in use is; its scenario is
// that of [Session.Task].
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

// TakePart says which assignment a learner has open; nil for none.
func (s *Session) TakePart(a *class.Assignment) { s.assignment = a }

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
		_, ok := a.Belongs(practice.Attempt{Case: x.Header.Case, Seed: x.Header.Seed, Level: x.Header.Level, Role: x.Header.Role}, learner)
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
