package view

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
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

// Outcome is a row of a chart that is still possible.
type Outcome struct {
	Title  string
	Signal faulttree.Signal
	Asks   string // what it still asks: "Pedestal: L1 to neutral below 104 V; lack 6 V and more"
}

// Headline is the title behind the signal word.
func (o Outcome) Headline() string { return headline(o.Signal, o.Title) }

// Outcomes lists what may still come of the chart at which a walk stands, the
// first that fits counting, and which sums its names stand for.
func Outcomes(lib *content.Library, w faulttree.Walk) (rows []Outcome, sums []string) {
	chart, open := w.Open()
	for _, row := range open {
		var asks []string
		for _, a := range row.Asks {
			asks = append(asks, askText(a))
			if name := a.Sum.Name; name != "" {
				if said := name + " is " + sumText(chart, a.Sum) + "."; !slices.Contains(sums, said) {
					sums = append(sums, said)
				}
			}
		}
		out := Outcome{exitLabel(lib, row.Exit), row.Signal, strings.Join(asks, "; ")}
		if len(asks) == 0 {
			out.Asks = "otherwise"
		}
		rows = append(rows, out)
	}
	return rows, sums
}

func askText(a faulttree.Ask) string {
	name, unit := a.Quantity.Title, a.Quantity.Unit
	if a.Sum.Name != "" {
		name, unit = a.Sum.Name, a.Sum.Unit
	}
	return name + " " + CellText(a.Cell, unit)
}

// Settles says where a chart can lead as soon as a reading is taken; "" if to
// nothing yet.
func Settles(lib *content.Library, r faulttree.Reason) string {
	to := lists.Each(r.Settles, func(e faulttree.Exit) string { return "“" + exitLabel(lib, e) + "”" })
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
