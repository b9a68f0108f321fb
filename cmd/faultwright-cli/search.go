package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"faultwright/content/shorthand"
	"faultwright/search"
)

type searchCommand struct {
	Words []string `arg:"" help:"What to look for; a reading such as 58 volts on the bumper is understood too."`
	Kind  string   `help:"Only this kind: tree (a walk), fault, card, caution, step, finding or source."`
	Limit int      `default:"10" help:"At most so many."`
	JSON  bool     `name:"json" help:"Print the hits as JSON."`
}

// jsonHit is a hit as programs read it. Reading and quantity are there where
// the words were a reading and the step measures it, list and command where
// they were a list of readings.
type jsonHit struct {
	ID       string  `json:"id"`
	Kind     string  `json:"kind"`
	Title    string  `json:"title"`
	Score    float64 `json:"score"`
	Fragment string  `json:"fragment"`
	Quantity string  `json:"quantity,omitempty"`
	Reading  string  `json:"reading,omitempty"`
	List     string  `json:"list,omitempty"`
	Command  string  `json:"command,omitempty"`
}

// jsonAnswer is what a search finds. Notes must be read before the hits: that
// no page has a word, or that no step measures what was read.
type jsonAnswer struct {
	Notes []string  `json:"notes"`
	Hits  []jsonHit `json:"hits"`
}

func (c searchCommand) Run(p *program) error {
	if c.Kind != "" && !slices.Contains(search.Kinds(), c.Kind) {
		return unknown("kind", c.Kind, search.Kinds())
	}
	if c.Limit < 1 {
		return bad("--limit is %d; expected 1 or more", c.Limit)
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	index, err := search.Build(p.ctx, lib)
	if err != nil {
		return failure{exitBadInput, err}
	}
	answer := index.Find(search.Query{Text: strings.Join(c.Words, " "), Kind: c.Kind, Limit: c.Limit})
	lists := shorthand.New(lib)
	if c.JSON {
		out := jsonAnswer{append([]string{}, answer.Notes()...), []jsonHit{}}
		for _, h := range answer.Hits {
			hit := jsonHit{ID: h.ID, Kind: h.Kind, Title: h.Title, Score: h.Score, Fragment: fragmentText(h.Fragment, "", ""), Quantity: h.Quantity, Reading: h.Reading, List: h.List}
			if h.Kind == search.KindReadings {
				hit.Command, _ = suspectsOf(lists, h.List)
			}
			out.Hits = append(out.Hits, hit)
		}
		if err := writeJSON(p.out, out); err != nil {
			return err
		}
	} else {
		g := p.page(p.out)
		for _, note := range answer.Notes() {
			g.para("", note)
		}
		g.hits(answer.Hits, lists)
	}
	if len(answer.Hits) == 0 {
		return ended(exitErrors)
	}
	return nil
}

// minusSigns writes the minus of a reading as a true minus sign, which no
// parser of options takes for the dash of one: "search -12.6 volts".
func minusSigns(args []string) []string {
	if !slices.Contains(args, "search") && !slices.Contains(args, "suspects") {
		return args
	}
	out := slices.Clone(args)
	for i, a := range out {
		if len(a) > 1 && a[0] == '-' && (a[1] >= '0' && a[1] <= '9' || a[1] == '.') {
			out[i] = "\u2212" + a[1:]
		}
	}
	return out
}

// suspectsOf is the command that finds what fits a list of readings, "" where
// none of them can be read, and what is still to be said of it, in sentences.
// What the list leaves open, the command asks.
func suspectsOf(lists *shorthand.Reader, text string) (command string, lacks []string) {
	list, err := lists.Read(text)
	if err != nil { // a search has taken it for a list
		return "", nil
	}
	var readings []string
	for _, r := range list.Rows {
		switch r.Kind {
		case shorthand.Taken:
			readings = append(readings, quoted(r.Quantity+"="+r.Typed+marksOf(r)))
		case shorthand.Refused:
			lacks = append(lacks, r.Text+": "+r.Why)
		}
	}
	refused := len(lacks) > 0
	for _, b := range list.Blocks {
		for _, q := range b.Questions() {
			var titles []string
			for _, c := range q.Choices {
				titles = append(titles, c.Title)
			}
			lacks = append(lacks, q.Title+" Say it before the readings, with a colon: "+strings.Join(titles, "; ")+".")
		}
	}
	command = "faultwright-cli suspects "
	switch {
	case list.Open() && !refused && strings.HasPrefix(text, "-"):
		return command + "-- " + quoted(clean(text)), lacks
	case list.Open() && !refused:
		return command + quoted(clean(text)), lacks
	case len(readings) == 0:
		return "", lacks
	}
	return command + strings.Join(readings, " "), lacks
}

// marksOf is what stands behind a figure for whoever reads it again.
func marksOf(r shorthand.Row) string {
	marks := ""
	if r.Told {
		marks += " told"
	}
	if r.Doubtful {
		marks += " ?"
	}
	return marks
}

var plainArgument = regexp.MustCompile(`^[\w.:@=-]+$`)

// quoted is an argument as a shell takes it.
func quoted(argument string) string {
	if plainArgument.MatchString(argument) {
		return argument
	}
	return "'" + strings.ReplaceAll(argument, "'", `'\''`) + "'"
}

// hits writes what was found, best first, the words that matched in marks.
func (g page) hits(hits []search.Hit, lists *shorthand.Reader) {
	if len(hits) == 0 {
		g.para("", "Nothing was found. Try fewer or other words.")
	}
	for _, h := range hits {
		if h.Kind == search.KindReadings {
			g.hanging("", "    ", h.Title)
			command, lacks := suspectsOf(lists, h.List)
			for _, l := range lacks {
				g.hanging("    ", "    ", l)
			}
			if command != "" {
				fmt.Fprintln(g.w, "    "+clean(command)) // in one piece, to be copied
			}
			continue
		}
		g.hanging("", "    ", h.Title+" ("+h.Kind+" "+h.ID+")")
		if h.Reading != "" {
			g.hanging("    ", "    ", "Takes "+h.Reading+" as its reading.")
		}
		if text := fragmentText(h.Fragment, "*", "*"); text != "" {
			g.hanging("    ", "    ", text)
		}
	}
}

// fragmentText is a fragment with its matches between two marks.
func fragmentText(runs []search.Run, before, after string) string {
	var b strings.Builder
	for _, r := range runs {
		text := strings.ReplaceAll(r.Text, "\n", " ")
		if r.Marked {
			text = before + text + after
		}
		b.WriteString(text)
	}
	return strings.TrimSpace(b.String())
}
