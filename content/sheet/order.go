package sheet

import (
	"maps"
	"slices"
	"strings"

	"faultwright/faulttree"
)

// sorted lists limits by size, then by name.
func sorted(limits map[string]faulttree.Limit) []faulttree.Limit {
	return slices.SortedFunc(maps.Values(limits), func(a, b faulttree.Limit) int {
		switch {
		case a.Value < b.Value:
			return -1
		case a.Value > b.Value:
			return 1
		}
		return strings.Compare(a.Name, b.Name)
	})
}
