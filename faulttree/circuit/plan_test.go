package circuit

import (
	"fmt"
	"testing"

	"faultwright/faulttree/must"
)

// A net that is eliminated as another one was, which is tied together alike, has the same
// solution to the bit as one that is compiled by itself, whoever else asks meanwhile.
func TestNetsEliminatedAlike(t *testing.T) {
	plans := &Plans{}
	for worker := range 2 {
		t.Run(fmt.Sprint(worker), func(t *testing.T) {
			t.Parallel()
			for seed := range uint64(3 * mostPlans / 2) {
				for _, times := range []float64{1, 3} {
					n := random(seed, 8+int(seed%12))
					for i := range n.elements {
						n.elements[i].Value *= times
					}
					own, shared := solved(t, n, 60), must.Have(plans.Compile(n.Clone(), 60))(t)
					for node := range Node(n.Nodes()) {
						want, _ := own.Voltage(node, Earth)
						got, _ := shared.Voltage(node, Earth)
						a, b := reads(t, own, node, Earth, 1e6), reads(t, shared, node, Earth, 1e6)
						if got != want || a != b {
							t.Fatalf("seed %d, node %d: %v, and %v on a meter; by itself %v and %v", seed, node, got, b, want, a)
						}
					}
				}
			}
			plans.lock.Lock()
			defer plans.lock.Unlock()
			if n := len(plans.kept); n == 0 || n > mostPlans {
				t.Errorf("%d plans are kept", n)
			}
		})
	}
}
