// Package booklet reads what a meter's booklet says of its accuracy, as somebody copies
// it: one range or function a line.
//
//	AC V  600.0 V  ±(1.0% + 3)
//	DC V
//	60.00 V  0.01 V  0.5 % rdg + 2 dgt
//	6.000 kΩ / 60.00 kΩ  0.9% + 2
//
// A line that names a function alone holds for those below it. What is not understood
// counts for nothing and is told with the reason: a wrong accuracy would make readings
// look better than they are.
package booklet

import (
	"errors"
	"fmt"
	"strings"

	"faultwright/faulttree"
)

// MostText is the most bytes of a booklet that are read, MostLines the most lines.
const (
	MostText  = 32 << 10
	MostLines = 300
)

// mostWhy is how many letters of a reason are told; it quotes the line.
const mostWhy = 160

// Line is one line that was copied, and what it gives.
type Line struct {
	Number int // from 1
	Text   string

	// Of is the function of a line that gives an accuracy. Ranges are those it gives it
	// for; none where it counts for the whole function.
	Of       faulttree.Unit
	Accuracy faulttree.Accuracy
	Ranges   []faulttree.Range

	Refused string // why it counts for nothing; "" where it is understood or empty
}

// Whole reports whether the line gives the accuracy of a whole function.
func (l Line) Whole() bool { return l.Refused == "" && l.Of != 0 && len(l.Ranges) == 0 }

// Read reads a text line by line. Counts are those of the display, by which a range
// without decimals is taken to show: "600 V" in steps of 0.1 V on one of 6000.
func Read(text string, counts int) []Line {
	var out []Line
	r := reader{model: faulttree.Meter{FullScale: counts}, taken: map[end]int{}, whole: map[faulttree.Unit]int{}}
	for i, line := range strings.Split(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), "\n") {
		if i >= MostLines || len(text) > MostText {
			out = append(out, Line{Number: i + 1, Text: line, Refused: fmt.Sprintf("only %d lines of %d letters together are read", MostLines, MostText)})
			break
		}
		if strings.TrimSpace(line) != "" {
			out = append(out, r.line(i+1, line))
		}
	}
	return out
}

// Give puts what some lines give into a meter. The error says what it cannot be with
// them.
func Give(m faulttree.Meter, lines []Line) (faulttree.Meter, error) {
	var all []faulttree.Range
	var amps faulttree.Accuracy // the worse of both kinds of current
	for _, l := range lines {
		all = append(all, l.Ranges...)
		if !l.Whole() {
			continue
		}
		switch l.Of {
		case faulttree.VoltsAC:
			m.ACVolts = l.Accuracy
		case faulttree.VoltsDC:
			m.DCVolts = l.Accuracy
		case faulttree.Ohms:
			m.Resistance = l.Accuracy
		default:
			amps = faulttree.Accuracy{Percent: max(amps.Percent, l.Accuracy.Percent), Counts: max(amps.Counts, l.Accuracy.Counts)}
			m.Current = amps
		}
	}
	var err error
	if m.Ranges, err = faulttree.NewRanges(all); err != nil {
		return m, err
	}
	return m, m.Check()
}

// end is where a range of a function ends.
type end struct {
	of  faulttree.Unit
	top faulttree.Amount
}

// reader goes through the lines of a booklet.
type reader struct {
	model faulttree.Meter
	above function               // of the last line that named one
	taken map[end]int            // the line that gives a range
	whole map[faulttree.Unit]int // and a whole function
}

// line reads one line.
func (r *reader) line(number int, text string) Line {
	out := Line{Number: number, Text: text}
	refused := func(format string, args ...any) Line {
		out.Of, out.Accuracy, out.Ranges = 0, faulttree.Accuracy{}, nil
		out.Refused = fmt.Sprintf(format, args...)
		if why := []rune(out.Refused); len(why) > mostWhy {
			out.Refused = string(why[:mostWhy]) + "…"
		}
		return out
	}
	plain := normal(text)
	accuracy, rest, err := accuracyIn(plain)
	if err != nil {
		return refused("%v", err)
	}
	words, err := read(rest)
	if err != nil {
		if !errors.Is(err, errFrequency) {
			r.above = function{} // what it is about is not known, nor what stands below it
		}
		return refused("%v", err)
	}
	if words.function != (function{}) {
		r.above = words.function
	}
	if accuracy == nil {
		if len(words.values) > 0 || words.function == (function{}) {
			return refused("it has no accuracy; expected percent of the reading and counts, such as ±(1.0%% + 3)")
		}
		return out // a heading
	}
	out.Accuracy = *accuracy
	if out.Of, err = words.unit(r.above); err != nil {
		return refused("%v", err)
	}
	if out.Ranges, err = words.ranges(out.Of, *accuracy, r.model); err != nil {
		return refused("%v", err)
	}
	if len(out.Ranges) == 0 {
		if first, twice := r.whole[out.Of]; twice {
			return refused("line %d gives %s already", first, out.Of.Function())
		}
		r.whole[out.Of] = number
		return out
	}
	if _, err := faulttree.NewRanges(out.Ranges); err != nil {
		return refused("%v", err)
	}
	for _, x := range out.Ranges {
		if first, twice := r.taken[end{x.Unit, x.Top}]; twice {
			return refused("line %d gives %s up to %s already", first, x.Unit.Function(), x.Top.With(x.Unit))
		}
	}
	if len(r.taken)+len(out.Ranges) > faulttree.MostRanges {
		return refused("a meter has at most %d ranges", faulttree.MostRanges)
	}
	for _, x := range out.Ranges {
		r.taken[end{x.Unit, x.Top}] = number
	}
	return out
}
