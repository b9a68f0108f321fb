package prove

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"faultwright/faulttree"
)

// partition cuts domain into n boxes, each cut through one box.
func partition(r *rand.Rand, domain region, n int) []region {
	boxes := []region{slices.Clone(domain)}
	for tries := 0; len(boxes) < n && tries < 20*n; tries++ {
		k, axis := r.IntN(len(boxes)), r.IntN(len(domain))
		s := boxes[k][axis]
		low, high := max(s.From, -1000*volt), min(s.Below, 1000*volt)
		if high-low < 2 {
			continue
		}
		cut := low + 1 + faulttree.Amount(r.Int64N(int64(high-low-1)))
		if r.IntN(2) == 0 && cut/volt*volt > low {
			cut = cut / volt * volt
		}
		other := slices.Clone(boxes[k])
		boxes[k][axis].Below, other[axis].From = cut, cut
		boxes = append(boxes, other)
	}
	r.Shuffle(len(boxes), func(i, j int) { boxes[i], boxes[j] = boxes[j], boxes[i] })
	return boxes
}

// domains are axes as quantities have them.
func domains(r *rand.Rand, axes int) region {
	d := make(region, axes)
	for i := range d {
		if d[i] = span(0, 0); r.IntN(4) == 0 {
			d[i] = faulttree.Everything()
		}
	}
	return d
}

// mutate spoils, or only seems to spoil, one box.
func mutate(r *rand.Rand, boxes []region, domain region) []region {
	k, axis := r.IntN(len(boxes)), r.IntN(len(domain))
	s := &boxes[k][axis]
	by := []faulttree.Amount{1, 1000, volt, 50 * volt}[r.IntN(4)]
	switch r.IntN(8) {
	case 0:
		return slices.Delete(boxes, k, k+1)
	case 1:
		return append(boxes, slices.Clone(boxes[k]))
	case 2:
		s.From = max(domain[axis].From, max(s.From, faulttree.Lowest+by)-by)
	case 3:
		s.From = min(s.From, faulttree.Highest-by) + by
	case 4:
		s.Below = max(s.Below, faulttree.Lowest+by) - by
	case 5:
		s.Below = min(s.Below, faulttree.Highest-by) + by
	case 6:
		*s = domain[axis]
	case 7: // nothing, so that false alarms are looked for too
	}
	return slices.DeleteFunc(boxes, region.empty)
}

// overlapping is the first pair of boxes that meet, by comparing every two.
func overlapping(boxes []region) bool {
	for i, a := range boxes {
	next:
		for _, b := range boxes[i+1:] {
			for axis := range a {
				if a[axis].From >= b[axis].Below || b[axis].From >= a[axis].Below {
					continue next
				}
			}
			return true
		}
	}
	return false
}

// volume is how many readings a box holds.
func volume(r region) *big.Int {
	v := big.NewInt(1)
	for _, s := range r {
		side := new(big.Int).Sub(big.NewInt(int64(s.Below)), big.NewInt(int64(s.From)))
		v.Mul(v, side)
	}
	return v
}

// fills reports whether boxes that do not overlap fill domain: their readings
// are as many as the domain's.
func fills(domain region, boxes []region) bool {
	sum := new(big.Int)
	for _, b := range boxes {
		sum.Add(sum, volume(b.meet(domain)))
	}
	return sum.Cmp(volume(domain)) == 0
}

// counted decides the same by looking at every cell between the sides of the
// boxes, for small sets only.
func counted(domain region, boxes []region) (gap, overlap, ok bool) {
	sides := make([][]faulttree.Amount, len(domain))
	cells := 1
	for axis, d := range domain {
		sides[axis] = []faulttree.Amount{d.From}
		for _, b := range boxes {
			for _, x := range []faulttree.Amount{b[axis].From, b[axis].Below} {
				if d.Contains(x) {
					sides[axis] = append(sides[axis], x)
				}
			}
		}
		slices.Sort(sides[axis])
		sides[axis] = slices.Compact(sides[axis])
		if cells *= len(sides[axis]); cells > 3000 {
			return false, false, false
		}
	}
	for c := range cells {
		inside := 0
		for _, b := range boxes {
			k, in := c, true
			for axis := range b {
				in = in && b[axis].Contains(sides[axis][k%len(sides[axis])])
				k /= len(sides[axis])
			}
			if in {
				inside++
			}
		}
		gap, overlap = gap || inside == 0, overlap || inside > 1
	}
	return gap, overlap, true
}

// checkWitnesses fails if a reported gap or overlap is not one.
func checkWitnesses(t *testing.T, domain region, boxes []region, c cover) {
	t.Helper()
	for _, g := range c.gaps {
		for i, b := range boxes {
			if !g.meet(b).empty() {
				t.Fatalf("the gap %v lies in box %d, %v", g, i, b)
			}
		}
		if g.empty() || !slices.EqualFunc(g, g.meet(domain), func(a, b faulttree.Span) bool { return a == b }) {
			t.Fatalf("the gap %v is empty or leaves the domain", g)
		}
	}
	for _, o := range c.overlaps {
		if o.where.empty() || o.first == o.second {
			t.Fatalf("the overlap %v is none", o)
		}
		for _, b := range []region{boxes[o.first], boxes[o.second]} {
			if !slices.Equal(o.where.meet(b), o.where) {
				t.Fatalf("the overlap %v leaves %v", o, b)
			}
		}
	}
}

// TestMutatedPartitions compares the subdivision with an independent check on
// 10,000 seeded mutations: pairs that overlap, and a sum of volumes in big
// integers.
func TestMutatedPartitions(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 4))
	spoiled, clean, cells := 0, 0, 0
	for i := range 10_000 {
		domain := domains(r, 1+r.IntN(7))
		boxes := mutate(r, partition(r, domain, 1+r.IntN(40)), domain)
		inside := slices.Clone(boxes)
		for k := range inside {
			inside[k] = inside[k].meet(domain)
		}
		inside = slices.DeleteFunc(inside, region.empty)
		work := stepWork
		got := compareBoxes(domain, inside, &work)
		if !got.complete {
			t.Fatalf("mutation %d: not complete", i)
		}
		checkWitnesses(t, domain, inside, got)
		overlap := overlapping(inside)
		if overlap != (len(got.overlaps) > 0) {
			t.Fatalf("mutation %d: overlap %v, found %v\n%v", i, overlap, got.overlaps, inside)
		}
		if !overlap && fills(domain, inside) != (len(got.gaps) == 0) {
			t.Fatalf("mutation %d: filled %v, found gaps %v\n%v", i, fills(domain, inside), got.gaps, inside)
		}
		if gap, twice, ok := counted(domain, inside); ok {
			cells++
			if gap != (len(got.gaps) > 0) || twice != overlap {
				t.Fatalf("mutation %d: by cells gap %v overlap %v, found %+v\n%v", i, gap, twice, got, inside)
			}
		}
		if len(got.gaps)+len(got.overlaps) > 0 {
			spoiled++
		} else {
			clean++
		}
	}
	t.Logf("%d spoiled, %d clean, %d of them counted cell by cell", spoiled, clean, cells)
	if spoiled < 5000 || clean < 1000 || cells < 2000 {
		t.Errorf("the mutations are one-sided: %d spoiled, %d clean, %d counted", spoiled, clean, cells)
	}
}

// TestLargeMutatedPartitions does the same with 1,500 boxes over 7 axes.
func TestLargeMutatedPartitions(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1500))
	for i := range 12 {
		domain := domains(r, 7)
		boxes := partition(r, domain, 1500)
		if i > 0 {
			boxes = mutate(r, boxes, domain)
		}
		work := stepWork
		got := compareBoxes(domain, boxes, &work)
		overlap := overlapping(boxes)
		if !got.complete || overlap != (len(got.overlaps) > 0) || !overlap && fills(domain, boxes) != (len(got.gaps) == 0) {
			t.Fatalf("partition %d: complete %v, overlap %v, found %d overlaps and %d gaps", i, got.complete, overlap, len(got.overlaps), len(got.gaps))
		}
		checkWitnesses(t, domain, boxes, got)
		if spent := stepWork - work; spent > 2_000_000 {
			t.Errorf("partition %d took %d looks; that is too slow", i, spent)
		}
	}
}

// TestWorkIsBounded gives boxes that no subdivision settles soon.
func TestWorkIsBounded(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	domain := make(region, 40)
	for i := range domain {
		domain[i] = span(0, 2)
	}
	var boxes []region
	for range 170 { // each leaves out all but an eighth: a hard question of logic
		b := slices.Clone(domain)
		for _, axis := range r.Perm(len(domain))[:3] {
			at := faulttree.Amount(r.IntN(2))
			b[axis] = faulttree.Span{From: at, Below: at + 1}
		}
		boxes = append(boxes, b)
	}
	work := 200_000
	if got := compareBoxes(domain, boxes, &work); got.complete && len(got.gaps) == 0 {
		t.Errorf("complete after %d looks without a gap; expected it to give up", 200_000-work)
	}
	if work > 0 {
		t.Errorf("%d looks are left over", work)
	}
}

// TestOneAxisAgainstCounting is a property over short scales.
func TestOneAxisAgainstCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		domain := region{{From: 0, Below: 12}}
		var boxes []region
		for range rapid.IntRange(0, 6).Draw(t, "boxes") {
			from := rapid.IntRange(0, 11).Draw(t, "from")
			below := rapid.IntRange(from+1, 12).Draw(t, "below")
			boxes = append(boxes, region{{From: faulttree.Amount(from), Below: faulttree.Amount(below)}})
		}
		work := stepWork
		got := compareBoxes(domain, boxes, &work)
		gap, overlap, _ := counted(domain, boxes)
		if gap != (len(got.gaps) > 0) || overlap != (len(got.overlaps) > 0) {
			t.Fatalf("gap %v overlap %v, found %+v", gap, overlap, got)
		}
	})
}

func BenchmarkBoxes1500x7(b *testing.B) {
	r := rand.New(rand.NewPCG(7, 7))
	domain := domains(r, 7)
	boxes := partition(r, domain, 1500)
	if len(boxes) != 1500 {
		b.Fatal("not 1500 boxes")
	}
	for b.Loop() {
		work := stepWork
		if c := compareBoxes(domain, boxes, &work); !c.complete || len(c.gaps)+len(c.overlaps) > 0 {
			b.Fatal("a partition was not accepted")
		}
	}
}

// BenchmarkGrid1500x7 is a lattice of boxes, each axis cut in equal parts.
func BenchmarkGrid1500x7(b *testing.B) {
	domain := domains(rand.New(rand.NewPCG(1, 1)), 7)
	boxes := []region{slices.Clone(domain)}
	for axis, n := range []int{5, 3, 5, 2, 2, 5, 1} { // 1,500
		var next []region
		for _, box := range boxes {
			for k := range n {
				s := box[axis]
				if k > 0 {
					s.From = faulttree.Amount(k) * 10 * volt
				}
				if k < n-1 {
					s.Below = faulttree.Amount(k+1) * 10 * volt
				}
				part := slices.Clone(box)
				part[axis] = s
				next = append(next, part)
			}
		}
		boxes = next
	}
	for b.Loop() {
		work := stepWork
		if c := compareBoxes(domain, boxes, &work); len(boxes) != 1500 || !c.complete || len(c.gaps)+len(c.overlaps) > 0 {
			b.Fatal("a lattice was not accepted")
		}
	}
}

// BenchmarkWork is the time of all the work that one step may take.
func BenchmarkWork(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 3))
	domain := make(region, 40)
	for i := range domain {
		domain[i] = span(0, 2)
	}
	var boxes []region
	for range 170 {
		box := slices.Clone(domain)
		for _, axis := range r.Perm(len(domain))[:3] {
			at := faulttree.Amount(r.IntN(2))
			box[axis] = faulttree.Span{From: at, Below: at + 1}
		}
		boxes = append(boxes, box)
	}
	for b.Loop() {
		work := stepWork
		compareBoxes(domain, boxes, &work)
	}
}
