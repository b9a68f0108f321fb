package circuit

import "testing"

// Two pairs that look at once see the same to the bit as each of them by itself, whether
// they come to rest together or not, and whatever the frequency.
func TestTwoPairsLookAtOnce(t *testing.T) {
	at := 0
	for seed := range uint64(60) {
		for _, hertz := range []float64{0, 60} {
			n := random(seed, 14)
			s, other := solved(t, n, hertz), solved(t, n, hertz)
			p, q := s.Pair(Earth, Earth), s.Pair(Earth, Earth)
			of := other.Pair(Earth, Earth)
			for a := range Node(n.Nodes()) {
				b, c, d := (a+1)%Node(n.Nodes()), (a+5)%Node(n.Nodes()), (a*a+2)%Node(n.Nodes())
				both := LookBoth(p, a, b, q, c, d)
				if both {
					at++
				} else {
					q.Look(c, d)
				}
				for _, x := range []struct {
					got  *Pair
					a, b Node
				}{{p, a, b}, {q, c, d}} {
					of.Look(x.a, x.b)
					want, ok := of.Impedance()
					ohms, okToo := x.got.Impedance()
					if ohms != want || ok != okToo || x.got.open != of.open {
						t.Fatalf("seed %d at %v Hz, nodes %d and %d: %v %v; by themselves %v %v", seed, hertz, x.a, x.b, ohms, okToo, want, ok)
					}
					for i, v := range of.column {
						if ok && x.got.column[i] != v {
							t.Fatalf("seed %d at %v Hz, nodes %d and %d, unknown %d: %v; by themselves %v", seed, hertz, x.a, x.b, i, x.got.column[i], v)
						}
					}
				}
			}
		}
	}
	if at < 300 {
		t.Errorf("only %d times both were looked at at once", at)
	}
}
