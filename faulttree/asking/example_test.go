package asking_test

import (
	"context"
	"fmt"

	"faultwright/faulttree/asking"
)

// A cheap look tells most cases; a dear one is left for the rest.
func Example() {
	s := &asking.Sample{
		Questions: []asking.Question{{Cost: 1}, {Cost: 8}},
		Columns:   []asking.Column{{Needs: []int{0}}, {Needs: []int{1}}},
		Known:     1,
	}
	var grow []int
	for i := range 400 {
		c := asking.Case{Shows: []uint8{1, 1}, Otherwise: 20}
		if i%4 == 0 { // the look tells that something is wrong, the other one what
			c = asking.Case{Shows: []uint8{2, uint8(1 + i/4%2)}, Result: 1 + i/4%2, Otherwise: 20}
		}
		s.Cases, grow = append(s.Cases, c), append(grow, i)
	}
	plan, _ := s.Grow(context.Background(), grow, 1)
	fmt.Println(plan.Ask, s.Mean(plan, grow))
	// Output: 0 3
}
