package shorthand

import (
	"cmp"
	"strings"
	"unicode/utf8"

	"faultwright/faulttree"
)

// cell is a cell of a line and the bytes it takes.
type cell struct{ start, end int }

// cells are those of a line that has two or more.
func (l line) cells() []cell {
	if !strings.ContainsAny(string(l.raw), "\t|") {
		return nil
	}
	var out []cell
	start := 0
	at := 0 // byte of text
	for _, c := range l.raw {
		_, size := utf8.DecodeRuneInString(l.text[at:])
		if c == '\t' || c == '|' {
			out = append(out, cell{start, at})
			start = at + size
		}
		at += size
	}
	out = append(out, cell{start, len(l.text)})
	return out
}

// table takes a line of a table whose columns have heads: the heads, or a line
// below them. It is false for any other line, which ends the table.
func (p *parser) table(l line, figures []figure) bool {
	cells := l.cells()
	if len(figures) == 0 {
		p.heads = nil
		return p.tableHeads(l, cells)
	}
	if len(p.heads) == 0 || len(cells) < 2 || len(cells) > len(p.heads) {
		p.heads = nil
		return false
	}
	first := p.read(l.text[:cells[0].end])
	var rows []Row
	from := 0
	for i, c := range cells[1:] {
		inside := l.text[c.start:c.end]
		if strings.TrimSpace(inside) == "" {
			continue
		}
		found := figuresIn(inside)
		w, ok := joined(p.heads[i+1], first)
		if len(found) != 1 || !ok {
			p.heads = nil
			return false
		}
		text, column := l.typed(from, c.end)
		from = c.end
		row := Row{Line: l.number, Column: column, Text: text, Block: len(p.list.Blocks) - 1, Pair: pairOf(w), said: w}
		row.take(found[0], p.read(inside[:found[0].start]+";"+inside[found[0].end:]))
		rows = append(rows, row)
	}
	for _, row := range rows {
		p.add(row)
	}
	return len(rows) > 0
}

// joined is what the head of a column and that of a line say together: one
// names the points, the other a place or nothing.
func joined(column, first words) (words, bool) {
	pair, other := column, first
	if first.Contacts() == 2 {
		pair, other = first, column
	}
	if pair.Contacts() != 2 || other.Contacts() > 0 || pair.Unknown || other.placed() && pair.placed() {
		return words{}, false
	}
	if other.placed() {
		pair.Site = other.Site
	}
	if other.stated() {
		pair.Conditions, pair.LoadsOff = other.Conditions, other.LoadsOff
	}
	pair.unit = cmp.Or(pair.unit, other.unit)
	pair.told, pair.doubtful, pair.elsewhere = pair.told || other.told, pair.doubtful || other.doubtful, pair.elsewhere || other.elsewhere
	return pair, true
}

// tableHeads takes a line as the heads of the columns below it.
func (p *parser) tableHeads(l line, cells []cell) bool {
	if len(cells) < 3 {
		return false
	}
	heads := make([]words, len(cells))
	saying := 0
	for i, c := range cells {
		heads[i] = p.read(faulttree.Tidy(l.text[c.start:c.end]))
		if heads[i].Contacts() == 2 || heads[i].placed() {
			saying++
		}
	}
	if saying < 2 {
		return false
	}
	p.leavePending()
	p.heads = heads
	text, _ := l.typed(0, len(l.text))
	p.open(text, words{})
	return true
}

// titled takes a line that names a quantity as the handbook does, by its title
// or its id, with one figure behind: a line of a sheet, or of a file of
// readings.
func (p *parser) titled(l line) bool {
	lower := strings.ToLower(l.text)
	if len(lower) != len(l.text) {
		return false
	}
	start := len(l.text) - len(strings.TrimLeft(l.text, " ;"))
	for end := min(len(l.text), start+p.longest); end > start; end-- {
		id := p.byTitle[lower[start:end]]
		if id == "" || !strings.ContainsAny(l.text[end:min(len(l.text), end+1)], " :;=") {
			continue
		}
		found := figuresIn(l.text[end:])
		if len(found) != 1 {
			return false
		}
		f := found[0]
		before, note := l.text[end:end+f.start], p.read(l.text[end+f.end:])
		if strings.Trim(before, " :;=") != "" || note.Contacts() > 0 || note.placed() || note.stated() {
			return false
		}
		p.leavePending()
		text, column := l.typed(0, len(l.text))
		row := Row{Line: l.number, Column: column, Text: text, Pair: p.byID[id].Title, said: words{quantity: id}}
		row.take(f, note)
		p.add(row)
		return true
	}
	return false
}
