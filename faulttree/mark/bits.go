package mark

import (
	"fmt"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/suspect"
)

// weighed is the cases that count where bits are told, and their shares.
type weighed struct {
	cases  []int
	shares []float64 // of all cases
	joint  []float64 // room for what tells bits
}

// leastShare of a case is what counts where bits are told.
const leastShare = 1e-5

func weighedBy(shares []float64) *weighed {
	w := &weighed{shares: shares}
	for i, s := range shares {
		if s >= leastShare {
			w.cases = append(w.cases, i)
		}
	}
	return w
}

// bits is by how much less uncertain what is to be done is expected to be after a
// reading whose column is given, as a meter of an error tells values apart; by the
// shares of the cases.
func (k *reasoned) bits(b *Beliefs, of *weighed, q faulttree.Quantity, column []float32) float64 {
	k.numbered.Do(func() { k.number(b) })
	tells := k.binned(b, q, column)
	of.joint = slices.Grow(of.joint[:0], tells.bins*k.tasks)[:tells.bins*k.tasks]
	clear(of.joint)
	joint, bins, whole := of.joint, make([]float64, tells.bins), make([]float64, k.tasks)
	sum, squares := 0.0, 0.0
	for _, i := range of.cases {
		bin, task := int(tells.bin[i]), int(k.task[i])
		if bin < 0 {
			continue
		}
		s := of.shares[i]
		joint[bin*k.tasks+task] += s
		bins[bin] += s
		whole[task] += s
		sum += s
		squares += s * s
	}
	if sum == 0 {
		return 0
	}
	both, all, results := met(joint), met(bins), met(whole)
	// Few cases that all read something else seem to tell everything: the correction
	// for the bias of entropies out of a sample (G. Miller, 1955), for as many cases as
	// these would be if they weighed the same.
	bias := float64(len(both)-len(all)-len(results)+1) / (2 * math.Ln2 * sum * sum / squares)
	return entropy(all, sum) + entropy(results, sum) - entropy(both, sum) - max(0, bias)
}

// met is those of some shares that are more than nothing, the smallest first.
func met(shares []float64) []float64 {
	shares = slices.DeleteFunc(shares, func(s float64) bool { return s == 0 })
	slices.Sort(shares)
	return shares
}

// entropy of some shares, in bits, added up from the smallest so that their order makes
// no difference.
func entropy(shares []float64, sum float64) float64 {
	out := 0.0
	for _, s := range shares {
		if p := s / sum; p > 0 {
			out -= p * math.Log2(p)
		}
	}
	return out
}

// binned is a column as the meter tells its values apart.
type binned struct {
	bin  []int16 // by case; -1 where it tells nothing
	bins int
}

// binned is the column of a quantity in bins, which are found once.
func (k *reasoned) binned(b *Beliefs, q faulttree.Quantity, column []float32) binned {
	k.mu.Lock()
	defer k.mu.Unlock()
	out, known := k.bins[q.ID]
	if known {
		return out
	}
	numbers := map[int]int16{} // steps of 6 %, all floats long, are fewer than 1<<15
	out.bin = make([]int16, len(column))
	for i, x := range column {
		if out.bin[i] = -1; x != x { // NaN
			continue
		}
		step := b.bin(q, float64(x))
		n, met := numbers[step]
		if !met {
			n = int16(len(numbers))
			numbers[step] = n
		}
		out.bin[i] = n
	}
	out.bins = len(numbers)
	k.bins[q.ID] = out
	return out
}

// bin is the number of the step, as wide as the meter is unsure either way, in
// which a value lies.
func (b *Beliefs) bin(q faulttree.Quantity, value float64) int {
	if math.IsInf(value, 0) {
		return math.MaxInt32
	}
	a := faulttree.Amount(math.Round(min(math.Abs(value), 1e8) * float64(faulttree.One)))
	wide := 2 * b.meter.Uncertainty(faulttree.Reading{Low: a, High: a, Resolution: b.meter.Range(q.Unit, a).Count}, q).Float()
	least := binLeast[q.Unit]
	sign := 1
	if value < 0 {
		sign = -1
	}
	share := 0.06 // no two vehicles of a kind are more alike than this; common practice, no source
	return sign * int(math.Floor(math.Log1p(math.Abs(value)/max(least, wide/10))/math.Log1p(share)))
}

// binLeast is what nobody takes for a difference near nothing. Common practice, no
// source.
var binLeast = map[faulttree.Unit]float64{faulttree.VoltsAC: 5, faulttree.VoltsDC: 0.5, faulttree.Ohms: 1, faulttree.AmpsAC: 1, faulttree.AmpsDC: 1}

// number numbers what is to be done in each case.
func (k *reasoned) number(b *Beliefs) {
	numbers := map[string]int32{}
	for _, c := range k.population.Cases() {
		faults := lists.Each(c.Faults, func(f suspect.PlacedFault) faulttree.FaultAt {
			return faulttree.FaultAt{Fault: f.Fault, Place: f.Place}
		})
		name := fmt.Sprint(b.tasks(faults))
		n, known := numbers[name]
		if !known {
			n = int32(len(numbers))
			numbers[name] = n
		}
		k.task = append(k.task, n)
	}
	k.tasks = len(numbers)
}
