package suspect

import (
	"cmp"
	"context"
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
	if a.One.Title == "" {
		return a.names()
	}
	return fmt.Sprintf("%s: %s against %s", a.names(), a.One.Shows, a.Other.Shows)
}

func (a Apart) names() string {
	if a.One.Title == "" {
		return "tells a little of what is to be done"
	}
	return "tells " + a.One.named() + " from " + a.Other.named()
}

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

// apart finds the two kinds of vehicle, of different suspects, that a question tells apart
// best, by the bits it tells about which of the two it is, for what both weigh. Kinds, for
// what one fault of a suspect shows another one need not; and by what their faults change
// alone, for a load that a fault leaves alone tells nothing of it, whatever drawn vehicles
// read there. The zero value where there are no two. An error is that of the population.
func (c *chooser) apart(ctx context.Context, a asked) (Apart, error) {
	tasks := c.groups()
	changed, err := c.changed(ctx, a)
	if err != nil {
		return Apart{}, err
	}
	one, other := furthest(c.answers(a, changed, tasks[:min(len(tasks), mostApart)]))
	if one == nil && len(tasks) > mostApart {
		one, other = furthest(c.answers(a, changed, tasks))
	}
	if one == nil {
		return Apart{}, nil
	}
	out := Apart{c.side(one.of[0]), c.side(other.of[0])}
	out.One.Shows, out.Other.Shows = c.shows(a, one, other)
	return out, nil
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

// side names a kind, by the position in the sample of one of its cases.
func (c *chooser) side(k int) Side {
	faults := c.pool.kinds[c.pool.kind[c.sample[k]]].faults
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

// shows words what two kinds answer: the middle of what each reads, all of it where the
// meter hardly tells these from each other, or what each answers more often than the other.
func (c *chooser) shows(a asked, one, other *answers) (string, string) {
	if a.chances != nil {
		mine, theirs := one.moreThan(other), other.moreThan(one)
		return a.words[mine], a.words[theirs]
	}
	q, m := *a.Quantity, c.reasoner.meter
	x, y := c.spread(a, one.told), c.spread(a, other.told)
	mine, theirs := m.About(x.Middle, q), m.About(y.Middle, q)
	if mine != theirs && !newBins(m, q).alike(x.Middle, y.Middle) {
		return c.often(one) + mine, c.often(other) + theirs
	}
	x, y = c.spread(a, one.of), c.spread(a, other.of)
	if mine, theirs = x.Show(q, m), y.Show(q, m); mine == theirs {
		return c.atTimes(a, one, other, mine)
	}
	return mine, theirs
}

// often says before what a kind reads whether only the fewer of its vehicles do.
func (c *chooser) often(x *answers) string {
	weight := func(k int) float64 { return c.weight[k] }
	if lists.Sum(x.told, weight) < lists.Sum(x.of, weight)/2 {
		return "at times "
	}
	return ""
}

// moreThan is the choice that one kind makes more often than another, by most.
func (x *answers) moreThan(y *answers) int {
	most := 0
	more := func(i int) float64 { return x.by[i]/total(x.by) - y.by[i]/total(y.by) }
	for i := range x.by {
		if more(i) > more(most) {
			most = i
		}
	}
	return most
}

// atTimes words what two kinds read of which most read the same: beside that, what
// one of them reads at times and the other more seldom.
func (c *chooser) atTimes(a asked, one, other *answers, most string) (string, string) {
	q, m := *a.Quantity, c.reasoner.meter
	mine, theirs, by := most, most, 0.0
	for _, k := range slices.Concat(one.of, other.of) {
		code := a.codes[k]
		more := one.by[code]/total(one.by) - other.by[code]/total(other.by)
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

// spread is what some of the sample read.
func (c *chooser) spread(a asked, of []int) Expected {
	at, whole := slices.Clone(of), 0.0
	for _, k := range at {
		whole += c.weight[k]
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
