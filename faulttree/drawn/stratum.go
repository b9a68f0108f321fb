package drawn

import (
	"encoding/binary"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
)

// stratum is a stratum of a population: how often it is met, and its draws.
type stratum struct {
	Stratum
	weight float64 // of all vehicles of the population, which weigh 1
	draws  int
	name   uint64 // its draws are made from: the same whatever else is drawn
	along  []suspect.PlacedFault
}

// NoVariant stands for the variant of a fault that another brought along: it is
// made by an edit of that one.
const NoVariant = -1

// newStratum names a stratum, and says of the faults of the catalogue which come
// along, and where each sits.
func newStratum(r *rig.Rig, ways []Way, catalogue []*rig.Fault) stratum {
	s := stratum{Stratum: Stratum{r, ways}}
	for _, f := range catalogue {
		if slices.Contains(r.Shows, f.ID) && len(f.Variants) > 0 {
			s.along = append(s.along, suspect.PlacedFault{Fault: f.ID, Place: f.Variants[0].Place, Variant: NoVariant})
		}
	}
	h := fnv.New64a()
	h.Write([]byte(r.ID))
	for _, w := range ways {
		v := w.variant()
		h.Write(binary.LittleEndian.AppendUint32([]byte(w.Fault.ID), uint32(w.Variant)))
		for _, f := range catalogue {
			if slices.Contains(v.With, f.ID) {
				s.along = append(s.along, suspect.PlacedFault{Fault: f.ID, Place: f.Along(v), Variant: NoVariant})
			}
		}
	}
	s.name = h.Sum64()
	return s
}

// setup is the numbers and faults of a draw, by the seed of the population.
func (s *stratum) setup(seed uint64, draw int) rig.Setup {
	setup := s.Draw(rand.New(rand.NewPCG(seed^s.name, uint64(draw)))).Setup
	for k := range setup.Faults {
		setup.Faults[k].Severity = s.severity(k, draw)
	}
	return setup
}

// steps are how far apart the severities of one draw and the next lie in their
// range, for the first fault and the second: multiples of these fill it evenly,
// however many there are (the golden ratio, and the plastic number of two
// dimensions).
var steps = [...]float64{0.618033988749895, 0.754877666246693}

// severity is how bad the fault of a way is in a draw. The few draws of a stratum
// are spread over the range, where chance would leave gaps.
func (s *stratum) severity(way, draw int) float64 {
	p := s.Ways[way].Fault.Severity
	if p == nil {
		return 0
	}
	start := float64(s.name>>11) / (1 << 53)
	_, share := math.Modf(start + float64(draw+1)*steps[way%len(steps)])
	return p.At(share)
}

// placed is what is wrong with a draw: the fault of each way, then what comes
// along.
func (s *stratum) placed(draw int) []suspect.PlacedFault {
	out := make([]suspect.PlacedFault, 0, len(s.Ways)+len(s.along))
	for k, w := range s.Ways {
		out = append(out, suspect.PlacedFault{Fault: w.Fault.ID, Place: w.variant().Place, Variant: w.Variant, Severity: s.severity(k, draw)})
	}
	return append(out, s.along...)
}
