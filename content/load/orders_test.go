package load

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/content"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// What is written is read again, down to the ten-thousandth.
func TestOrdersAreReadAsTheyAreWritten(t *testing.T) {
	want := map[string]content.Order{"one": {Basis: "0012", Cost: 7, Held: 0.9934}, "other": {Basis: "1", Cost: 2, Held: 0.9645}, "two": {Basis: "34ef", Held: 1}}
	for _, orders := range []map[string]content.Order{want, {}} {
		files := archive(t, "testdata/base.txtar")
		files[OrdersFile] = string(FormatOrders(orders))
		l := FS(context.Background(), folder(files))
		if len(l.Diagnostics) > 0 {
			t.Error(l.Diagnostics)
		}
		if d := cmp.Diff(orders, l.Orders); d != "" {
			t.Error(d)
		}
	}
}

func TestMistakesInOrders(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	files[OrdersFile] = "orders:\n" +
		"  - {scenario: one, basis: a, cost: -1, held: 5}\n" +
		"  - {scenario: one, basis: a, cost: 1, held: 5}\n" +
		"  - {scenario: two, cost: 1, held: 10001}\n"
	got := lists.Each(FS(context.Background(), folder(files)).Diagnostics, func(d source.Diagnostic) string { return d.Pos.String() + " " + d.Rule })
	want := []string{"orders.yaml:2:37 wrong-type", "orders.yaml:3:16 duplicate-id", "orders.yaml:4:5 missing-key", "orders.yaml:4:36 wrong-type"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}
