package look

import (
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
)

// Run is a stretch of text in one style. The zero values of Size and Color
// mean those of the [Prose] it stands in.
type Run struct {
	Text   string
	Style  fyne.TextStyle
	Size   fyne.ThemeSizeName
	Color  fyne.ThemeColorName
	Target string // where a link leads; "" is not a link
	Break  bool   // a line break follows
}

// measure is the width of a text in the style of a run.
type measure func(text string, run int) float32

// piece is the part of one run that stands on one line.
type piece struct {
	run  int
	text string // may end in white space, which hangs over the edge
	x, w float32
}

// atom is a word, or the white space between two words.
type atom struct {
	run  int
	text string
	gap  bool
	end  bool // a forced line break
}

// atoms cuts runs at white space. A no-break space does not cut.
func atoms(runs []Run) []atom {
	var out []atom
	for i, r := range runs {
		text := strings.ReplaceAll(r.Text, "\t", "    ")
		for k, line := range strings.Split(text, "\n") {
			if k > 0 {
				out = append(out, atom{run: i, end: true})
			}
			for line != "" {
				gap := cuts(rune(line[0]))
				n := strings.IndexFunc(line, func(r rune) bool { return cuts(r) != gap })
				if n <= 0 {
					n = len(line)
				}
				out = append(out, atom{run: i, text: line[:n], gap: gap})
				line = line[n:]
			}
		}
		if r.Break {
			out = append(out, atom{run: i, end: true})
		}
	}
	for i := 1; i+1 < len(out); i++ { // a number and its unit stay together
		if out[i].text == " " && endsInDigit(out[i-1].text) && isUnit(out[i+1].text) {
			out[i].gap = false
		}
	}
	return out
}

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

// isUnit reports whether a word is a unit, apart from what follows it.
func isUnit(word string) bool {
	switch strings.TrimRight(word, ".,;:)") {
	case "V", "mV", "A", "mA", "W", "kW", "Ω", "kΩ", "MΩ", "GΩ", "Hz", "nF", "pF", "m", "mm", "ft", "%", "°":
		return true
	}
	return false
}

func cuts(r rune) bool { return r == ' ' || (r < unicode.MaxASCII && unicode.IsSpace(r)) }

// wrap breaks runs into lines no wider than width. A word wider than that is
// cut where it must be. No character is lost: joining all pieces, and a break
// where a line was forced, gives the text again.
func wrap(runs []Run, width float32, wide measure) [][]piece {
	var lines [][]piece
	var line []piece
	x := float32(0)
	flush := func() {
		lines = append(lines, line)
		line, x = nil, 0
	}
	put := func(a atom, w float32) {
		if n := len(line); n > 0 && line[n-1].run == a.run {
			line[n-1].text += a.text
			line[n-1].w += w
		} else {
			line = append(line, piece{run: a.run, text: a.text, x: x, w: w})
		}
		x += w
	}
	all := atoms(runs)
	for i := 0; i < len(all); {
		a := all[i]
		if a.end {
			flush()
			i++
			continue
		}
		if a.gap {
			put(a, wide(a.text, a.run))
			i++
			continue
		}
		j, word := i, float32(0) // a word may go on through several runs
		for ; j < len(all) && !all[j].gap && !all[j].end; j++ {
			word += wide(all[j].text, all[j].run)
		}
		if x > 0 && x+word > width {
			flush()
		}
		for ; i < j; i++ {
			rest := all[i]
			w := wide(rest.text, rest.run)
			for x+w > width {
				head, tail := cutAt(rest, width-x, wide, x == 0)
				if tail == "" {
					break
				}
				if head != "" {
					put(atom{run: rest.run, text: head}, wide(head, rest.run))
				}
				flush()
				rest.text = tail
				w = wide(tail, rest.run)
			}
			put(rest, w)
		}
	}
	if line != nil || len(lines) == 0 {
		flush()
	}
	return lines
}

// cutAt splits a word so that its head fits into room; on an empty line at
// least one character goes, so that the work ends.
func cutAt(a atom, room float32, wide measure, empty bool) (head, tail string) {
	runes := []rune(a.text)
	n := 0
	for n < len(runes) && wide(string(runes[:n+1]), a.run) <= room {
		n++
	}
	if n == 0 && empty {
		n = 1
	}
	return string(runes[:n]), string(runes[n:])
}

// widest is the widest single word of runs, and the width of their longest
// line when nothing wraps.
func widest(runs []Run, wide measure) (word, line float32) {
	w, x := float32(0), float32(0)
	for _, a := range atoms(runs) {
		if a.end {
			w, x = 0, 0
			continue
		}
		n := wide(a.text, a.run)
		x += n
		if a.gap {
			w = 0
			continue
		}
		w += n
		word, line = max(word, w), max(line, x)
	}
	return word, line
}
