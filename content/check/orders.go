package check

import (
	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree/source"
)

// ruleOrder is that of a scenario without a best order that is current.
const ruleOrder = "order-missing"

// unordered reports the scenarios whose best order is not stored, or was worked out
// from something else. A handbook that marks nothing needs none.
func unordered(l *content.Library) source.List {
	if l.Rubric == nil {
		return nil
	}
	var out source.List
	for _, s := range view.Scenarios(l) {
		if _, ok := l.Order(s); !ok {
			out = append(out, source.Diagnostic{Pos: s.Pos, Severity: source.Warning, Rule: ruleOrder, Hint: "worked out by: " + load.AnewOrders,
				Message: "no best order of this scenario is stored that is current, and marks beside it take long"})
		}
	}
	return out
}
