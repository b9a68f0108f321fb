package view

import (
	"fmt"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
)

// Why says why a walk asks this reading next, in sentences; "" where it does not
// ask a column of a chart.
func Why(lib *content.Library, w faulttree.Walk) string {
	r, ok := w.Why()
	if !ok {
		return ""
	}
	return strings.TrimSpace(reasonText(r) + " " + Settles(lib, r))
}

func reasonText(r faulttree.Reason) string {
	switch {
	case r.Pinned:
		return "It is read first because the walk puts it before the others."
	case r.Gates:
		return "It is read now because another reading must not be taken before it."
	case r.Exact:
		return fmt.Sprintf("%d outcomes are open; no other order is expected to take fewer or less exposed readings until one is known.", r.Open)
	}
	return fmt.Sprintf("%d outcomes are open; of what is left, it tells most for its exposure.", r.Open)
}

// Settles says where a chart can lead as soon as a reading is taken; "" if to
// nothing yet.
func Settles(lib *content.Library, r faulttree.Reason) string {
	var to []string
	for _, e := range r.Settles {
		to = append(to, "“"+exitLabel(lib, e)+"”")
	}
	if len(to) == 0 {
		return ""
	}
	return "It alone may lead to " + strings.Join(to, " or ") + "."
}

// Asks is one reading of the order in which a chart asks.
type Asks struct {
	Title   string
	Settles string // where it alone may lead, a sentence; "" if nowhere yet
}

// OrderOf lists in which order a chart asks while nothing is settled, and says
// above it how that order was found.
func OrderOf(lib *content.Library, s *faulttree.Step) (above string, order []Asks) {
	way, exact := s.Order(dangerOf(lib, s), faulttree.DefaultMeter())
	for _, r := range way {
		order = append(order, Asks{r.Quantity.Title, Settles(lib, r)})
	}
	if exact {
		return "Order of asking, the cheapest there is:", order
	}
	return "Order of asking, each time what tells most for its exposure:", order
}
