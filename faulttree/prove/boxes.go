package prove

import (
	"slices"

	"faultwright/faulttree"
)

// stepWork and forestWork bound what coverage of one step, and of all steps,
// may cost, counted in looks at one side of one box; graphLooks bounds the
// looks at exits that following all ways may cost. The shipped handbook takes
// less than a hundredth of each.
const (
	stepWork   = 10_000_000
	forestWork = 10_000_000
	graphLooks = 50_000_000
	mostShown  = 3 // gaps, and overlaps, reported for one step
)

// region is a product of spans, one for each axis. An axis is a measured
// quantity or a derived value.
type region []faulttree.Span

func (r region) empty() bool {
	return slices.ContainsFunc(r, faulttree.Span.Empty)
}

// clash is a part of the domain that two branches take.
type clash struct {
	first, second int
	where         region
}

// cover is the result of comparing branches with a domain.
type cover struct {
	gaps     []region
	overlaps []clash
	complete bool // false if the work ran out
}

// full reports whether enough has been found to stop looking.
func (c *cover) full() bool { return len(c.gaps) >= mostShown && len(c.overlaps) >= mostShown }

func (c *cover) gap(r region) {
	if len(c.gaps) < mostShown {
		c.gaps = append(c.gaps, r)
	}
}

func (c *cover) overlap(a, b int, r region) {
	if a > b {
		a, b = b, a
	}
	if len(c.overlaps) >= mostShown || slices.ContainsFunc(c.overlaps, func(o clash) bool { return o.first == a && o.second == b }) {
		return
	}
	c.overlaps = append(c.overlaps, clash{a, b, r})
}

// compareBoxes decides whether boxes fill domain exactly once. The domain is
// reportStopped in two, again and again, along a side of some box inside it,
// until a part is free, or filled by one box, or filled by one and touched by
// another. Sides are ranked first, so that the cutting compares small integers.
// Empty boxes must not be among the boxes. Work is lowered by what was spent.
func compareBoxes(domain region, boxes []region, work *int) cover {
	c := &cutter{axes: len(domain), sides: make([][]faulttree.Amount, len(domain)), work: work, cover: cover{complete: true}}
	for axis, d := range domain {
		list := []faulttree.Amount{d.From, d.Below}
		for _, b := range boxes {
			list = append(list, b[axis].From, b[axis].Below)
		}
		slices.Sort(list)
		c.sides[axis] = slices.Compact(list)
	}
	c.low, c.high = make([]int32, 0, len(boxes)*c.axes), make([]int32, 0, len(boxes)*c.axes)
	all := make([]int32, len(boxes))
	for i, b := range boxes {
		all[i] = int32(i)
		for axis, s := range b {
			c.low = append(c.low, c.rank(axis, s.From))
			c.high = append(c.high, c.rank(axis, s.Below))
		}
	}
	low, high := make([]int32, c.axes), make([]int32, c.axes)
	for axis, d := range domain {
		low[axis], high[axis] = c.rank(axis, d.From), c.rank(axis, d.Below)
	}
	c.part(low, high, all)
	return c.cover
}

// cutter holds the ranked boxes: sides[axis][low[box*axes+axis]] is where a
// box begins on an axis.
type cutter struct {
	axes      int
	sides     [][]faulttree.Amount
	low, high []int32
	begins    []int32 // scratch
	ends      []int32
	work      *int
	cover
}

func (c *cutter) rank(axis int, a faulttree.Amount) int32 {
	i, _ := slices.BinarySearch(c.sides[axis], a)
	return int32(i)
}

func (c *cutter) region(low, high []int32) region {
	r := make(region, c.axes)
	for axis := range r {
		r[axis] = faulttree.Span{From: c.sides[axis][low[axis]], Below: c.sides[axis][high[axis]]}
	}
	return r
}

// part examines the part of the domain from low to high, which all the boxes
// in list touch.
func (c *cutter) part(low, high []int32, list []int32) {
	if c.full() {
		return
	}
	if *c.work -= len(list)*c.axes + 1; *c.work < 0 {
		c.complete = false
		return
	}
	if len(list) == 0 {
		c.gap(c.region(low, high))
		return
	}
	for _, b := range list {
		if c.fills(b, low, high) {
			c.shared(b, low, high, list)
			return
		}
	}
	axis, at := c.cut(low, high, list)
	left, right := make([]int32, 0, len(list)), make([]int32, 0, len(list))
	for _, b := range list {
		k := int(b)*c.axes + axis
		if c.low[k] < at {
			left = append(left, b)
		}
		if c.high[k] > at {
			right = append(right, b)
		}
	}
	kept := high[axis]
	high[axis] = at
	c.part(low, high, left)
	high[axis] = kept
	kept = low[axis]
	low[axis] = at
	c.part(low, high, right)
	low[axis] = kept
}

func (c *cutter) fills(b int32, low, high []int32) bool {
	k := int(b) * c.axes
	for axis := range low {
		if c.low[k+axis] > low[axis] || c.high[k+axis] < high[axis] {
			return false
		}
	}
	return true
}

// shared notes every box that lies in a part which box b fills.
func (c *cutter) shared(b int32, low, high []int32, list []int32) {
	for _, other := range list {
		if other == b {
			continue
		}
		k := int(other) * c.axes
		from, to := slices.Clone(low), slices.Clone(high)
		for axis := range low {
			from[axis], to[axis] = max(from[axis], c.low[k+axis]), min(to[axis], c.high[k+axis])
		}
		c.overlap(int(b), int(other), c.region(from, to))
	}
}

// cut picks where to cut: along a side of a box, so that few boxes are cut
// through and the two halves are alike.
func (c *cutter) cut(low, high []int32, list []int32) (bestAxis int, bestAt int32) {
	best := int(^uint(0) >> 1)
	for axis := range low {
		begins, ends := c.begins[:0], c.ends[:0]
		for _, b := range list {
			k := int(b)*c.axes + axis
			if c.low[k] > low[axis] {
				begins = append(begins, c.low[k])
			}
			if c.high[k] < high[axis] {
				ends = append(ends, c.high[k])
			}
		}
		c.begins, c.ends = begins, ends
		slices.Sort(begins)
		slices.Sort(ends)
		for i, j := 0, 0; i < len(begins) || j < len(ends); {
			at := high[axis]
			if i < len(begins) {
				at = begins[i]
			}
			if j < len(ends) {
				at = min(at, ends[j])
			}
			right := len(begins) - i // boxes that begin at or after the cut
			for j < len(ends) && ends[j] == at {
				j++
			}
			left := j // boxes that end at or before it
			for i < len(begins) && begins[i] == at {
				i++
			}
			through := len(list) - left - right
			if cost := 3*through + max(left, right); cost < best {
				best, bestAxis, bestAt = cost, axis, at
			}
		}
	}
	return bestAxis, bestAt
}
