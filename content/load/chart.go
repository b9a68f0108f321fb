package load

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// mostChartRows bounds a chart, twice what is proved in a moment.
const mostChartRows = 120

// chartReader reads the table of a chart step.
type chartReader struct {
	*stepReader
	table   document.Table
	columns []int                       // by column of the table but the last, the column of the chart
	bands   []map[string]faulttree.Span // by column of the chart, nil without bands
}

// chart reads the keys of a chart step and its table.
func (r *stepReader) chart(m document.Map) {
	s := r.step
	s.Chart = &faulttree.Chart{}
	i := slices.IndexFunc(r.blocks, isTable)
	if i < 0 {
		r.diags.Add(m.KeyPos("chart"), RuleBadChart, "the chart has no table; expected a Markdown table below the heading, its columns quantities and the last where each row leads")
		return
	}
	c := &chartReader{stepReader: r, table: r.blocks[i].(document.Table)}
	for _, f := range m.Get("chart").Fields("chart") {
		r.variable(f)
	}
	c.headed()
	derive := m.Get("derive").Fields("derive")
	if len(s.Measure) > mostMeasured || len(derive) > mostMeasured {
		r.diags.Add(m.KeyPos("chart"), RuleBadStep, "the chart has %d quantities and %d derived values; at most %d of each", len(s.Measure), len(derive), mostMeasured)
		s.Chart = nil
		return
	}
	for _, f := range derive {
		r.name(f)
		s.Derive = append(s.Derive, r.derived(f))
	}
	if len(s.Measure) == 0 {
		r.diags.Add(m.KeyPos("chart"), RuleBadChart, "the chart reads nothing; expected a quantity at the head of a column")
		s.Chart = nil
		return
	}
	c.bands = make([]map[string]faulttree.Span, len(r.names))
	for _, f := range m.Get("bands").Fields("bands") {
		c.bandsOf(f)
	}
	c.bind()
	s.NotPossible, s.NotApplicable = r.exit(m, "not-possible"), r.exit(m, "not-applicable")
	for k := range c.table.Rows {
		if k == mostChartRows {
			r.diags.Add(c.at(k, 0), RuleTreeSize, "the chart has %d rows; at most %d are read", len(c.table.Rows), mostChartRows)
			break
		}
		c.row(k)
	}
	for _, item := range m.Get("pin").Items("pin") {
		if i, ok := c.quantityNamed(item); ok {
			s.Chart.Pins = append(s.Chart.Pins, i)
		}
	}
	for _, f := range m.Get("before").Fields("before") {
		then := slices.Index(r.names[:len(s.Measure)], f.Key)
		if then < 0 {
			r.diags.AddHint(f.KeyPos, RuleUnknownVariable, source.DidYouMean(f.Key, r.names), "the chart measures no %s", f.Key)
			continue
		}
		for _, item := range f.Value.Items(f.Key) {
			if first, ok := c.quantityNamed(item); ok {
				s.Chart.Before = append(s.Chart.Before, faulttree.Gate{First: first, Then: then})
			}
		}
	}
	if s.Chart.Circle(len(s.Measure)) {
		r.diags.Add(m.KeyPos("before"), RuleBadChart, "by pin and before, some column is read before itself; nothing of them is heeded")
		s.Chart.Pins, s.Chart.Before = nil, nil
	}
}

// mostAlternatives is how many alternatives one cell may have.
const mostAlternatives = 8

func isTable(b document.Block) bool { _, ok := b.(document.Table); return ok }

// headed takes in the quantities that head a column by their own ids.
func (c *chartReader) headed() {
	for i, head := range c.table.Header[:len(c.table.Header)-1] {
		id := strings.TrimSpace(document.PlainInline(head))
		q, ok := c.m.quantities[id]
		if c.m.broken[id] {
			q.ID, ok, c.step.Unread = id, true, true
		}
		if ok && !slices.Contains(c.names, id) {
			c.names = append(c.names, id)
			c.step.Measure = append(c.step.Measure, faulttree.Variable{Name: id, Quantity: q, Pos: c.at(-2, i)})
		}
	}
}

// bind finds the column of the chart that each column of the table is.
func (c *chartReader) bind() {
	used := map[int]bool{}
	for i, head := range c.table.Header[:len(c.table.Header)-1] {
		name := strings.TrimSpace(document.PlainInline(head))
		k := slices.Index(c.names, name)
		switch {
		case k < 0:
			c.diags.AddHint(c.at(-2, i), RuleUnknownVariable, source.DidYouMean(name, c.names), "the column %q is no quantity, and chart and derive name none so", name)
		case used[k]:
			c.diags.Add(c.at(-2, i), RuleDuplicateID, "the column %s stands twice", name)
			k = -1
		default:
			used[k] = true
		}
		c.columns = append(c.columns, k)
	}
	for k, v := range c.step.Measure {
		sum := slices.ContainsFunc(c.step.Derive, func(d faulttree.Derived) bool {
			return slices.ContainsFunc(d.Terms, func(t faulttree.Term) bool { return t.Var == k })
		})
		if !used[k] && !sum {
			c.diags.Add(v.Pos, RuleBadChart, "nothing of the table depends on %s", v.Name)
		}
	}
}

// quantityNamed is the measured column that an item names.
func (c *chartReader) quantityNamed(item document.Value) (int, bool) {
	name := item.Text("a column")
	i := slices.Index(c.names[:len(c.step.Measure)], name)
	if i < 0 && name != "" {
		item.Report(RuleUnknownVariable, source.DidYouMean(name, c.names[:len(c.step.Measure)]), "the chart measures no %s", name)
	}
	return i, i >= 0
}

func (c *chartReader) unit(column int) faulttree.Unit {
	if column < len(c.step.Measure) {
		return c.step.Measure[column].Quantity.Unit
	}
	return c.step.Derive[column-len(c.step.Measure)].Unit
}

// bandsOf reads one kind of bands: of names its columns, and each other key a
// band, which begins where the one before ends unless it says where.
func (c *chartReader) bandsOf(kind document.Field) {
	fields := kind.Value.Fields("bands")
	var of []int
	for _, f := range fields {
		if f.Key != "of" {
			continue
		}
		for _, item := range f.Value.Items("of") {
			name := item.Text("a column")
			k := slices.Index(c.names, name)
			switch {
			case k >= 0 && c.bands[k] != nil:
				item.Report(RuleDuplicateID, "", "%s has bands of another kind", name)
			case k >= 0:
				of = append(of, k)
				c.bands[k] = map[string]faulttree.Span{}
			case name != "":
				item.Report(RuleUnknownVariable, source.DidYouMean(name, c.names), "the chart has no column %s", name)
			}
		}
	}
	if len(of) == 0 {
		kind.Value.Report(RuleBadChart, "write of: and the columns that they are for", "the bands %s are for no column", kind.Key)
		return
	}
	from := faulttree.Lowest
	for _, f := range fields {
		if f.Key == "of" {
			continue
		}
		text := f.Value.Text("a band")
		span, err := c.comparison(text, c.unit(of[0]))
		if err != nil {
			if err != errUnread {
				f.Value.Report(RuleBadChart, "", "the band %s: %v", f.Key, err)
			}
			for _, k := range of {
				c.bands[k][f.Key] = faulttree.Everything() // its use is not reported again
			}
			continue
		}
		if span.From == faulttree.Lowest {
			span.From = from
		}
		if from = span.Below; span.Empty() {
			f.Value.Report(RuleBadChart, "", "no value lies in the band %s", f.Key)
			continue
		}
		for _, k := range of {
			c.bands[k][f.Key] = span
		}
	}
}

// row reads line k of the table.
func (c *chartReader) row(k int) {
	s, cells := c.step, c.table.Rows[k]
	row := faulttree.Row{Cells: make([]faulttree.Cell, len(c.names))}
	last := len(c.columns)
	rest := last > 0 && strings.EqualFold(c.text(k, 0), "rest")
	for i := range c.columns {
		text := c.text(k, i)
		if text == "" || i >= len(cells) || rest && i == 0 {
			continue
		}
		if rest {
			c.diags.Add(c.at(k, i), RuleBadChart, "the row for the rest asks nothing of a column")
			continue
		}
		if column := c.columns[i]; column >= 0 {
			row.Cells[column] = c.cell(text, column, c.at(k, i))
		}
	}
	target, word, said := strings.Cut(c.text(k, last), ",")
	row.Exit = faulttree.Exit{Text: strings.TrimSpace(target), Pos: c.at(k, last), Signal: faulttree.Danger}
	if row.Text == "" {
		c.diags.Add(row.Pos, RuleBadChart, "the row does not say where it leads")
		return
	}
	row.To = faulttree.ParseRef(row.Text, c.id)
	c.noted(refStep, row.Text, row.Pos)
	if word = strings.TrimSpace(word); said {
		signal, ok := faulttree.ParseSignal(strings.ToLower(word))
		if row.Signal, row.SignalPos = signal, row.Pos; !ok {
			row.Signal = faulttree.Danger
			c.diags.AddHint(row.Pos, RuleBadChart, source.DidYouMean(word, faulttree.SignalNames()), "“%s” is no signal; expected %s", word, either(faulttree.SignalNames()))
		}
	}
	s.Chart.Rows = append(s.Chart.Rows, row)
}

// cell reads what a row asks of a column: names of bands, comparisons, OL or ?,
// joined by "or".
func (c *chartReader) cell(text string, column int, pos source.Pos) faulttree.Cell {
	out := faulttree.Cell{Pos: pos}
	parts := strings.Split(text, " or ")
	if len(parts) > mostAlternatives {
		c.diags.Add(pos, RuleBadChart, "the cell has %d alternatives; at most %d are read", len(parts), mostAlternatives)
		return out
	}
	for _, part := range parts {
		part = strings.TrimSpace(part)
		named, isBand := c.bands[column][part]
		switch {
		case part == "?" && column < len(c.step.Measure):
			out.NotTaken = true
		case strings.EqualFold(part, "OL"):
			out.Spans = append(out.Spans, faulttree.Span{From: faulttree.OverTop, Below: faulttree.Highest})
		case isBand:
			out.Spans = append(out.Spans, named)
		default:
			span, err := c.comparison(part, c.unit(column))
			if err == errUnread {
				return faulttree.Cell{}
			}
			if err != nil {
				c.diags.AddHint(pos, RuleBadChart, source.DidYouMean(part, slices.Sorted(maps.Keys(c.bands[column]))), "%s: %v", c.names[column], err)
				return faulttree.Cell{}
			}
			out.Spans = append(out.Spans, span)
		}
	}
	return out
}

// comparison reads "below 104 V", "30 V and more", ">= 30 V", "from 100 V to 140
// V" and their like. The error is a sentence.
func (c *chartReader) comparison(text string, u faulttree.Unit) (span faulttree.Span, err error) {
	span = faulttree.Everything()
	joined := strings.Join(strings.Fields(text), " ")
	edge := func(text string, add faulttree.Amount, to *faulttree.Amount) {
		a, wrong := c.amount(strings.TrimSpace(text), u)
		if *to = a + add; err == nil {
			err = wrong
		}
	}
	for _, form := range comparisonForms {
		rest, ok := strings.CutPrefix(joined, form.prefix)
		if !ok {
			continue
		}
		if rest, ok = strings.CutSuffix(rest, form.suffix); !ok {
			continue
		}
		low, high, both := strings.Cut(rest, form.between)
		switch {
		case form.between != "" && !both:
			continue
		case form.between != "":
			edge(low, 0, &span.From)
			edge(high, form.add, &span.Below)
		case form.below:
			edge(rest, form.add, &span.Below)
		default:
			edge(rest, form.add, &span.From)
		}
		if err == nil && span.Empty() {
			err = fmt.Errorf("no value lies in “%s”", text)
		}
		return span, err
	}
	return span, fmt.Errorf("“%s” is no band of the column and no comparison; expected a form such as below 104 V, 30 V and more, OL or ?", text)
}

// comparisonForms are the ways to write one, tried in turn: add is one for an
// end that belongs to what is meant below it, and not to what is meant above.
var comparisonForms = []struct {
	prefix, between, suffix string
	add                     faulttree.Amount
	below                   bool
}{
	{suffix: " and more"}, {suffix: " and less", add: 1, below: true},
	{prefix: "from ", between: " to ", add: 1}, {prefix: "from ", between: " below "}, {prefix: "from "},
	{prefix: "below ", below: true}, {prefix: "up to ", add: 1, below: true}, {prefix: "above ", add: 1},
	{prefix: ">="}, {prefix: "≥"}, {prefix: "<=", add: 1, below: true}, {prefix: "≤", add: 1, below: true},
	{prefix: ">", add: 1}, {prefix: "<", below: true},
}

// errUnread is a comparison with a limit that was reported where it stands.
var errUnread = errors.New("the limit could not be read")

// amount is a number with its unit, or the limit of that name. A number needs
// the step's sources.
func (c *chartReader) amount(text string, u faulttree.Unit) (faulttree.Amount, error) {
	if c.unread[text] {
		c.step.Unread = true
		return 0, errUnread
	}
	if l, ok := c.tree.Limits[text]; ok {
		if u != 0 && l.Unit.Symbol() != u.Symbol() {
			return 0, fmt.Errorf("the limit %s is in %s, but the column is in %s", text, l.Unit, u)
		}
		c.used[text] = true
		return l.Value, nil
	}
	a, err := parseMeasured(text)
	switch {
	case err != nil && idForm.MatchString(text) && text[0] >= 'a':
		return 0, fmt.Errorf("this file has no limit %s", text)
	case err != nil:
		return 0, err
	case u != 0 && !a.fits(u):
		return 0, fmt.Errorf("%s does not fit a column in %s", text, u)
	case a.amount != 0 && len(c.step.Sources) == 0 && !c.isLimit(a):
		return 0, fmt.Errorf("%s has no source; name it as a limit of the tree, or give the step its sources", text)
	}
	return a.amount, nil
}

// text is the cell of row k in column i of the table.
func (c *chartReader) text(k, i int) string {
	if i >= len(c.table.Rows[k]) {
		return ""
	}
	return strings.TrimSpace(document.PlainInline(c.table.Rows[k][i]))
}

// at is where a cell stands; row -2 is the head of the table.
func (c *chartReader) at(row, column int) source.Pos {
	pos := c.table.Pos
	pos.Line += row + 2
	pos.Column = 1
	line := c.file.LineText(pos.Line)
	bars := 0
	if !strings.HasPrefix(strings.TrimSpace(line), "|") {
		bars = 1
	}
	for i, b := range []byte(line) {
		if b == '|' && (i == 0 || line[i-1] != '\\') {
			bars++
			continue
		}
		if bars == column+1 && b != ' ' && b != '\t' {
			pos.Column = len([]rune(line[:i])) + 1
			return pos
		}
	}
	return pos
}
