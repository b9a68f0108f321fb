package order

import "math"

// entropy is that of the results of these cases, in bits.
func (p *Problem) entropy(cases []int) float64 {
	whole := p.weight(cases)
	if whole == 0 {
		return 0
	}
	by := map[int]float64{}
	for _, i := range cases {
		by[p.Cases[i].Result] += p.Cases[i].Weight
	}
	bits := 0.0
	for _, w := range by {
		if w > 0 {
			bits -= w / whole * math.Log2(w/whole)
		}
	}
	return bits
}

func (p *Problem) weight(cases []int) float64 {
	sum := 0.0
	for _, i := range cases {
		sum += p.Cases[i].Weight
	}
	return sum
}
