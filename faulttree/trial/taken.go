package trial

import "faultwright/faulttree"

// Taken is what the walks of one role over some vehicles took, in the mean of a
// walk. Readings that could not be taken do not count.
type Taken struct {
	Role     string  `json:"role"`
	Vehicles string  `json:"vehicles"` // faulted or sound
	Walks    int     `json:"walks"`
	Readings float64 `json:"readings"` // all that follow, down to unstated
	Proofs   float64 `json:"proofs"`   // of the meter, whatever is live at them
	Dead     float64 `json:"dead"`
	Supply   float64 `json:"supply"` // live contacts by where they are
	Body     float64 `json:"body"`
	Inside   float64 `json:"inside"`
	Unstated float64 `json:"unstated"` // of quantities without an exposure
	Live     float64 `json:"live"`     // contacts at the supply, on the body and inside
	Cost     float64 `json:"cost"`     // of all readings, by the weights of the handbook

	// DeadTested is the share of the walks with a dead test in ohms, LiveBeforeDead
	// how many live contacts come before the first one, in the mean of these
	// walks. The check in volts that pins are dead tells no cause and is none.
	DeadTested     float64 `json:"dead_tested"`
	LiveBeforeDead float64 `json:"live_before_dead"`
}

// taken counts what one walk took, or several together: whole numbers only, so
// that the order of the draws does not matter.
type taken struct {
	walks      int
	by         [faulttree.InsideBody + 1]int // readings by exposure, the proofs of the meter apart
	proofs     int
	cost       int
	deadTested int // walks with a dead test in ohms
	beforeDead int // live contacts before the first one, of these walks
}

// takenBy counts the readings of one walk.
func takenBy(w faulttree.Walk, weights faulttree.Weights) taken {
	if weights == (faulttree.Weights{}) {
		weights = faulttree.DefaultWeights()
	}
	n := taken{walks: 1}
	live := 0
	for _, e := range w.Trail() {
		asked := w.Asked(e.Step)
		for i, r := range e.Answer.Readings {
			if r.Quality == faulttree.NotPossible || i >= len(asked.Measure) {
				continue
			}
			q := asked.Measure[i].Quantity
			n.cost += weights.Of(q)
			if q.OfMeter() {
				n.proofs++
				continue
			}
			n.by[q.Exposure]++
			switch {
			case q.Exposure.Live():
				live++
			case q.Unit == faulttree.Ohms && n.deadTested == 0:
				n.deadTested, n.beforeDead = 1, live
			}
		}
	}
	return n
}

func (n *taken) add(o taken) {
	n.walks += o.walks
	for e := range n.by {
		n.by[e] += o.by[e]
	}
	n.proofs += o.proofs
	n.cost += o.cost
	n.deadTested += o.deadTested
	n.beforeDead += o.beforeDead
}

// readings is how many were taken in all.
func (n *taken) readings() int {
	sum := n.proofs
	for _, k := range n.by {
		sum += k
	}
	return sum
}

// report is the counts in the mean of a walk.
func (n *taken) report(role faulttree.Role, vehicles string) Taken {
	each := func(k int) float64 { return mean(float64(k), n.walks) }
	supply, body, inside := n.by[faulttree.AtSupply], n.by[faulttree.AtBody], n.by[faulttree.InsideBody]
	return Taken{
		Role: role.String(), Vehicles: vehicles, Walks: n.walks, Readings: each(n.readings()), Proofs: each(n.proofs),
		Dead: each(n.by[faulttree.DeadTest]), Supply: each(supply), Body: each(body), Inside: each(inside), Unstated: each(n.by[faulttree.Unexposed]),
		Live: each(supply + body + inside), Cost: each(n.cost),
		DeadTested: each(n.deadTested), LiveBeforeDead: mean(float64(n.beforeDead), n.deadTested),
	}
}

// condition is whether something is wrong with a vehicle.
type condition uint8

const (
	faulted condition = iota
	sound
	conditions
)

func (c condition) String() string { return [...]string{"faulted", "sound"}[c] }

// conditionOf is that of the vehicles of a stratum.
func conditionOf(s stratum) condition {
	if s.fault < 0 {
		return sound
	}
	return faulted
}
