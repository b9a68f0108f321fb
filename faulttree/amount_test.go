package faulttree

import "testing"

func TestSpanInWords(t *testing.T) {
	for _, c := range []struct {
		span Span
		want string
	}{
		{Only(110*One, 127*One), "110 V to 127 V"},
		{Span{5 * One, 30 * One}, "5 V to below 30 V"},
		{Span{Lowest, 5 * One}, "below 5 V"},
		{Only(Lowest, 5*One), "up to 5 V"},
		{Span{5*One + 1, Highest}, "above 5 V"},
		{Only(5*One+1, 30*One), "above 5 V, up to 30 V"},
		{Span{30 * One, Highest}, "30 V and more"},
		{Everything(), "any reading"},
	} {
		if got := c.span.Format(VoltsAC); got != c.want {
			t.Errorf("%v to below %v reads %q; want %q", c.span.From, c.span.Below, got, c.want)
		}
	}
}

// Inclusive bounds are held a billionth higher, below zero too.
func TestBoundsAsWritten(t *testing.T) {
	five := 5 * One
	for _, c := range []struct {
		span Span
		want string
	}{
		{Span{Lowest, -five + 1}, "up to -5 V"},
		{Span{-five + 1, Highest}, "above -5 V"},
		{Span{-five, five + 1}, "-5 V to 5 V"},
		{Span{-five, five}, "-5 V to below 5 V"},
		{Span{-five + 1, five + 1}, "above -5 V, up to 5 V"},
		{Span{Lowest, Highest}, "any reading"},
	} {
		if got := c.span.Format(VoltsDC); got != c.want {
			t.Errorf("%v: %q, want %q", c.span, got, c.want)
		}
	}
}
