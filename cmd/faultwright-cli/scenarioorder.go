package main

import (
	"fmt"
	"maps"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
)

type scenarioOrder struct {
	Scenarios []string `arg:"" optional:"" name:"scenario" help:"Scenarios of the handbook, as list has them; by itself all whose order is not worked out yet, or was from something else."`
	Write     bool     `help:"Write the orders into orders.yaml of the handbook that --content names."`
}

func (c scenarioOrder) Help() string {
	return "Works out what the best order of readings at a scenario costs and holds: marks are given beside it. It takes some seconds for each scenario; what is stored takes none."
}

func (c scenarioOrder) Run(p *program) error {
	if c.Write && p.content == "" {
		return bad("--write needs --content: the folder of the handbook to write to")
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	if lib.Rubric == nil {
		return bad("the handbook has no rubric to mark by")
	}
	all, err := c.wanted(lib)
	if err != nil {
		return err
	}
	var to *handbookFolder
	if c.Write { // before the work, so that none is done in vain
		if to, err = openHandbook(p.content, "."); err != nil {
			return bad("the orders cannot be written: %v", err)
		}
		defer to.Close()
	}
	orders := maps.Clone(lib.Orders)
	if orders == nil {
		orders = map[string]content.Order{}
	}
	maps.DeleteFunc(orders, func(id string, _ content.Order) bool { return lib.Scenarios[id] == nil })
	beliefs := scenes.NewBeliefs(lib, faulttree.DefaultMeter())
	for _, s := range all {
		o, err := scenes.BestOrder(p.ctx, lib, s, beliefs)
		if err != nil {
			return bad("%s: %v", s.ID, err)
		}
		orders[s.ID] = o
		fmt.Fprintf(p.out, "%s: costs %d, holds %.2f %%\n", s.ID, o.Cost, 100*o.Held)
	}
	if to == nil {
		return nil
	}
	if err := to.write(map[string][]byte{load.OrdersFile: load.FormatOrders(orders)}); err != nil {
		return bad("the orders cannot be written: %v", err)
	}
	return nil
}

// wanted is the scenarios that were named, or those without an order.
func (c scenarioOrder) wanted(lib *content.Library) ([]*content.Scenario, error) {
	var out []*content.Scenario
	for _, id := range c.Scenarios {
		s := lib.Scenarios[id]
		if s == nil {
			return nil, bad("the handbook has no scenario %s", id)
		}
		out = append(out, s)
	}
	if len(c.Scenarios) > 0 {
		return out, nil
	}
	for _, s := range view.Scenarios(lib) {
		if _, ok := lib.Order(s); !ok {
			out = append(out, s)
		}
	}
	return out, nil
}
