package main

import (
	"io"
	"maps"
	"regexp"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/shorthand"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
	"faultwright/faulttree/suspect"
)

// account is what the command line, the file of readings and standard input tell
// of a vehicle: the file first.
func (c suspectsCommand) account(p *program, lib *content.Library) (view.Account, error) {
	var a view.Account
	if c.Readings == standardInput && slices.Contains(c.Told, standardInput) {
		return a, bad("standard input cannot be both, a file of readings and a list; give one of them as a file or as words")
	}
	if c.Readings != "" {
		in, done, err := p.readingsFile(c.Readings)
		if err != nil {
			return a, err
		}
		defer done()
		told, diags := load.Account(in, fileName(c.Readings), lib.Forest)
		if err := p.refused(diags); err != nil {
			return a, err
		}
		a = view.Account{Tree: told.Tree, Facts: told.Facts, Evidence: told.Evidence}
		if len(told.Choices) > 0 {
			p.note("answers to the questions of walks count for nothing here; what was seen stands under seen: or behind --seen")
		}
	}
	if err := checkFacts(lib.Forest, c.Fact); err != nil {
		return a, err
	}
	for id, choice := range c.Fact {
		a = a.Knowing(id, choice)
	}
	words, err := c.words(p, lib)
	if err != nil {
		return a, err
	}
	for _, e := range words {
		a = a.With(e)
	}
	return c.without(lib, a)
}

// without adds what is known without a meter.
func (c suspectsCommand) without(lib *content.Library, a view.Account) (view.Account, error) {
	if c.Complaint != "" {
		if complaints := lib.Forest.Complaints(); !slices.Contains(complaints, c.Complaint) {
			return a, unknown("walk with a complaint", c.Complaint, complaints)
		}
		a.Tree = c.Complaint
	}
	for _, id := range slices.Sorted(maps.Keys(c.Seen)) {
		o := lib.Forest.Observation(id)
		if o == nil {
			return a, unknown("observation", id, lib.Forest.ObservationIDs())
		}
		if o.Sight(c.Seen[id]) == nil {
			return a, unknown("choice of "+id, c.Seen[id], o.ChoiceIDs())
		}
		a = a.With(suspect.Evidence{Seen: &suspect.Seen{Observation: id, Choice: c.Seen[id]}})
	}
	for _, id := range slices.Sorted(maps.Keys(c.Tried)) {
		if lib.Forest.Intervention(id) == nil {
			return a, unknown("intervention", id, lib.Forest.InterventionIDs())
		}
		if !slices.Contains(cameOf, c.Tried[id]) {
			return a, bad("--tried %s=%s: expected %s", id, c.Tried[id], strings.Join(cameOf, " or "))
		}
		a = a.With(suspect.Evidence{Tried: &suspect.Tried{Intervention: id, Gone: c.Tried[id] == cameOf[0]}})
	}
	for _, e := range a.Evidence {
		if e.Tried == nil {
			continue
		}
		if a.Tree == "" {
			return a, bad("what was tried is judged by the complaint that brought you: say it with --complaint, one of %s", list(lib.Forest.Complaints()))
		}
		e.Tried.Tree = a.Tree
	}
	return a, nil
}

var cameOf = load.CameOf

func cameOfText(gone bool) string {
	if gone {
		return cameOf[0]
	}
	return cameOf[1]
}

// words are the readings that the words of the command line name, and the lists
// between them, in their order.
func (c suspectsCommand) words(p *program, lib *content.Library) ([]suspect.Evidence, error) {
	in := wordReader{suspectsCommand: c, program: p, forest: lib.Forest, lists: shorthand.New(lib), used: map[string]bool{}}
	var list []string // words that go on
	for _, word := range c.Told {
		name, text, named := strings.Cut(word, "=")
		q, known := in.forest.Quantities[name]
		switch {
		case named && known && !strings.Contains(text, "\n"):
			if err := in.list(list); err != nil {
				return nil, err
			}
			list = nil
			if err := in.named(q, text); err != nil {
				return nil, err
			}
		case named && in.misspelt(name):
			return nil, unknown("quantity", name, in.forest.Quantities.IDs())
		case word == standardInput:
			text, err := io.ReadAll(io.LimitReader(p.in, mostList+1))
			if err != nil {
				return nil, bad("the list on standard input cannot be read: %v", err)
			}
			if err := in.list(append(list, "\n"+string(text))); err != nil {
				return nil, err
			}
			list = nil
		default:
			list = append(list, word)
		}
	}
	if err := in.list(list); err != nil {
		return nil, err
	}
	for _, o := range opens {
		if o.said(c) != "" && !in.used[o.option] {
			return nil, bad("--%s says nothing: no reading of a list asks for it; leave it off", o.option)
		}
	}
	return in.evidence, nil
}

// mostList is how many bytes of a list are read, more than may be in one.
const mostList = 64 << 10

// misspelt reports whether a name is meant for that of a quantity, and no word of
// a list such as L1-N=121.
func (in *wordReader) misspelt(name string) bool {
	return idForm.MatchString(name) && (strings.ContainsAny(name, ".@") || source.DidYouMean(name, in.forest.Quantities.IDs()) != "")
}

var idForm = regexp.MustCompile(`^[a-z][a-z0-9.:@-]*$`)

// wordReader reads the words of a command line.
type wordReader struct {
	suspectsCommand
	*program
	forest   *faulttree.Forest
	lists    *shorthand.Reader
	evidence []suspect.Evidence
	used     map[string]bool // the options that said something
}

// named takes what a quantity read; a question mark behind it, or a word, says
// what a list says by them.
func (in *wordReader) named(q faulttree.Quantity, text string) error {
	e := suspect.Evidence{Quantity: q}
	var err error
	if e.Reading, err = faulttree.ParseReading(text, q); err == nil {
		in.evidence = append(in.evidence, e)
		return nil
	}
	if l, listErr := in.lists.Read(q.ID + ": " + text); listErr == nil && len(l.Rows) == 1 && l.Rows[0].Kind == shorthand.Taken && l.Rows[0].Quantity == q.ID {
		in.evidence = append(in.evidence, in.lists.Evidence(l)...)
		return nil
	}
	return bad("%s: %v", q.ID, err)
}

// list takes a list in a technician's shorthand.
func (in *wordReader) list(words []string) error {
	if len(words) == 0 {
		return nil
	}
	l, err := in.lists.Read(strings.Join(words, " "))
	if err != nil {
		return bad("%v", err)
	}
	if l, err = in.answered(l); err != nil {
		return err
	}
	for _, row := range l.Rows {
		if row.Kind == shorthand.Refused {
			return bad("%s: %s", row.Text, row.Why)
		}
	}
	if l.Taken() == 0 {
		return bad("there is no reading in “%s”; expected QUANTITY=READING, or two points and a figure such as L1-N 121.3", source.Shown(strings.Join(words, " ")))
	}
	for _, row := range l.Rows {
		if row.Kind == shorthand.Text {
			in.note("not a reading: " + row.Text)
		}
	}
	in.evidence = append(in.evidence, in.lists.Evidence(l)...)
	return nil
}
