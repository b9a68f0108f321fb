package shorthand

import (
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// Evidence is the rows that are readings of a quantity.
func (r *Reader) Evidence(list *List) []suspect.Evidence {
	var out []suspect.Evidence
	for _, row := range list.Rows {
		if row.Kind == Taken {
			out = append(out, suspect.Evidence{Quantity: r.byID[row.Quantity], Reading: row.Reading, Doubtful: row.Doubtful, Told: row.Told})
		}
	}
	return out
}

// Possible is the rows where only state or unit are still to be asked, each as a
// reading of every quantity that it can be: a danger among them does not wait for
// the answer.
func (r *Reader) Possible(list *List) []suspect.Evidence {
	var out []suspect.Evidence
	for _, row := range list.Rows {
		for _, id := range row.May {
			if reading, err := faulttree.ParseReading(row.Typed, r.byID[id]); err == nil && row.Kind == Asked {
				out = append(out, suspect.Evidence{Quantity: r.byID[id], Reading: reading, Doubtful: row.Doubtful, Told: row.Told})
			}
		}
	}
	return out
}

// Left is the list without the rows that are readings of a quantity, as it was
// typed: what is still to be asked of, and what cannot be read. A header stands
// above its rows.
func (l *List) Left() string {
	var lines []string
	block, line := -1, 0
	for _, row := range l.Rows {
		switch {
		case row.Kind == Taken:
			continue
		case row.Block != block:
			if header := l.Blocks[row.Block].Header; header != "" && !strings.Contains(row.Text, header) {
				lines = append(lines, header)
			}
			lines = append(lines, row.Text)
		case row.Line == line:
			lines[len(lines)-1] += ", " + row.Text
		default:
			lines = append(lines, row.Text)
		}
		block, line = row.Block, row.Line
	}
	return strings.Join(lines, "\n")
}
