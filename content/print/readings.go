package print

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/content/view"
	"faultwright/faulttree"
)

// group is readings for which meter and vehicle stand alike.
type group struct {
	Live  string // "LIVE at the supply", "dead"
	Set   string // how meter and vehicle stand
	Reads []read
}

// read is one reading, with a place to write it.
type read struct {
	ID, Code, Title string
	Take            string // which of several readings counts
	Only            string // for which vehicles it is
	Unit            string
}

// readings lists what a sheet reads, each once, grouped by how it is read, and gives
// each its code that has none from a sheet before.
func (p *plan) readings(on *sheetPlan) []group {
	var out []group
	met := map[string]bool{}
	for _, n := range on.nodes {
		for _, v := range p.inOrder(n) {
			q := v.Quantity
			if met[q.ID] {
				continue
			}
			met[q.ID] = true
			g := group{Live: liveWords[q.Exposure], Set: setting(q)}
			i := slices.IndexFunc(out, func(o group) bool { return o.Live == g.Live && o.Set == g.Set })
			if i < 0 {
				i = len(out)
				out = append(out, g)
			}
			out[i].Reads = append(out[i].Reads, read{ID: q.ID, Title: q.Title, Unit: q.Unit.Symbol(), Take: p.take(q), Only: p.only(q)})
		}
	}
	for _, g := range out {
		for i := range g.Reads {
			id := g.Reads[i].ID
			if p.codes[id] == "" {
				p.codes[id] = fmt.Sprint("R", len(p.codes)+1)
			}
			g.Reads[i].Code = p.codes[id]
		}
	}
	return out
}

// setting says how meter and vehicle stand for a quantity.
func setting(q faulttree.Quantity) string {
	set := []string{view.Capital(q.Unit.Function())}
	if q.Range > 0 {
		set[0] += ", range " + q.Range.With(q.Unit) + " or more"
	}
	for _, c := range q.Prepare() {
		set = append(set, c.String())
	}
	return strings.Join(set, "; ")
}

// take says which of several readings counts: "highest of frame, door frame, step".
func (p *plan) take(q faulttree.Quantity) string {
	tells := strings.TrimSuffix(q.Take.Tells(q, p.lib.Points, p.known), ".")
	return shorter.Replace(tells)
}

// shorter makes what tells a reader what to type as short as a line of a list: there is
// an L2 or there is none.
var shorter = strings.NewReplacer("Read each, type the ", "", ": ", " of ", ", and L2 if there is one", ", L2", ", and ", ", ")

// liveWords say what a reader is near.
var liveWords = map[faulttree.Exposure]string{
	faulttree.DeadTest: "Dead", faulttree.AtSupply: "LIVE at the supply", faulttree.AtBody: "LIVE on the body", faulttree.InsideBody: "LIVE inside",
}

// only says for which vehicles a quantity is there: "only with service 50 A".
func (p *plan) only(q faulttree.Quantity) string {
	var out []string
	for _, f := range p.lib.Forest.Facts {
		if p.known(f.ID) != "" {
			continue
		}
		var choices []string
		for _, c := range f.Choices {
			if slices.Contains(q.Needs[f.ID], c.ID) {
				choices = append(choices, short(c.Text))
			}
		}
		if len(choices) > 0 {
			out = append(out, f.ID+" "+strings.Join(choices, " or "))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "only with " + strings.Join(out, ", ")
}

// short is the beginning of a choice, as far as it tells it from the others: "50 A".
func short(text string) string {
	text, _, _ = strings.Cut(text, ":")
	text, _, _ = strings.Cut(text, ",")
	return faulttree.InSentence(text)
}
