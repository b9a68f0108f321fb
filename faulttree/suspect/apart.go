package suspect

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Apart is two suspects that something tells apart, and what it shows with each.
type Apart struct{ One, Other Side }

// Side is one of them.
type Side struct {
	Title  string            // of its likeliest fault, or of those that are there together
	Places []faulttree.Place // where that sits; none for a sound vehicle
	Shows  string            // "0.2 V", "gone", what is seen
}

// String is a sentence without its full stop: tells this from that, by what each
// shows.
func (a Apart) String() string {
	return fmt.Sprintf("%s: %s against %s", a.names(), a.One.Shows, a.Other.Shows)
}

func (a Apart) names() string { return "tells " + a.One.named() + " from " + a.Other.named() }

func (s Side) named() string {
	out := "“" + s.Title + "”"
	for i, place := range s.Places {
		out += []string{" (", ", "}[min(i, 1)] + place.Word()
	}
	if len(s.Places) > 0 {
		out += ")"
	}
	return out
}

// mostApart is among how many of the likeliest suspects two are looked for, unless
// it tells nothing of these.
const mostApart = 8

// apart finds the two suspects that a question tells apart best, by the bits it
// tells about which of the two it is, for what both weigh.
func (c *chooser) apart(a asked) Apart {
	groups := c.groups()
	likeliest := groups[:min(len(groups), mostApart)]
	best, most := c.mostBetween(a, likeliest)
	if most < 1e-12 && len(groups) > mostApart {
		best, most = c.mostBetween(a, groups)
	}
	if most < 0 { // there is only one
		return Apart{}
	}
	one, other := groups[best[0]], groups[best[1]]
	out := Apart{c.side(one), c.side(other)}
	out.One.Shows, out.Other.Shows = c.shows(a, one, other)
	return out
}

// mostBetween is which two of some groups a question tells apart best, and by how
// many bits; less than 0 where there are no two.
func (c *chooser) mostBetween(a asked, groups [][]int) (best [2]int, most float64) {
	most = -1
	for i := range groups {
		for j := range i {
			if bits := c.bitsBetween(a, groups[j], groups[i]); bits > most+1e-12 {
				best, most = [2]int{j, i}, bits
			}
		}
	}
	return best, most
}

// groups is the positions in the sample of each task, the likeliest first.
func (c *chooser) groups() [][]int {
	by := map[int][]int{}
	weight := map[int]float64{}
	for k, i := range c.sample {
		t := c.pool.task(i)
		by[t] = append(by[t], k)
		weight[t] += c.weight[k]
	}
	var tasks []int
	for t := range by {
		tasks = append(tasks, t)
	}
	slices.SortFunc(tasks, func(x, y int) int { return cmp.Or(cmp.Compare(weight[y], weight[x]), cmp.Compare(x, y)) })
	return lists.Each(tasks, func(t int) []int { return by[t] })
}

// byCode is the weight of some positions by what they answer; of what reads
// nothing there is none.
func (c *chooser) byCode(a asked, group []int) (by [256]float64, whole float64) {
	for _, k := range group {
		if a.column == nil || a.column[k] == a.column[k] {
			by[a.codes[k]] += c.weight[k]
			whole += c.weight[k]
		}
	}
	return by, whole
}

// bitsBetween is what the answer tells about which of two groups it is.
func (c *chooser) bitsBetween(a asked, one, other []int) float64 {
	x, wx := c.byCode(a, one)
	y, wy := c.byCode(a, other)
	log := func(w float64) float64 {
		if w <= 0 {
			return 0
		}
		return w * math.Log2(w)
	}
	bits := log(wx+wy) - log(wx) - log(wy)
	for code := range x {
		bits -= log(x[code]+y[code]) - log(x[code]) - log(y[code])
	}
	return bits
}

// side names a group after the likeliest of its kinds.
func (c *chooser) side(group []int) Side {
	weight := map[int32]float64{}
	likeliest := c.pool.kind[c.sample[group[0]]]
	for _, k := range group {
		kind := c.pool.kind[c.sample[k]]
		if weight[kind] += c.weight[k]; weight[kind] > weight[likeliest] {
			likeliest = kind
		}
	}
	faults := c.pool.kinds[likeliest].faults
	if len(faults) == 0 {
		return Side{Title: cmp.Or(c.reasoner.describe(NoFault, "").Title, noFaultShown)}
	}
	var out Side
	for i, f := range faults {
		title := c.reasoner.describe(f.Fault, f.Place).Title
		if i > 0 {
			title = " and " + faulttree.InSentence(title)
		}
		out.Title += title
		if !slices.Contains(out.Places, f.Place) {
			out.Places = append(out.Places, f.Place)
		}
	}
	return out
}

// shows words what two groups answer: the middle of what each reads, all of it
// where these are alike, or what each answers more often than the other.
func (c *chooser) shows(a asked, one, other []int) (string, string) {
	if a.column == nil {
		x, wx := c.byCode(a, one)
		y, wy := c.byCode(a, other)
		mine, theirs := 0, 0
		for code := range a.words {
			more := func(code int) float64 { return x[code+1]/wx - y[code+1]/wy }
			if more(code) > more(mine) {
				mine = code
			}
			if more(code) < more(theirs) {
				theirs = code
			}
		}
		return a.words[mine], a.words[theirs]
	}
	q, m := *a.Quantity, c.reasoner.meter
	x, y := c.spread(a, one), c.spread(a, other)
	if x.Middle != x.Middle || y.Middle != y.Middle {
		return "one thing", "another" // nothing that can be told in figures
	}
	mine, theirs := m.About(x.Middle, q), m.About(y.Middle, q)
	if mine != theirs {
		return mine, theirs
	}
	if mine, theirs = x.Show(q, m), y.Show(q, m); mine == theirs {
		return c.atTimes(a, one, other, mine)
	}
	return mine, theirs
}

// atTimes words what two groups read of which most read the same: beside that, what
// one of them reads at times and the other more seldom.
func (c *chooser) atTimes(a asked, one, other []int, most string) (string, string) {
	x, wx := c.byCode(a, one)
	y, wy := c.byCode(a, other)
	q, m := *a.Quantity, c.reasoner.meter
	mine, theirs, by := most, most, 0.0
	for _, k := range slices.Concat(one, other) {
		code := a.codes[k]
		more := x[code]/wx - y[code]/wy
		if shows := m.About(float64(a.column[k]), q); math.Abs(more) > by && shows != most {
			by, mine, theirs = math.Abs(more), most, most
			if shows = "at times " + shows; more > 0 {
				mine = shows
			} else {
				theirs = shows
			}
		}
	}
	return mine, theirs
}

// spread is what a group reads.
func (c *chooser) spread(a asked, group []int) Expected {
	var at []int
	whole := 0.0
	for _, k := range group {
		if x := a.column[k]; x == x {
			at = append(at, k)
			whole += c.weight[k]
		}
	}
	slices.SortFunc(at, func(i, j int) int { return cmp.Compare(a.column[i], a.column[j]) })
	below := func(share float64) float64 {
		held := 0.0
		for _, k := range at {
			if held += c.weight[k]; held >= share*whole {
				return float64(a.column[k])
			}
		}
		return math.NaN()
	}
	return Expected{below(0.05), below(0.5), below(0.95)}
}
