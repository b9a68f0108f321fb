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
// of a vehicle: the file first. Beside an error it is what could be read, for that
// may have reached a danger limit.
func (c suspectsCommand) account(p *program, lib *content.Library, m faulttree.Meter) (view.Account, error) {
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
	a, err := c.words(p, lib, a, m)
	if err != nil {
		return a, err
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

// words adds what the words of the command line tell: first readings by name, then
// the lists between them, of which something may have to be asked. The error is
// that of the first word that cannot be read.
func (c suspectsCommand) words(p *program, lib *content.Library, a view.Account, m faulttree.Meter) (view.Account, error) {
	in := wordReader{suspectsCommand: c, program: p, lib: lib, meter: m, lists: shorthand.New(lib), account: a, used: map[string]bool{}}
	var lists []string
	going := false // the words before belong to the last list
	for _, word := range c.Told {
		name, text, named := strings.Cut(word, "=")
		q, known := lib.Forest.Quantities[name]
		switch {
		case named && known && !strings.Contains(text, "\n"):
			in.named(q, text)
			going = false
			continue
		case named && in.misspelt(name):
			in.fail(unknown("quantity", name, lib.Forest.Quantities.IDs()))
			continue
		case word == standardInput:
			all, err := io.ReadAll(io.LimitReader(p.in, mostList+1))
			if err != nil {
				in.fail(bad("the list on standard input cannot be read: %v", err))
			}
			word = "\n" + string(all)
		}
		if going {
			lists[len(lists)-1] += " " + word
		} else {
			lists = append(lists, word)
		}
		going = true
	}
	for _, list := range lists {
		in.list(list)
	}
	for _, o := range opens {
		if o.said(c) != "" && !in.used[o.option] {
			in.fail(bad("--%s says nothing: no reading of a list asks for it; leave it off", o.option))
		}
	}
	return in.account, in.err
}

// mostList is how many bytes of a list are read, more than may be in one.
const mostList = 64 << 10

// misspelt reports whether a name is meant for that of a quantity, and no word of
// a list such as L1-N=121.
func (in *wordReader) misspelt(name string) bool {
	return idForm.MatchString(name) && (strings.ContainsAny(name, ".@") || source.DidYouMean(name, in.lib.Forest.Quantities.IDs()) != "")
}

var idForm = regexp.MustCompile(`^[a-z][a-z0-9.:@-]*$`)

// wordReader reads the words of a command line.
type wordReader struct {
	suspectsCommand
	*program
	lib     *content.Library
	meter   faulttree.Meter
	lists   *shorthand.Reader
	account view.Account
	used    map[string]bool // the options that said something
	err     error           // the first
}

func (in *wordReader) fail(err error) {
	if in.err == nil {
		in.err = err
	}
}

func (in *wordReader) add(told ...suspect.Evidence) {
	for _, e := range told {
		in.account = in.account.With(e)
	}
}

// named takes what a quantity read; a question mark behind it, or a word, says
// what a list says by them.
func (in *wordReader) named(q faulttree.Quantity, text string) {
	r, err := faulttree.ParseReading(text, q)
	if err == nil {
		in.add(suspect.Evidence{Quantity: q, Reading: r})
		return
	}
	l, listErr := in.lists.Read(q.ID + ": " + text)
	if listErr != nil || len(l.Rows) != 1 || l.Rows[0].Quantity != q.ID {
		in.fail(bad("%s: %v", q.ID, err))
		return
	}
	in.add(in.lists.Evidence(l)...)
}

// list takes a list in a technician's shorthand.
func (in *wordReader) list(text string) {
	l, err := in.lists.Read(text)
	if err != nil {
		in.fail(bad("%v", err))
		return
	}
	if l, err = in.answered(l); err != nil {
		in.fail(err)
		in.account = in.dangers(l)
	}
	in.add(in.lists.Evidence(l)...)
	for _, row := range l.Rows {
		switch row.Kind {
		case shorthand.Refused:
			in.fail(bad("%s: %s", row.Text, row.Why))
		case shorthand.Text:
			in.note("not a reading: " + row.Text)
		}
	}
	if l.Taken() == 0 {
		in.fail(bad("there is no reading in “%s”; expected QUANTITY=READING, or two points and a figure such as L1-N 121.3", source.Shown(text)))
	}
}
