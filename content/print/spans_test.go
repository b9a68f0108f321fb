package print

import (
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
)

// Every limit of every chart and branch of the handbook, as paper words it, holds for the
// same figures as the engine's: it is read back here by another reading of its words, and
// tried at its own edges and beside them.
func TestLimitsOnPaperAreThoseOfTheEngine(t *testing.T) {
	lib, tried := load.Shipped(), 0
	for _, tree := range lib.Forest.Trees {
		for _, s := range tree.Steps {
			for _, b := range s.Branches {
				for _, bound := range b.Bounds {
					_, u := columnOf(s, bound.Var)
					tried += tryLimit(t, s.Ref().String(), faulttree.Cell{Spans: []faulttree.Span{bound.Span}}, u, limit(bound.Span, u))
				}
			}
			if s.Chart == nil {
				continue
			}
			for _, r := range s.Chart.Rows {
				for c, asked := range r.Cells {
					_, u := columnOf(s, c)
					tried += tryLimit(t, s.Ref().String(), asked, u, cell(asked, u))
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d figures were tried", tried)
	}
}

// tryLimit holds a text against the spans that it words.
func tryLimit(t *testing.T, where string, c faulttree.Cell, u faulttree.Unit, text string) (tried int) {
	t.Helper()
	if c.Any() {
		if text != "" {
			t.Errorf("%s: a cell that asks nothing says %q", where, text)
		}
		return 0
	}
	for _, s := range c.Spans {
		for _, edge := range []faulttree.Amount{s.From, s.Below} {
			if edge == faulttree.Lowest || edge == faulttree.Highest || edge >= faulttree.OverTop {
				continue
			}
			for _, by := range []faulttree.Amount{-faulttree.One / 1000, -1, 0, 1, faulttree.One / 1000} {
				v := edge + by
				if v < 0 && !u.Signed() {
					continue
				}
				want := false
				for _, s := range c.Spans {
					want = want || s.Contains(v)
				}
				if got := allows(t, text, v); got != want {
					t.Errorf("%s: %q says %v of %s, and the engine %v", where, text, got, v.With(u), want)
				}
				tried++
			}
		}
	}
	if strings.Contains(text, "not read") != c.NotTaken {
		t.Errorf("%s: %q, and not taken counts: %v", where, text, c.NotTaken)
	}
	return tried
}

// allows reads "≥5 to <30 V or OL" as somebody does who holds the page.
func allows(t *testing.T, text string, v faulttree.Amount) bool {
	t.Helper()
	for _, part := range strings.Split(text, " or ") {
		switch part {
		case "OL", "not read":
			continue
		case "any figure":
			return true
		}
		from, to, both := strings.Cut(part, " to ")
		if both {
			if !strings.ContainsAny(from[:1], ">") && !strings.HasPrefix(from, "≥") {
				from = "≥" + from
			}
			_, unit, _ := strings.Cut(to, "\u00a0")
			if !strings.Contains(from, "\u00a0") {
				from += "\u00a0" + unit
			}
		}
		if holds(t, from, v) && (!both || holds(t, to, v)) {
			return true
		}
	}
	return false
}

// holds reads one comparison.
func holds(t *testing.T, text string, v faulttree.Amount) bool {
	t.Helper()
	for _, x := range []struct {
		sign string
		is   func(a, b faulttree.Amount) bool
	}{
		{"≥", func(a, b faulttree.Amount) bool { return a >= b }}, {"≤", func(a, b faulttree.Amount) bool { return a <= b }},
		{">", func(a, b faulttree.Amount) bool { return a > b }}, {"<", func(a, b faulttree.Amount) bool { return a < b }},
	} {
		if figure, ok := strings.CutPrefix(text, x.sign); ok {
			f, err := faulttree.ParseFigure(faulttree.Tidy(figure))
			if err != nil {
				t.Fatalf("%q: %v", text, err)
			}
			at, _, err := f.Amount()
			if err != nil {
				t.Fatalf("%q: %v", text, err)
			}
			return x.is(v, at)
		}
	}
	t.Fatalf("%q compares with nothing", text)
	return false
}
