package prove

import (
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// chartWork bounds what the proof of one chart may cost, in looks at one box.
const chartWork = 4_000_000

// chartProof is a chart whose rows are boxes: a row with a choice of stretches in
// a cell is several.
type chartProof struct {
	*prover
	n     *node
	sp    space
	whole region
	boxes []rowBox
	work  int
}

// rowBox is readings that fit a row, whatever stands above it.
type rowBox struct {
	row int
	region
}

// unread is what stands for a reading that was not taken: a figure that no meter
// shows.
var unread = faulttree.Span{From: faulttree.OverTop - 1, Below: faulttree.OverTop}

// chart proves one chart under some facts. Reached notes by place the rows that
// some reading comes to.
func (p *prover) chart(n *node, reached map[source.Pos]bool) {
	s := n.step
	sp, ok := newSpace(s)
	if !ok || s.Chart == nil {
		return
	}
	c := &chartProof{prover: p, n: n, sp: sp, work: chartWork}
	c.whole = sp.domain(s)
	if name, cramped := s.Cramped(); cramped {
		p.report(n.pos(faulttree.Exit{}), ruleTooComplex, "the column %s of chart %s has more than %d different limits", name, s.ID, faulttree.MostSegments)
		return
	}
	for i, row := range s.Chart.Rows {
		if len(row.Cells) != len(c.whole) {
			return
		}
		c.add(i, row.Cells, slices.Clone(c.whole))
	}
	for i, row := range s.Chart.Rows {
		if _, found := c.taken(i, c.whole); found {
			reached[row.Pos] = true
		}
		c.softer(i)
		c.overLimit(i)
	}
	if where, found := c.left(c.whole, c.boxes); found {
		p.report(n.pos(faulttree.Exit{}), ruleGap, "no row takes %s", c.witness(where))
	}
	if c.work < 0 {
		p.report(n.pos(faulttree.Exit{}), ruleTooComplex, "the rows of chart %s are too complex to prove", s.ID).Hint = "divide it into two charts"
	}
}

// add puts the boxes of a row, from the column of the next cell on.
func (c *chartProof) add(row int, cells []faulttree.Cell, r region) {
	k := len(r) - len(cells)
	if c.work--; c.work < 0 {
		return
	}
	if len(cells) == 0 {
		c.boxes = append(c.boxes, rowBox{row, slices.Clone(r)})
		return
	}
	spans := cells[0].Spans
	if k < len(c.n.step.Measure) && c.asksUnread(k) {
		spans = shown(spans)
	}
	if cells[0].NotTaken {
		spans = append(slices.Clip(spans), unread)
	}
	if cells[0].Any() {
		spans = []faulttree.Span{c.whole[k]}
	}
	for _, span := range spans {
		if r[k] = c.whole[k].Meet(span); !r[k].Empty() {
			c.add(row, cells[1:], r)
		}
	}
	r[k] = c.whole[k]
}

// asksUnread reports whether some row asks of column k that it was not taken.
func (c *chartProof) asksUnread(k int) bool {
	return slices.ContainsFunc(c.n.step.Chart.Rows, func(r faulttree.Row) bool { return r.Cells[k].NotTaken })
}

// shown is spans without what stands for a reading that was not taken: a figure
// above every limit was taken all the same.
func shown(spans []faulttree.Span) []faulttree.Span {
	var out []faulttree.Span
	for _, s := range spans {
		for _, part := range []faulttree.Span{{From: s.From, Below: min(s.Below, unread.From)}, {From: max(s.From, unread.Below), Below: s.Below}} {
			if !part.Empty() {
				out = append(out, part)
			}
		}
	}
	return out
}

// left is a reading in r that none of these boxes takes. What a box that fills r
// leaves is nothing; otherwise the box that cuts off least is taken away first.
func (c *chartProof) left(r region, boxes []rowBox) (where region, found bool) {
	if c.work -= 1 + len(boxes); c.work < 0 || r.empty() || c.cannot(r) {
		return nil, false
	}
	var near []rowBox
	first, fewest := -1, len(r)+1
	for _, b := range boxes {
		sides, apart := 0, false
		for axis := range r {
			if r[axis].Within(b.region[axis]) {
				continue
			}
			sides++
			apart = apart || !r[axis].Overlaps(b.region[axis])
		}
		switch {
		case apart:
			continue
		case sides == 0:
			return nil, false
		case sides < fewest:
			first, fewest = len(near), sides
		}
		near = append(near, b)
	}
	if first < 0 {
		if len(c.sp.factors) > 0 && !c.sp.mayHold(r) {
			return nil, false
		}
		return r, true
	}
	b := near[first]
	near[first] = near[len(near)-1]
	near = near[:len(near)-1]
	for _, part := range without(r, b.region) {
		if where, found = c.left(part, near); found {
			return where, true
		}
	}
	return nil, false
}

// cannot reports whether some sum cannot be what r says, looked at by itself.
func (c *chartProof) cannot(r region) bool {
	for i, d := range c.n.step.Derive {
		if !d.Span(r[:c.sp.vars]).Overlaps(r[c.sp.vars+i]) {
			return true
		}
	}
	return false
}

// taken is a reading within a region that row i takes, no row above it.
func (c *chartProof) taken(i int, within region) (where region, found bool) {
	for k, b := range c.boxes {
		if b.row != i {
			continue
		}
		end := slices.IndexFunc(c.boxes[:k+1], func(b rowBox) bool { return b.row == i })
		if where, found = c.left(b.meet(within), c.boxes[:end]); found {
			return where, true
		}
	}
	return nil, false
}

// softer reports where row i takes what a row below it of a worse signal would,
// once: the other rows are known when it has been mended.
func (c *chartProof) softer(i int) {
	row := c.n.step.Chart.Rows[i]
	if slices.ContainsFunc(c.list, func(d source.Diagnostic) bool {
		return d.Rule == ruleSofterRow && d.Pos == row.Pos && d.Pos.IsValid()
	}) {
		return // under other facts
	}
	for _, b := range c.boxes {
		worse := c.n.step.Chart.Rows[b.row]
		if b.row <= i || worse.Signal <= row.Signal {
			continue
		}
		where, found := c.taken(i, b.region)
		if !found {
			continue
		}
		d := c.report(c.n.pos(row.Exit), ruleSofterRow, "%s has the signal %s and takes %s, which %s below it, of signal %s, would take",
			c.rowName(i), row.Signal, c.witness(where), c.rowName(b.row), worse.Signal)
		d.Hint = "put the worse row first"
		if !slices.ContainsFunc(worse.Cells, func(c faulttree.Cell) bool { return !c.Any() }) {
			d.Hint = fmt.Sprintf("rest is always last: give row %d at least its signal, or rest a lower one", c.number(i))
		}
		d.Related = []source.Related{{Pos: c.n.pos(worse.Exit), Message: c.rowName(b.row) + " stands here"}}
		return
	}
}

// overLimit demands that whatever row i takes at or above a danger limit leads to
// a STOP or a DANGER finding.
func (c *chartProof) overLimit(i int) {
	row := c.n.step.Chart.Rows[i]
	for v, m := range c.n.step.Measure {
		limit, limited := c.n.tree.DangerLimit(m.Quantity.ID)
		if !limited {
			continue
		}
		for _, harmful := range m.Quantity.Harmful(limit) {
			within := slices.Clone(c.whole)
			within[v] = within[v].Meet(harmful)
			where, found := c.taken(i, within)
			if !found {
				continue
			}
			to, ok := c.index[row.To]
			if !ok {
				to = -1
			}
			c.mustStop(c.n, edge{row.Exit, byRow, i, to}, c.rowName(i)+", which takes "+c.witness(where)+",")
			break
		}
	}
}

func (c *chartProof) rowName(i int) string {
	return fmt.Sprintf("row %d (to %s)", c.number(i), c.n.step.Chart.Rows[i].Text)
}

// number is that of row i in the table, of which facts may leave rows out.
func (c *chartProof) number(i int) int {
	pos := c.n.step.Chart.Rows[i].Pos
	if at, ok := c.index[c.n.step.Ref()]; ok && pos.IsValid() {
		if k := slices.IndexFunc(c.nodes[at].step.Chart.Rows, func(r faulttree.Row) bool { return r.Pos == pos }); k >= 0 {
			return k + 1
		}
	}
	return i + 1
}

// witness words a reading of r by the columns that r narrows.
func (c *chartProof) witness(r region) string {
	point, v := c.sp.find(r)
	if v != feasible {
		return "some readings"
	}
	var words string
	for i, m := range c.n.step.Measure {
		if r[i] == c.whole[i] && len(c.n.step.Derive) == 0 {
			continue
		}
		if words != "" {
			words += ", "
		}
		switch shown := point[i]; {
		case unread.Contains(shown) && shown > 0:
			words += m.Name + " not taken"
		case shown == faulttree.OverTop:
			words += m.Name + " = OL"
		default:
			words += m.Name + " = " + shown.With(m.Quantity.Unit)
		}
	}
	if words == "" {
		return "any reading"
	}
	return words
}

// unreachedRows reports the rows that no reading comes to, whatever the facts.
func (p *prover) unreachedRows(n *node, reached map[source.Pos]bool) {
	for i, row := range n.step.Chart.Rows {
		if !reached[row.Pos] {
			p.report(n.pos(row.Exit), ruleEmptyBranch, "row %d (to %s) takes no reading: rows above it take them all, or none fits it", i+1, row.Text)
		}
	}
}

// chartBounds looks at every number in the cells of a chart. A limit on a sum
// must be four times what the counts of the meter can bring into it: less is at
// most a notice.
func (p *prover) chartBounds(n *node) {
	s := n.step
	told := map[string]bool{}
	for _, row := range s.Chart.Rows {
		for c, cell := range row.Cells {
			for _, span := range cell.Spans {
				for _, edge := range []faulttree.Amount{span.From, span.Below} {
					written := edge.Written()
					key := fmt.Sprint(c, written)
					if edge == faulttree.Lowest || edge >= faulttree.OverTop || written == 0 || told[key] {
						continue
					}
					told[key] = true
					pos := firstValid(cell.Pos, row.Pos, s.Pos)
					p.boundSource(n, edge, pos)
					if c < len(s.Measure) {
						p.smallLimit(n, s.Measure[c].Quantity, written, pos)
					} else if d := s.Derive[c-len(s.Measure)]; row.Signal > faulttree.Notice {
						p.smallSum(n, d, written, pos)
					}
				}
			}
		}
	}
}

// smallSum compares a limit on a sum with what the counts of its readings make.
func (p *prover) smallSum(n *node, d faulttree.Derived, limit faulttree.Amount, pos source.Pos) {
	counts := faulttree.Amount(0)
	for _, t := range d.Terms {
		q := n.step.Measure[t.Var].Quantity
		size := faulttree.Amount(max(t.Factor, -t.Factor))
		on := p.known.Meter.Range(q.Unit, q.Range)
		counts += size * faulttree.Amount(on.Counts) * on.Count
	}
	if limit.Abs() < 4*counts {
		p.report(pos, ruleSmallLimit, "chart %s compares %s with %s, where the counts of the meter alone may make %s; at least four times that is allowed, or the signal notice",
			n.step.ID, d.Name, limit.With(d.Unit), counts.With(d.Unit))
	}
}
