package main

import (
	"bytes"
	"strings"
	"testing"

	"faultwright/faulttree/trial"
)

// What the best order costs is told once where it is alike for both roles, and for
// each where it is not.
func TestOrdersAlike(t *testing.T) {
	order := func(role, until, vehicles string, tree float64) trial.Order {
		return trial.Order{Role: role, Until: until, Vehicles: vehicles, Walks: 10, Tree: tree, Best: 4, Spared: []trial.Spared{{Quantity: "body-earth", Tree: 1}}}
	}
	var orders []trial.Order
	for _, role := range []string{"owner", "qualified"} {
		for _, until := range []string{"finding", "task"} {
			cost := 5.0
			if role == "qualified" && until == "task" {
				cost = 6
			}
			orders = append(orders, order(role, until, "faulted", 5), order(role, until, "sound", 5), order(role, until, "all", cost))
		}
	}
	var out bytes.Buffer
	page{w: &out, width: 200}.orders(orders)
	var lines []string
	for _, line := range strings.Split(out.String(), "\n") {
		if head, _, ok := strings.Cut(line, ": tree"); ok {
			lines = append(lines, strings.Join(strings.Fields(head), " "))
		}
	}
	want := []string{"cost, either role 1.25 x to the same finding", "cost, owner 1.25 x to the same to be done", "cost, qualified 1.50 x to the same to be done"}
	if strings.Join(lines, "\n") != strings.Join(want, "\n") {
		t.Errorf("it says\n%s\nwant\n%s", out.String(), strings.Join(want, "\n"))
	}
}
