package shorthand

import (
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
)

var reader = sync.OnceValue(func() *Reader { return New(load.Shipped()) })

// written is one case of testdata/lists.txt.
type written struct {
	title       string
	line        int
	text        []string
	answer      Answer
	asks        string
	checksAsked bool
	want        []string
}

func writtenLists(t *testing.T) []written {
	t.Helper()
	text := must.Have(os.ReadFile("testdata/lists.txt"))(t)
	var out []written
	for i, line := range strings.Split(string(text), "\n") {
		if title, ok := strings.CutPrefix(line, "## "); ok {
			out = append(out, written{title: title, line: i + 1})
			continue
		}
		if len(out) == 0 || strings.TrimSpace(line) == "" || line[0] == '#' {
			continue
		}
		c := &out[len(out)-1]
		switch line[0] {
		case '>':
			c.text = append(c.text, strings.ReplaceAll(strings.TrimPrefix(line[1:], " "), "→", "\t"))
		case '!':
			for _, part := range strings.Fields(line[1:]) {
				name, value, _ := strings.Cut(part, "=")
				switch name {
				case "place":
					c.answer.Place = value
				case "state":
					c.answer.State = State(value)
				case "unit":
					c.answer.Unit = value
				}
			}
		case '?':
			c.asks, c.checksAsked = strings.TrimSpace(line[1:]), true
		default:
			c.want = append(c.want, line)
		}
	}
	return out
}

// asked words what the blocks of a list still ask.
func asked(l *List) string {
	var out []string
	for _, b := range l.Blocks {
		for _, kind := range []struct {
			name string
			list []Choice
		}{{"place", b.Places}, {"state", b.States}, {"unit", b.Units}} {
			ids := lists.Each(kind.list, func(c Choice) string { return c.ID })
			if len(ids) > 0 {
				out = append(out, kind.name+": "+strings.Join(ids, " "))
			}
		}
	}
	if len(out) == 0 {
		return "nothing"
	}
	return strings.Join(out, "; ")
}

func (r Row) words() string {
	at := fmt.Sprintf("%d:%d ", r.Line, r.Column)
	switch r.Kind {
	case Taken:
		out := at + r.Quantity + " " + r.Reading.Show(reader().byID[r.Quantity].Unit)
		if r.Doubtful {
			out += " doubtful"
		}
		if r.Told {
			out += " told"
		}
		return out
	case Asked:
		return at + "ask " + r.Pair + " = " + r.Typed
	case Refused:
		return at + "why " + r.Why
	}
	return at + "text"
}

// TestWrittenLists holds that lists as different people write them are read as
// what stands beside them.
func TestWrittenLists(t *testing.T) {
	all := writtenLists(t)
	if len(all) < 60 {
		t.Fatalf("%d lists; want 60 or more", len(all))
	}
	for _, c := range all {
		list := must.Have(reader().Read(strings.Join(c.text, "\n")))(t)
		for b := range list.Blocks {
			list = reader().Resolve(list, b, c.answer)
		}
		got := lists.Each(list.Rows, Row.words)
		fail := len(got) != len(c.want)
		for i := 0; !fail && i < len(got); i++ {
			at, why, isWhy := strings.Cut(c.want[i], "why ")
			fail = got[i] != c.want[i] && !(isWhy && strings.HasPrefix(got[i], at+"why ") && strings.Contains(got[i], why))
		}
		if fail {
			t.Errorf("lists.txt:%d: %s: read as\n  %s\nwant\n  %s", c.line, c.title, strings.Join(got, "\n  "), strings.Join(c.want, "\n  "))
		}
		if a := asked(list); c.checksAsked && a != c.asks {
			t.Errorf("lists.txt:%d: %s: asks %s\nwant %s", c.line, c.title, a, c.asks)
		}
	}
}
