package main

import (
	"slices"
	"strings"

	"faultwright/content/shorthand"
	"faultwright/content/view"
	"faultwright/faulttree/lists"
)

// open is what may be lacking of a block of a list, and the option that says it.
type open struct {
	option  string
	said    func(suspectsCommand) string
	choices func(shorthand.Block) []shorthand.Choice
	answer  func(id string) shorthand.Answer
}

// opens lists them in the order in which they are asked.
var opens = []open{
	{"at", func(c suspectsCommand) string { return c.At }, func(b shorthand.Block) []shorthand.Choice { return b.Places },
		func(id string) shorthand.Answer { return shorthand.Answer{Place: id} }},
	{"state", func(c suspectsCommand) string { return c.State }, func(b shorthand.Block) []shorthand.Choice { return b.States },
		func(id string) shorthand.Answer { return shorthand.Answer{State: shorthand.State(id)} }},
	{"unit", func(c suspectsCommand) string { return strings.NewReplacer("ohms", "Ω", "ohm", "Ω").Replace(c.Unit) }, func(b shorthand.Block) []shorthand.Choice { return b.Units },
		func(id string) shorthand.Answer { return shorthand.Answer{Unit: id} }},
}

// answered is a list of which nothing is open any more, by what the options say,
// or else whoever sits at the terminal; beside an error as far as it is known.
func (in *wordReader) answered(l *shorthand.List) (*shorthand.List, error) {
	for i := range l.Blocks {
		for _, o := range opens {
			choices := o.choices(l.Blocks[i])
			if len(choices) == 0 {
				continue
			}
			said := o.said(in.suspectsCommand)
			if said == "" {
				var err error
				if said, err = in.ask(l, i, o.option); err != nil {
					return l, err
				}
			}
			if ids := choiceIDs(choices); !slices.Contains(ids, said) {
				return l, unknown("choice for --"+o.option, said, ids)
			}
			in.used[o.option] = true
			l = in.lists.Resolve(l, i, o.answer(said))
		}
	}
	return l, nil
}

// ask asks the first question of a block in the terminal, behind what is to be
// done at once.
func (in *wordReader) ask(l *shorthand.List, block int, option string) (string, error) {
	b := l.Blocks[block]
	q := b.Questions()[0]
	lacks := bad("%s Say it with --%s, or before the readings with a colon: %s", q.Title, option, choicesText(q.Choices))
	if in.JSON || in.Readings == standardInput || slices.Contains(in.Told, standardInput) { // nobody can be asked
		return "", lacks
	}
	g := in.page(in.out)
	soFar := in.dangers(l)
	for _, e := range in.lists.Evidence(l) {
		soFar = soFar.With(e)
	}
	g.alarms(view.AlarmsOf(in.lib, soFar, in.meter))
	g.para("", strings.TrimSpace(b.Header+" "+q.Title))
	for i, c := range q.Choices {
		g.hanging("  "+itoa(i+1)+"  ", "     ", c.Title+" ("+c.ID+")")
	}
	for {
		typed, err := in.line(g, "> ")
		if err == errLong {
			typed = ""
		} else if err != nil || typed == "quit" {
			return "", lacks
		}
		for i, c := range q.Choices {
			if typed == c.ID || typed == itoa(i+1) {
				return c.ID, nil
			}
		}
		g.para("", "Type one of these numbers, or quit.")
	}
}

// dangers is the account with the readings of a list that are a danger whatever is
// still open of them.
func (in *wordReader) dangers(l *shorthand.List) view.Account {
	return in.account.WithDangers(in.lib, in.meter, in.lists.Possible(l))
}

func choiceIDs(choices []shorthand.Choice) []string {
	return lists.Each(choices, func(c shorthand.Choice) string { return c.ID })
}

// choicesText lists what may be answered: "pedestal (the pedestal), …".
func choicesText(choices []shorthand.Choice) string {
	out := lists.Each(choices, func(c shorthand.Choice) string { return c.ID + " (" + c.Title + ")" })
	return list(out)
}
