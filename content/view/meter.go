package view

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
)

// MeterLimit is a limit of the handbook that a meter cannot decide, with whatever is
// compared with it.
type MeterLimit struct {
	Danger bool
	Text   string   // "0.3 Ω: it may be off by 0.11 Ω there, …"
	Where  []string // one line a tree: "A tingle or a shock: Cord: ground contact to ground contact"
}

// MeterLimits says which limits of a handbook a meter cannot decide, danger limits
// first.
func MeterLimits(lib *content.Library, m faulttree.Meter) []MeterLimit {
	type alike struct {
		danger                          bool
		unit                            faulttree.Unit
		limit, other, apart, off, count faulttree.Amount
		above                           bool
	}
	var keys []alike
	where := map[alike]map[string][]string{}
	for _, u := range lib.Forest.Undecided(m) {
		k := alike{u.Danger, u.Unit, u.Limit.Abs(), u.Other.Abs(), u.Apart, u.Error, u.From, u.Above}
		if where[k] == nil {
			where[k] = map[string][]string{}
			keys = append(keys, k)
		}
		if title := cmp.Or(u.Of.Title, u.Sum+", worked out"); !slices.Contains(where[k][u.Tree], title) {
			where[k][u.Tree] = append(where[k][u.Tree], title)
		}
	}
	slices.SortStableFunc(keys, func(a, b alike) int {
		if a.danger != b.danger {
			return map[bool]int{true: -1, false: 1}[a.danger]
		}
		return cmp.Or(cmp.Compare(a.unit, b.unit), cmp.Compare(a.limit, b.limit))
	})
	var out []MeterLimit
	for _, k := range keys {
		l := MeterLimit{Danger: k.danger}
		l.Text = fmt.Sprintf("%s: it may be off by %s there, and four times that is more than the %s from %s to it.",
			kinded(k.limit, k.unit), upTwo(k.off).With(k.unit), k.apart.With(k.unit), k.other.With(k.unit))
		switch {
		case k.above:
			l.Text = fmt.Sprintf("%s: by the lines of its booklet it shows OL from %s up, and OL counts as over every limit. If it has a higher range, copy the line of that too.", kinded(k.limit, k.unit), kinded(m.Top(k.unit), k.unit))
		case k.danger && k.count == 0:
			l.Text += " Any reading counts as over it."
		case k.danger:
			l.Text += fmt.Sprintf(" Every reading from %s up counts as over it.", k.count.With(k.unit))
		}
		for _, id := range lib.Forest.IDs() {
			if titles := where[k][id]; len(titles) > 0 {
				l.Where = append(l.Where, lib.Forest.Trees[id].Title+": "+strings.Join(titles, "; ")+".")
			}
		}
		out = append(out, l)
	}
	return out
}

// MeterDangers says from which figure a reading counts as over each danger limit of a
// handbook, on a meter: "30 V from 29.6 V". The lowest figure where quantities differ.
func MeterDangers(lib *content.Library, m faulttree.Meter) string {
	type limit struct {
		unit  faulttree.Unit
		value faulttree.Amount
	}
	from := map[limit]faulttree.Amount{}
	for _, id := range lib.Forest.IDs() {
		t := lib.Forest.Trees[id]
		for _, name := range t.Dangers() {
			q, known := lib.Forest.Quantities[name]
			value, declared := t.DangerLimit(name)
			if !known || !declared {
				continue
			}
			k := limit{q.Unit, value}
			if counts, told := from[k]; !told || m.CountsFrom(q, value) < counts {
				from[k] = m.CountsFrom(q, value)
			}
		}
	}
	keys := make([]limit, 0, len(from))
	for k := range from {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b limit) int { return cmp.Or(cmp.Compare(a.unit, b.unit), cmp.Compare(a.value, b.value)) })
	var out []string
	for _, k := range keys {
		out = append(out, fmt.Sprintf("%s from %s", kinded(k.value, k.unit), from[k].With(k.unit)))
	}
	return strings.Join(out, ", ")
}

// kinded is an amount with its unit, "30 V AC", "0.3 Ω".
func kinded(a faulttree.Amount, u faulttree.Unit) string {
	_, kind, _ := strings.Cut(u.String(), " ")
	return strings.TrimSpace(a.With(u) + " " + kind)
}

// upTwo is an amount in two figures, rounded up.
func upTwo(a faulttree.Amount) faulttree.Amount {
	step := faulttree.Amount(1)
	for a >= 100*step {
		step *= 10
	}
	return a.RoundUp(step)
}
