package source

import (
	"slices"
	"strings"

	"faultwright/faulttree/lists"
)

// Nearest is the candidate closest to name by edit distance, or "" if none is
// close enough to be a likely slip of the keyboard.
func Nearest(name string, candidates []string) string {
	best, bestDistance := "", 1+max(1, len([]rune(name))/3)
	for _, c := range slices.Sorted(slices.Values(candidates)) {
		if d := distance(name, c, bestDistance); d < bestDistance {
			best, bestDistance = c, d
		}
	}
	return best
}

// DidYouMean is a hint naming the candidates of which name is the first word, or
// else the nearest; "" if there is none.
func DidYouMean(name string, candidates []string) string {
	begun := lists.Where(candidates, func(c string) bool { return strings.HasPrefix(c, name+" ") })
	if len(begun) > 0 {
		return "did you mean " + strings.Join(begun, " or ") + "?"
	}
	if n := Nearest(name, candidates); n != "" {
		return "did you mean " + n + "?"
	}
	return ""
}

// distance is the optimal string alignment distance (insert, delete, replace,
// swap neighbours) of a and b, or limit if it is not smaller.
func distance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) >= limit || len(y)-len(x) >= limit {
		return limit
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		lowest := row[0]
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			lowest = min(lowest, row[j])
		}
		if lowest >= limit {
			return limit
		}
		before, last, row = last, row, before
	}
	return min(last[len(y)], limit)
}
