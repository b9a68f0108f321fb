package shorthand

import "strings"

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
