package search

import (
	"slices"

	"faultwright/content/shorthand"
	"faultwright/faulttree"
)

// KindReadings is the kind of the one hit that is no document: the query is a
// list of readings, and what fits them is to be found.
const KindReadings = "readings"

// leastPairs is how many pairs with their readings make a list. One is offered
// to the steps that measure it.
const leastPairs = 2

// listIn is the list of readings that a query is; nil if it is none.
func (x *Index) listIn(text string) *shorthand.List {
	list, err := x.lists.Read(text)
	if err != nil || list.Pairs() < leastPairs {
		return nil
	}
	return list
}

// withList puts the offer of a list as a whole before the steps that measure
// one of its readings each: but a danger that is certain is told before it.
// Steps for a reading that the list does not have are left out: words between
// two figures can belong to either, and the list knows to which.
func (x *Index) withList(offered []Hit, list *shorthand.List, text string) []Hit {
	var dangers, others []Hit
	for _, h := range offered {
		row := slices.IndexFunc(list.Rows, func(r shorthand.Row) bool { return x.lists.Suits(list, r, h.Quantity) && x.says(r, h) })
		switch {
		case row < 0:
		case h.danger && list.Rows[row].Kind == shorthand.Taken:
			dangers = append(dangers, h)
		default:
			others = append(others, h)
		}
	}
	whole := Hit{ID: "suspects", Kind: KindReadings, Title: "These readings: find what fits them", Fragment: []Run{{Text: text}}, List: text}
	return slices.Concat(dangers, []Hit{whole}, others)
}

// says reports whether an offer fills in what a row says, or nothing.
func (x *Index) says(row shorthand.Row, h Hit) bool {
	if h.Reading == "" {
		return true
	}
	q := x.offers.forest.Quantities[h.Quantity]
	a, errA := faulttree.ParseReading(h.Reading, q)
	b, errB := faulttree.ParseReading(row.Typed, q)
	return errA == nil && errB == nil && a.Same(b)
}
