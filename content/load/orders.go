package load

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"

	"faultwright/content"
	"faultwright/content/document"
)

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
