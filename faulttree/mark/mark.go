package mark

import (
	"context"
	"errors"
	"fmt"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/rubric"
	"faultwright/faulttree/suspect"
)

// Book is what marking takes from a handbook and from the scenario.
type Book struct {
	Forest   *faulttree.Forest
	Faults   []*rig.Fault // the catalogue
	Describe suspect.Describe
	Rubric   rubric.Rubric
	Beliefs  *Beliefs
	Shock    bool           // somebody in the story was shocked, or felt a tingle
	Tree     string         // whose complaint the customer comes with, "" for none
	Seen     []suspect.Seen // what he says was seen
	Expect   Expectation    // of a good conclusion, where the documents of the faults say otherwise
	// Stored is the best order for a role where it was worked out before; nil where none
	// was.
	Stored func(faulttree.Role) (Order, bool)
	// Best works out the best order for the case, once it is needed; nil: [Best] does,
	// for this case alone.
	Best func(context.Context) (Order, error)
}

// Expectation is what a good conclusion says. What is empty follows from the
// faults of the case and their documents.
type Expectation struct {
	Place    faulttree.Place
	Do       string
	RepairBy string
	Open     []faulttree.FaultAt
}

// Marks is how an attempt is marked.
type Marks struct {
	Caps  []Cap
	Parts []Part
	Guess bool    // what was concluded is right, and the readings do not hold it, or not wholly
	Held  float64 // share that the readings give to what is to be done by the conclusion
	Asked float64 // share from which it counts as held
	Bound int     // the most that a guess gets; it says nothing where there is none
	Cost  int     // of the readings up to the conclusion, by the exposures of the handbook
	Total int     // 0 to 100
	Word  string  // of the total
}

// Cap is an unsafe act, at one of the times it was done.
type Cap struct {
	Rule rubric.Rule
	Act  int           // index of the act; how many there were, where it is the conclusion
	At   time.Duration // since the attempt began
	Text string        // a sentence for the learner, with the reading it follows from
	Card string        // a caution or card of the handbook that explains it
	Most int           // what the attempt gets at most for it
	From []int         // indices of the acts whose readings it follows from
}

// Part is what was done well, or not.
type Part struct {
	ID         string
	Title      string
	Points, Of int
	Reason     string // a sentence or two, with the readings it follows from
	Acts       []int  // indices of the acts it is about
	At         time.Duration
	Card       string // the concept it is about
}

// Missed lists the cards of the concepts that were missed: of unsafe acts, and
// of parts that got fewer points than they have; each once, in this order.
func (m Marks) Missed() []string {
	var out []string
	seen := map[string]bool{}
	add := func(card string) {
		if card != "" && !seen[card] {
			seen[card] = true
			out = append(out, card)
		}
	}
	for _, c := range m.Caps {
		add(c.Card)
	}
	for _, p := range m.Parts {
		if p.Points < p.Of {
			add(p.Card)
		}
	}
	return out
}

// errNoRubric is that the handbook says nothing of marks.
var errNoRubric = errors.New("the handbook has no rubric to mark by")

// Of marks an attempt that [practice.Case.Verify] found nothing wrong with, ended
// or not. An error is that of drawing vehicles, of ctx, or says which act cannot
// have been done.
func Of(ctx context.Context, c practice.Case, a practice.Attempt, b Book) (Marks, error) {
	m, err := Begin(c, a, b)
	if err != nil {
		return Marks{}, err
	}
	if err := Solve(ctx, m); err != nil {
		return Marks{}, err
	}
	return m.Marks(ctx)
}

// Marking is an attempt that is about to be marked. Make one with [Begin].
type Marking struct {
	g     *marker
	wants wanted // of the drawn vehicles
}

// Begin is [Of] in steps, for attempts that are marked together: what their readings
// tell is worked out for all of them by [Solve], which takes less time. The error says
// which act cannot have been done.
func Begin(c practice.Case, a practice.Attempt, b Book) (*Marking, error) {
	if len(b.Rubric.Parts) == 0 || b.Beliefs == nil || b.Forest == nil {
		return nil, errNoRubric
	}
	acts, err := moments(c, a)
	if err != nil {
		return nil, fmt.Errorf("the attempt cannot be marked: %w", err)
	}
	list, err := newList(b.Forest, c)
	if err != nil {
		return nil, fmt.Errorf("the attempt cannot be marked: %w", err)
	}
	g := &marker{c: c, a: a, b: b, acts: acts, list: list, evidenceUntil: map[int][]taken{}, took: map[[2]int]bool{}, sounds: map[int]string{}, first: b.pointsFirst(a.Role)}
	return &Marking{g, g.wants()}, nil
}

// Marks are the marks of the attempt. It is called once.
func (m *Marking) Marks(ctx context.Context) (Marks, error) {
	g := m.g
	g.ctx = ctx
	if err := g.unsafe(); err != nil {
		return Marks{}, err
	}
	if err := g.parts(); err != nil {
		return Marks{}, err
	}
	g.total()
	return g.out, nil
}

// marker marks one attempt.
type marker struct {
	ctx  context.Context
	c    practice.Case
	a    practice.Attempt
	b    Book
	acts []moment
	list *list
	out  Marks

	evidenceUntil map[int][]taken // before the repair, by act
	took          map[[2]int]bool // see takes
	first         map[string]bool // points on which the walk of the complaint puts a probe before any dead test

	sounds map[int]string // what the acts that show something wrong would have read with nothing wrong
	order  *Order         // the best, once it was needed
}

// ended is how many acts there were when the attempt ended: all of them where it
// has not.
func (g *marker) ended() int {
	if g.a.Repaired > 0 {
		return g.a.Repaired
	}
	return len(g.acts)
}

// when is the time of an act, or of the conclusion.
func (g *marker) when(act int) time.Duration {
	switch {
	case act < len(g.acts):
		return g.acts[act].At
	case g.a.Conclusion != nil:
		return g.a.Conclusion.At
	}
	return 0
}

// total adds the points up, under the caps.
func (g *marker) total() {
	m := &g.out
	for _, p := range m.Parts {
		m.Total += p.Points
	}
	if m.Guess {
		m.Total = min(m.Total, m.Bound)
	}
	if len(m.Caps) > 0 {
		least := rubric.Whole
		for _, c := range m.Caps {
			least = min(least, c.Most)
		}
		m.Total = min(m.Total, max(0, least-(len(m.Caps)-1)*g.b.Rubric.Again))
	}
	m.Word = g.b.Rubric.Word(m.Total)
}
