package suspect

import "math"

// Normal is a value known but for a normal error.
type Normal struct{ Mean, Deviation float64 }

// Below is the probability that the value lies below a limit.
func (n Normal) Below(limit float64) float64 {
	if n.Deviation <= 0 {
		if n.Mean < limit {
			return 1
		}
		return 0
	}
	return math.Erfc((n.Mean-limit)/(n.Deviation*math.Sqrt2)) / 2
}

// Above is the probability that the value lies above a limit.
func (n Normal) Above(limit float64) float64 {
	return Normal{-n.Mean, n.Deviation}.Below(-limit)
}

// studentT is the density of Student's t with three degrees of freedom at a squared
// distance, where the scale squared is width. It falls off so slowly that a model
// that is a little off does not rule out the truth.
func studentT(squared, width float64) float64 {
	const peak = 2 / (math.Pi * 1.7320508075688772) // 2/(π√3)
	w := 1 + squared/(3*width)
	return peak / (w * w * math.Sqrt(width))
}
