package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// page writes text for reading in a terminal: wrapped, in columns, with the
// signal words coloured where colour is wanted. The first error of the writer
// ends it.
type page struct {
	w      io.Writer
	width  int
	colour bool
}

const (
	narrowest, widest = 30, 100
	usual             = 80
)

// page is a page on one of the program's writers.
func (p *program) page(w io.Writer) page {
	width, err := strconv.Atoi(p.env("COLUMNS"))
	if err != nil || width <= 0 {
		width = usual
	}
	return page{w, max(narrowest, min(width, widest)), p.colour(w)}
}

// colour reports whether w is a terminal whose user has not asked for none.
func (p *program) colour(w io.Writer) bool {
	if p.env("NO_COLOR") != "" || p.env("TERM") == "dumb" {
		return false
	}
	return terminal(w) != nil
}

// para writes wrapped text behind an indent and ends with a line end.
func (g page) para(indent, text string) { g.hanging(indent, indent, text) }

// hanging is para with another indent on the first line.
func (g page) hanging(first, rest, text string) {
	for _, line := range wrap(clean(text), g.width-max(utf8.RuneCountInString(first), utf8.RuneCountInString(rest))) {
		fmt.Fprintln(g.w, strings.TrimRight(first+line, " "))
		first = rest
	}
}

// blank writes an empty line.
func (g page) blank() { fmt.Fprintln(g.w) }

// title writes a heading, underlined.
func (g page) title(text string) {
	text = clean(text)
	g.hanging("", "", text)
	fmt.Fprintln(g.w, strings.Repeat("=", min(utf8.RuneCountInString(text), g.width)))
}

// signal writes a sentence behind its signal word.
func (g page) signal(s faulttree.Signal, text string) {
	if s == faulttree.NoSignal {
		g.para("", text)
		return
	}
	const column = 9
	word := s.Word()
	lines := wrap(clean(text), g.width-column)
	for i, line := range lines {
		if i == 0 {
			fmt.Fprintln(g.w, g.painted(s, word)+strings.Repeat(" ", column-len(word))+line)
			continue
		}
		fmt.Fprintln(g.w, strings.Repeat(" ", column)+line)
	}
}

// painted is a signal word in the colours of its family (ANSI Z535.1): white
// on red, black on orange, black on yellow, white on blue.
func (g page) painted(s faulttree.Signal, word string) string {
	if !g.colour {
		return word
	}
	code := map[faulttree.Signal]string{
		faulttree.Danger: "1;97;41", faulttree.Warning: "1;30;48;5;208", faulttree.Caution: "1;30;43", faulttree.Notice: "1;97;44",
	}[s]
	return "\x1b[" + code + "m" + word + "\x1b[0m"
}

// labelled writes "Label: text" if there is text.
func (g page) labelled(label, text string) {
	if text != "" {
		g.hanging(label+": ", "  ", text)
	}
}

// clean takes out what could steer a terminal: control characters other than
// line ends, and marks that change the direction of writing.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\t':
			return ' '
		case source.Hidden(r):
			return -1
		}
		return r
	}, text)
}

// wrap breaks text into lines of at most width characters, at spaces where it
// can. Line ends in the text stay.
func wrap(text string, width int) []string {
	width = max(width, 10)
	var out []string
	for _, given := range strings.Split(text, "\n") {
		line, length := "", 0
		for _, word := range strings.Fields(given) {
			n := utf8.RuneCountInString(word)
			if length > 0 && length+1+n > width {
				out = append(out, line)
				line, length = "", 0
			}
			for n > width { // a word longer than the line
				runes := []rune(word)
				out = append(out, string(runes[:width]))
				word, n = string(runes[width:]), n-width
			}
			if length > 0 {
				line, length = line+" ", length+1
			}
			line, length = line+word, length+n
		}
		out = append(out, line)
	}
	return out
}

// list words some names: "a, b or c" is for choices, this is "a, b, c".
func list(names []string) string { return strings.Join(names, ", ") }
