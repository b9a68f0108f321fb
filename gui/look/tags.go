package look

import "sort"

// tag is a short label that belongs at a place along a line.
type tag struct {
	centre, width float32
	rank          int // the higher ranks are placed first
}

// spot is where a tag went: its left edge and its row, 0 nearest the bar.
// Shown is false where there was no room.
type spot struct {
	x     float32
	row   int
	shown bool
}

// tagRows is how many rows of tags there may be.
const tagRows = 2

// placeTags gives each tag a place as near its centre as the ends of the line
// allow, in the first row where it keeps gap from those placed
// before it. What fits nowhere is not shown; nothing overlaps.
func placeTags(tags []tag, length float32, gap float32) []spot {
	order := make([]int, len(tags))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return tags[order[a]].rank > tags[order[b]].rank })
	out := make([]spot, len(tags))
	for _, i := range order {
		t := tags[i]
		if t.width > length || t.width == 0 {
			continue
		}
		x := max(0, min(t.centre-t.width/2, length-t.width))
		for row := range tagRows {
			if free(tags, out, x, t.width, row, gap) {
				out[i] = spot{x, row, true}
				break
			}
		}
	}
	return out
}

func free(tags []tag, placed []spot, x, width float32, row int, gap float32) bool {
	for j, s := range placed {
		if s.shown && s.row == row && x < s.x+tags[j].width+gap && s.x < x+width+gap {
			return false
		}
	}
	return true
}

// rowsOf is how many rows the shown spots need.
func rowsOf(spots []spot) int {
	n := 0
	for _, s := range spots {
		if s.shown {
			n = max(n, s.row+1)
		}
	}
	return n
}
