package main

import (
	"bufio"
	"cmp"
	"errors"
	"io"
	"strconv"
	"strings"

	"faultwright/content/view"
	"faultwright/faulttree"
)

// longestLine is the longest answer that is read, in bytes.
const longestLine = 4096

const commandsHelp = `back            take the last answer back
change NUMBER   give another answer, or fact, in place of one of the trail
cannot REASON   this reading cannot be taken, and why
limits          where the readings of this step lead
show ID         read a card or a caution
trail           the answers so far
why             why this reading is asked next
help            this list
quit            stop here; what was answered stays on record`

var (
	errQuit = errors.New("the reader stops here")
	errBack = errors.New("one step back")
	errLong = errors.New("that line is too long to be an answer")
)

// errChange is asked for by who wants to give another answer to this entry of the
// trail.
type errChange int

func (e errChange) Error() string { return "another answer to " + itoa(int(e)+1) }

// line asks for one line and reads it, trimmed.
func (p *program) line(g page, prompt string) (string, error) {
	io.WriteString(g.w, prompt)
	text, err := p.in.ReadSlice('\n')
	typed := strings.TrimSpace(string(text))
	if err == bufio.ErrBufferFull {
		for err == bufio.ErrBufferFull {
			_, err = p.in.ReadSlice('\n')
		}
		return "", errLong
	}
	if err != nil && typed == "" {
		g.blank()
		return "", errQuit
	}
	return typed, nil
}

// ask reads lines until one is not a command that only shows something.
func (s *session) ask(prompt string, w faulttree.Walk) (string, error) {
	for {
		typed, err := s.p.line(s.say, prompt)
		if err == errLong {
			s.say.para("", "That line is too long to be an answer. Nothing of it was taken.")
			continue
		}
		if err != nil {
			return "", err
		}
		word, rest, _ := strings.Cut(typed, " ")
		switch strings.ToLower(word) {
		case "":
			if w.Ended() {
				return "", nil
			}
			s.say.para("", "Type an answer, or help.")
		case "quit", "exit":
			return "", errQuit
		case "back":
			return "", errBack
		case "change":
			n, err := strconv.Atoi(strings.TrimSpace(rest))
			if err == nil && n >= 1 && n <= len(w.Trail()) {
				return "", errChange(n - 1)
			}
			s.say.para("", "Type change and the number of an answer. trail lists "+view.Count(len(w.Trail()), "answer")+".")
		case "help":
			io.WriteString(s.say.w, commandsHelp+"\n")
		case "limits":
			if step := w.Step(); step != nil {
				s.say.limits(step)
				if why := view.Why(s.lib, w); why != "" {
					s.say.para("", "Where this reading leads depends on the others of its table. "+why)
				}
			}
		case "why":
			why := cmp.Or(view.Why(s.lib, w), "The walk asks this next; only the order of a table of readings is worked out.")
			s.say.para("", why)
			rows, sums := view.Outcomes(s.lib, w)
			for _, o := range rows {
				s.say.hanging("  ", "      ", o.Headline()+": "+o.Asks)
			}
			for _, sum := range sums {
				s.say.hanging("  ", "      ", sum)
			}
		case "trail":
			s.say.trail(s.lib, w)
		case "show":
			if err := showID(s.say, s.lib, strings.TrimSpace(rest)); err != nil {
				s.say.para("", err.Error())
			}
		default:
			return typed, nil
		}
	}
}
