package asking

import "math"

// counts is how many cases have each result, and the most frequent one.
func (g *grower) counts(cases []int) (counts []int, most int) {
	counts = make([]int, g.results)
	for _, i := range cases {
		counts[g.Cases[i].Result]++
	}
	for r, n := range counts {
		if n > counts[most] {
			most = r
		}
	}
	return counts, most
}

// entropy is that of the results of some cases, in bits.
func (g *grower) entropy(cases []int) float64 {
	counts, _ := g.counts(cases)
	h := 0.0
	for _, n := range counts {
		if n > 0 {
			p := float64(n) / float64(len(cases))
			h -= p * math.Log2(p)
		}
	}
	return h
}

// Bits is how much is to be found out in the mean of some cases of s, in bits: the
// entropy of their result once all is known that shows before anything is asked.
func (s *Sample) Bits(cases []int) float64 {
	g := &grower{Sample: s}
	for _, c := range s.Cases {
		g.results = max(g.results, c.Result+1)
	}
	var free []int
	for i, c := range s.Columns {
		if len(c.Needs) == 0 {
			free = append(free, i)
		}
	}
	return g.left(cases, free)
}

// left is the mean entropy of some cases once columns are known, with what
// chance takes from it in few cases added (Miller and Madow): half a nat for each
// result beyond the first of each part beyond the first.
func (g *grower) left(cases []int, columns []int) float64 {
	at := map[string]int{}
	g.table, g.sizes = g.table[:0], g.sizes[:0]
	key := make([]byte, len(columns))
	met := make([]bool, g.results)
	results := 0
	for _, i := range cases {
		c := &g.Cases[i]
		for k, column := range columns {
			key[k] = c.Shows[column]
		}
		part, ok := at[string(key)]
		if !ok {
			part = len(g.sizes)
			at[string(key)] = part
			g.sizes = append(g.sizes, 0)
			g.table = append(g.table, make([]int, g.results)...)
		}
		g.sizes[part]++
		g.table[part*g.results+c.Result]++
		if !met[c.Result] {
			met[c.Result] = true
			results++
		}
	}
	h := 0.0
	for part, size := range g.sizes {
		for _, n := range g.table[part*g.results : (part+1)*g.results] {
			if n > 0 {
				h -= float64(n) * math.Log2(float64(n)/float64(size))
			}
		}
	}
	return (h + float64((len(g.sizes)-1)*(results-1))/(2*math.Ln2)) / float64(len(cases))
}
