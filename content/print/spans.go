package print

import (
	"strings"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// limit writes the values of a span as a chart on paper does: "≥15 V", ">1 Ω", "5 to
// <30 V".
func limit(s faulttree.Span, u faulttree.Unit) string {
	if s.From >= faulttree.OverTop {
		return "OL"
	}
	low, high := s.From != faulttree.Lowest && !(s.From == 0 && !u.Signed()), s.Below != faulttree.Highest
	from, below := s.From.Written().With(u), s.Below.Written().With(u)
	above, upTo := "≥", "<"
	if s.From.Written() != s.From {
		above = ">"
	}
	if s.Below.Written() != s.Below {
		upTo = "≤"
	}
	figure, unit, _ := strings.Cut(from, " ")
	if low && high && strings.HasSuffix(below, " "+unit) {
		from = figure // one unit for both
	}
	switch {
	case low && high && above == "≥":
		return joined(from) + " to " + upTo + joined(below)
	case low && high:
		return above + joined(from) + " to " + upTo + joined(below)
	case low:
		return above + joined(from)
	case high:
		return upTo + joined(below)
	}
	return "any figure"
}

// joined keeps a figure and its unit on one line.
func joined(figure string) string {
	return strings.ReplaceAll(strings.Replace(figure, "-", "−", 1), " ", "\u00a0")
}

// spans writes several spans.
func spans(all []faulttree.Span, u faulttree.Unit) string {
	return strings.Join(lists.Each(view.Joined(all), func(s faulttree.Span) string { return limit(s, u) }), " or ")
}

// cell writes what a row of a chart asks of a column; "" for nothing.
func cell(c faulttree.Cell, u faulttree.Unit) string {
	text := spans(c.Spans, u)
	switch {
	case c.NotTaken && text != "":
		return text + " or not read"
	case c.NotTaken:
		return "not read"
	}
	return text
}
