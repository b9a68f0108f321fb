package faulttree

import "faultwright/faulttree/order"

// Reason is why a chart asks one reading next.
type Reason struct {
	Quantity Quantity
	Pinned   bool   // the author put it first
	Gates    bool   // another reading must not be taken before it
	Exact    bool   // no order is expected to take less exposure; else it tells most for its own
	Open     int    // how many outcomes are still open
	Settles  []Exit // where the chart can lead as soon as it is read, in the order of the rows
}

// Why is the reason for what the walk asks; false where it does not ask a column
// of a chart.
func (w Walk) Why() (Reason, bool) {
	s := w.Step()
	if s == nil {
		return Reason{}, false
	}
	chart, name, ok := s.Ref().Chart()
	at := w.forest.Step(chart)
	if !ok || at == nil || at.Kind != KindChart || at.Chart == nil {
		return Reason{}, false
	}
	u := at.Under(w.Fact)
	for c, v := range u.Measure {
		if v.Name == name {
			t := u.compiled()
			return t.reason(c, t.knowing(w.knownAt(u), w.meter, w.danger)), true
		}
	}
	return Reason{}, false
}

// OpenRow is a row of a chart that what is known leaves possible, with what it
// still asks.
type OpenRow struct {
	Exit
	Asks []Ask
}

// Ask is what a row asks of one column: a quantity, or a sum.
type Ask struct {
	Quantity Quantity // zero for a sum
	Sum      Derived  // empty for a quantity
	Cell     Cell
}

// Open lists the rows that are still possible of the chart at which the walk
// stands, in their order, and the step that has the chart, as the facts leave it;
// none where it stands elsewhere.
func (w Walk) Open() (chart *Step, rows []OpenRow) {
	if _, asks := w.Why(); !asks {
		return nil, nil
	}
	u := w.step().Under(w.Fact)
	t := u.compiled()
	k := t.knowing(w.knownAt(u), w.meter, w.danger)
	open := map[int]bool{}
	work := searchWork
	t.visit(k.box, 0, &work, func(r int, _ box) bool {
		open[r] = true
		return true
	})
	for r, row := range u.Chart.Rows {
		if !open[r] {
			continue
		}
		one := OpenRow{Exit: row.Exit}
		for c, cell := range row.Cells {
			switch {
			case cell.Any():
			case c >= len(u.Measure):
				one.Asks = append(one.Asks, Ask{Sum: u.Derive[c-len(u.Measure)], Cell: cell})
			case k.readings[c] == nil:
				one.Asks = append(one.Asks, Ask{Quantity: u.Measure[c].Quantity, Cell: cell})
			}
		}
		rows = append(rows, one)
	}
	return u, rows
}

// Order is in which order the chart s asks, without facts and with nothing known:
// the way on which most rows stay open. Exact says whether no order is expected
// to take less.
func (s *Step) Order(danger DangerLimit, m Meter) (way []Reason, exact bool) {
	if s.Kind != KindChart || s.Chart == nil || len(s.Measure) == 0 {
		return nil, false
	}
	t := s.compiled()
	if t.cramped != "" {
		return nil, false
	}
	known := make([]*Reading, len(s.Measure))
	k := t.knowing(known, m, danger)
	for p := t.plan().tree; p != nil && p.Ask >= 0; {
		way = append(way, t.reason(p.Ask, k))
		next := longest(p)
		for _, shown := range next.Shows {
			if shown.Column < t.measure {
				k.masks[shown.Column] = 1 << shown.Value
			}
		}
		p = next.Plan
	}
	return way, t.plan().exact
}

// longest is the branch of a plan behind which most is expected to be asked.
func longest(p *order.Plan) order.Branch {
	best := p.Then[0]
	for _, b := range p.Then[1:] {
		if b.Plan.Expected > best.Plan.Expected {
			best = b
		}
	}
	return best
}

// reason is why column c is asked where so much is known.
func (t *table) reason(c int, k knowledge) Reason {
	out := Reason{Quantity: t.step.Measure[c].Quantity, Exact: t.plan().exact}
	for _, p := range t.step.Chart.Pins {
		out.Pinned = out.Pinned || p == c
	}
	for _, g := range t.step.Chart.Before {
		out.Gates = out.Gates || g.First == c
	}
	open := map[int]bool{}
	work := searchWork
	t.visit(k.box, 0, &work, func(r int, _ box) bool {
		if r >= 0 {
			open[t.leads[r]] = true
		}
		return true
	})
	out.Open = len(open)
	settles := map[int]bool{}
	for i := range t.cuts[c] {
		if row, known := t.row(k.box.with(c, 1<<i)); known {
			settles[t.leads[row]] = true
		}
	}
	for r := range t.step.Chart.Rows {
		if settles[r] {
			out.Settles = append(out.Settles, t.step.Chart.Rows[r].Exit)
		}
	}
	return out
}
