package print_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/content/print"
	"faultwright/content/shorthand"
	"faultwright/faulttree/must"

	"golang.org/x/net/html"
)

// formRow is a reading of a printed form, as somebody sees it who types it in.
type formRow struct{ id, title, unit string }

// formRows reads the table of a form off its page, and beside it the names of what is
// ticked with the first of its choices.
func formRows(t *testing.T, id string) (rows []formRow, ticks [][2]string) {
	t.Helper()
	doc := must.Have(html.Parse(bytes.NewReader(page(t, id, print.Options{Paper: print.A4, Form: true}))))(t)
	for n := range doc.Descendants() {
		switch n.Data {
		case "tr":
			var cells []string
			for c := range n.ChildNodes() {
				if c.Data == "td" {
					cells = append(cells, textOf(c))
				}
			}
			if len(cells) == 5 {
				title, _, _ := strings.Cut(cells[1], ";")
				rows = append(rows, formRow{cells[0], title, cells[2]})
			}
		case "p":
			var codes []string
			for c := range n.Descendants() {
				if c.Data == "code" {
					codes = append(codes, textOf(c))
				}
			}
			if strings.Contains(textOf(n), "☐") {
				ticks = append(ticks, [2]string{codes[0], codes[1]})
			}
		}
	}
	return rows, ticks
}

// textOf is the text under a node.
func textOf(n *html.Node) string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			b.WriteString(c.Data)
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// A filled form is read back by typing its table: as a file of readings, whatever stands
// on it, and each reading by its title as a line of a list.
func TestFilledFormIsReadBack(t *testing.T) {
	reader := shorthand.New(shipped)
	for _, id := range shipped.Forest.Beginnings() {
		rows, ticks := formRows(t, id)
		asked := 0
		for _, q := range quantitiesOf(id) {
			if !strings.Contains(fmt.Sprint(rows), "{"+q+" ") {
				t.Errorf("the form of %s has no line for %s", id, q)
			}
			asked++
		}
		if asked != len(rows) {
			t.Errorf("the form of %s has %d lines for %d readings", id, len(rows), asked)
		}
		var file strings.Builder
		for i, r := range rows {
			fmt.Fprintf(&file, "%s: %d.5 %s\n", r.id, i+1, r.unit)
			list := must.Have(reader.Read(fmt.Sprintf("%s: %d.5 %s", r.title, i+1, r.unit)))(t)
			if len(list.Rows) != 1 || list.Rows[0].Quantity != r.id {
				t.Errorf("“%s” of the form of %s is read as %q (%s), not as %s", r.title, id, list.Rows[0].Quantity, list.Rows[0].Why, r.id)
			}
		}
		var facts []string
		for _, tick := range ticks {
			if strings.Contains(tick[0], "#") {
				fmt.Fprintf(&file, "%s: %s\n", tick[0], tick[1])
			} else {
				facts = append(facts, tick[0]+": "+tick[1])
			}
		}
		if len(facts) > 0 {
			fmt.Fprintf(&file, "facts: {%s}\n", strings.Join(facts, ", "))
		}
		given, wrong := load.Readings(strings.NewReader(file.String()), "form.yaml", shipped.Forest)
		if len(wrong) > 0 || len(given.Readings) != len(rows) || len(given.Choices)+len(given.Facts) != len(ticks) {
			t.Errorf("the form of %s gives %d of %d readings and %d of %d ticks: %v", id, len(given.Readings), len(rows), len(given.Choices)+len(given.Facts), len(ticks), wrong)
		}
	}
}

// quantitiesOf lists what the steps of a walk may read for whoever begins there.
func quantitiesOf(id string) []string {
	tree := shipped.Forest.Tree(id)
	known := func(fact string) string { return tree.Facts[fact] }
	met := map[string]bool{}
	var out []string
	for _, s := range tree.Steps {
		for _, v := range s.Measure {
			if !met[v.Quantity.ID] && !v.Quantity.Needs.Unmet(known) {
				met[v.Quantity.ID] = true
				out = append(out, v.Quantity.ID)
			}
		}
	}
	return out
}
