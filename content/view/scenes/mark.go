package scenes

import (
	"context"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
)

// NewBeliefs is what attempts at scenarios of a handbook are judged by, for
// readings of a meter. Attempts that are marked together share one.
func NewBeliefs(lib *content.Library, m faulttree.Meter) *mark.Beliefs {
	return mark.NewBeliefs(DrawnFrom(lib), m.Nameless(), Described(lib))
}

// MarkBook is what marking an attempt at a scenario takes from a handbook.
func MarkBook(lib *content.Library, s *content.Scenario, beliefs *mark.Beliefs) mark.Book {
	b := mark.Book{
		Forest: lib.Forest, Faults: Book(lib, faulttree.DefaultMeter()).Faults, Describe: Described(lib), Beliefs: beliefs,
		Shock: s.Shock, Tree: s.Tree, Seen: s.Seen, Expect: mark.Expectation(s.Expect),
	}
	if lib.Rubric != nil {
		b.Rubric = lib.Rubric.Rubric
	}
	if o, ok := lib.Order(s); ok && beliefs.Meter() == faulttree.DefaultMeter().Nameless() {
		b.Stored = func(role faulttree.Role) (mark.Order, bool) {
			return mark.Order{Cost: o.Cost, Held: o.Held}, role == s.Role
		}
	}
	return b
}

// BestOrder works the best order at a scenario out, for the role that it is for.
func BestOrder(ctx context.Context, lib *content.Library, s *content.Scenario, beliefs *mark.Beliefs) (content.Order, error) {
	o, err := mark.Best(ctx, CaseOf(lib, s), s.Role, MarkBook(lib, s, beliefs))
	return content.Order{Basis: lib.Basis(s), Cost: o.Cost, Held: o.Held}, err
}
