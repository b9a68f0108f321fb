package load

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// mostRemaining is how many faults a file may list for one finding.
const mostRemaining = 500

// seldomMark stands behind a fault with which few vehicles end at the finding.
const seldomMark = ", seldom"

// remaining is which dangerous faults are possible at the findings of one tree,
// as drawn vehicles showed.
type remaining struct {
	tree     string
	findings []remainingAt
}

// remainingAt is what is possible at one finding.
type remainingAt struct {
	step  string
	pos   source.Pos
	lacks []faulttree.NotExcluded // without their tests
}

// RemainingFolder is where those files lie in a handbook.
const RemainingFolder = "remaining"

// RemainingFile is the name of the file that says what remains in a tree.
func RemainingFile(tree string) string { return RemainingFolder + "/" + tree + ".yaml" }

// AnewRemaining is the command that makes the file of a tree anew.
func AnewRemaining(tree string) string {
	return "faultwright-cli --content FOLDER remaining " + tree + " --write"
}

// FormatRemaining is the text of the file that lists, for findings of a tree by
// their ids, which dangerous faults remain possible, none of them where nothing
// does. It is the same for the same lists, whatever their order.
func FormatRemaining(tree string, findings map[string][]faulttree.NotExcluded) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Which dangerous faults drawn vehicles leave possible at each finding that does not name them.\n"+
		"# Computed: %s\n"+
		"# What the model cannot draw stands in the tree, under cannot_exclude.\n"+
		"remaining: %s\nfindings:", AnewRemaining(tree), tree)
	if len(findings) == 0 {
		b.WriteString(" {}")
	}
	b.WriteByte('\n')
	for _, step := range slices.Sorted(maps.Keys(findings)) {
		all := slices.Clone(findings[step])
		if len(all) == 0 {
			fmt.Fprintf(&b, "  %s: []\n", step)
			continue
		}
		fmt.Fprintf(&b, "  %s:\n", step)
		slices.SortFunc(all, func(a, b faulttree.NotExcluded) int { return a.At().Compare(b.At()) })
		for _, n := range all {
			mark := ""
			if n.Seldom {
				mark = seldomMark
			}
			fmt.Fprintf(&b, "    - %s%s\n", n.At(), mark)
		}
	}
	return b.Bytes()
}

// readRemaining reads a file as FormatRemaining writes it.
func (p *part) readRemaining() {
	root := document.ParseYAML(p.file, &p.diags)
	m := root.Map("a list of what remains", "remaining", "findings")
	if !root.IsMap() {
		return
	}
	p.remaining = &remaining{tree: p.id}
	p.noted(refTree, p.id, p.named("remaining", m.Need("remaining")))
	for _, f := range m.Need("findings").Fields("findings") {
		at := remainingAt{step: f.Key, pos: f.KeyPos}
		for _, item := range atMost(mostRemaining, f.Value, "the list of a finding") {
			text, seldom := strings.CutSuffix(item.Text("an entry of a finding"), seldomMark)
			if text == "" {
				continue
			}
			one := faulttree.ParseFaultAt(text)
			if one.Place == "" {
				item.Report(RuleBadValue, "", "%s says no place; expected a fault and its place, such as %s@supply", text, one.Fault)
				continue
			}
			p.noted(refFault, one.Fault, item.Pos())
			at.lacks = append(at.lacks, faulttree.NotExcluded{Fault: one.Fault, Place: one.Place, Seldom: seldom, Computed: true, Pos: item.Pos()})
		}
		p.remaining.findings = append(p.remaining.findings, at)
	}
}

// withRemaining completes what findings say that they cannot exclude: their own
// entries by the tests of the faults' documents, then what was computed, where
// the finding does not speak of it itself.
func withRemaining(l *content.Library, parts []*part) {
	l.Remaining = map[faulttree.Ref]bool{}
	var diags source.List
	defer func() {
		diags.Sort()
		l.Diagnostics = append(l.Diagnostics, diags.PerFile(MostErrors, RuleTooManyErrors)...)
	}()
	for _, tree := range l.Forest.Trees {
		for _, s := range tree.Steps {
			s.Finding.CannotExclude = tested(l, s.Finding.CannotExclude, &diags)
		}
	}
	for _, p := range parts {
		if p.remaining == nil || l.Forest.Trees[p.remaining.tree] == nil {
			continue
		}
		for _, at := range p.remaining.findings {
			s := l.Forest.Step(faulttree.Ref{Tree: p.remaining.tree, Step: at.step})
			if s == nil || s.Kind != faulttree.KindFinding {
				if BesideRemaining(l, p.remaining.tree).HasErrors() { // steps that could not be read are missing
					break
				}
				diags = append(diags, source.Diagnostic{Pos: at.pos, Severity: source.Warning, Rule: RuleRemaining,
					Message: at.step + " is no finding of the tree " + p.remaining.tree,
					Hint:    "the list is out of date; it is made anew by: " + AnewRemaining(p.remaining.tree)})
				continue
			}
			l.Remaining[s.Ref()] = true
			s.Finding.CannotExclude = completed(&s.Finding, tested(l, at.lacks, &diags))
		}
	}
}

// BesideRemaining is the errors of a tree that no list of what remains brings.
func BesideRemaining(l *content.Library, tree string) source.List {
	return slices.DeleteFunc(l.TreeErrors(tree), func(d source.Diagnostic) bool { return strings.HasPrefix(d.Pos.File, RemainingFolder+"/") })
}

// completed is what a finding says itself, and what it does not speak of.
func completed(f *faulttree.Finding, computed []faulttree.NotExcluded) []faulttree.NotExcluded {
	out := slices.Clone(f.CannotExclude)
	said := map[faulttree.FaultAt]bool{}
	for _, n := range out {
		said[n.At()] = true
	}
	for _, n := range computed {
		if anywhere := (faulttree.FaultAt{Fault: n.Fault}); !said[n.At()] && !said[anywhere] && !slices.Contains(f.Faults, n.Fault) {
			said[n.At()] = true
			out = append(out, n)
		}
	}
	return out
}

// tested gives entries without a test that of their fault's document, and
// reports those for which it has none.
func tested(l *content.Library, entries []faulttree.NotExcluded, diags *source.List) []faulttree.NotExcluded {
	out := slices.Clone(entries)
	for i := range out {
		n := &out[i]
		f := l.Faults[n.Fault]
		if f == nil { // reported as a reference
			continue
		}
		if n.Place != "" && !slices.Contains(f.Places, n.Place) {
			diags.Add(n.Pos, RuleBadValue, "%s is no place of the fault %s; expected %s", n.Place, n.Fault, either(words(f.Places)))
			continue
		}
		if n.Test != "" {
			continue
		}
		t := f.TestAt(n.Place)
		if t == nil {
			where := "; say the place"
			if n.Place != "" {
				where = " in the place " + string(n.Place)
			}
			diags.AddHint(n.Pos, RuleFaultTest, "write it under test in "+f.Pos.File, "the document of %s does not say which test would exclude it%s", n.Fault, where)
			continue
		}
		n.Test = t.Sentence()
	}
	return out
}

// OrdersFile is the list of the best orders of scenarios in a handbook.
const OrdersFile = "orders.yaml"

// AnewOrders is the command that makes the list anew.
const AnewOrders = "faultwright-cli --content FOLDER scenario order --write"

// mostOrders is how many orders the list may have, and mostOrderCost what one may cost.
const (
	mostOrders    = 2000
	mostOrderCost = 100_000
)

// heldParts is in how many parts of the whole the list tells what an order holds.
const heldParts = 10_000

// FormatOrders is the text of the list of best orders, by scenario.
func FormatOrders(orders map[string]content.Order) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# What the best order of readings costs at each scenario, and how many ten-thousandths it holds.\n# Computed: %s\norders:", AnewOrders)
	if len(orders) == 0 {
		b.WriteString(" []")
	}
	b.WriteByte('\n')
	for _, id := range slices.Sorted(maps.Keys(orders)) {
		o := orders[id]
		fmt.Fprintf(&b, "  - {scenario: %s, basis: \"%s\", cost: %d, held: %d}\n", id, o.Basis, o.Cost, int(math.Round(o.Held*heldParts)))
	}
	return b.Bytes()
}

// readOrders reads the list as FormatOrders writes it.
func (p *part) readOrders() {
	p.orders = map[string]content.Order{}
	m := document.ParseYAML(p.file, &p.diags).Map("the file", "orders")
	for _, item := range atMost(mostOrders, m.Need("orders"), "orders") {
		one := item.Map("an order", "scenario", "basis", "cost", "held")
		id := one.NeedText("scenario")
		if id == "" {
			continue
		}
		if _, twice := p.orders[id]; twice {
			one.Get("scenario").Report(RuleDuplicateID, "", "the scenario %s stands twice in orders", id)
			continue
		}
		p.orders[id] = content.Order{Basis: one.NeedText("basis"), Cost: one.Need("cost").Number("cost", 0, mostOrderCost), Held: float64(one.Need("held").Number("held", 0, heldParts)) / heldParts}
	}
}
