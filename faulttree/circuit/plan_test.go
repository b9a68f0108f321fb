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
			var room Room
			for seed := range uint64(3 * mostPlans / 2) {
				for _, times := range []float64{1, 3} {
					n := random(seed, 8+int(seed%12))
					for i := range n.elements {
						n.elements[i].Value *= times
					}
					own, shared := solved(t, n, 60), must.Have(plans.Compile(n.Clone(), 60, &room))(t)
					for node := range Node(n.Nodes()) {
						want, _ := own.Voltage(node, Earth)
						got, _ := shared.Voltage(node, Earth)
						a, b := reads(t, own, node, Earth, 1e6), reads(t, shared, node, Earth, 1e6)
						if got != want || a != b {
							t.Fatalf("seed %d, node %d: %v, and %v on a meter; by itself %v and %v", seed, node, got, b, want, a)
						}
					}
				}
				room.Reuse()
			}
			plans.lock.Lock()
			defer plans.lock.Unlock()
			if n := len(plans.kept); n == 0 || n > mostPlans {
				t.Errorf("%d plans are kept", n)
			}
		})
	}
}

// A bare net has the nodes of another one, and a node that it gets is its own.
func TestABareNet(t *testing.T) {
	of := new(Net)
	of.Resistor("r", "a", "b", 1)
	first, second := of.Bare(), of.Bare()
	first.Resistor("r", "a", "c", 2)
	second.Resistor("s", "d", "b", 3)
	second.Resistor("t", "e", "0", 3)
	for _, x := range []struct {
		n               *Net
		nodes, elements int
	}{{of, 3, 1}, {first, 4, 1}, {second, 5, 2}} {
		if got := []int{x.n.Nodes(), len(x.n.Elements())}; got[0] != x.nodes || got[1] != x.elements {
			t.Errorf("%d nodes and %d elements; want %d and %d", got[0], got[1], x.nodes, x.elements)
		}
	}
	if first.Node("b") != of.Node("b") || second.Node("a") != of.Node("a") || first.Name(first.Node("c")) != "c" {
		t.Error("the nodes are not those of the other net")
	}
}
