package practice_test

import (
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

// A learner reads the body of a vehicle to earth and names the fault.
func Example() {
	c := practice.NewCase("first", trailer())
	c.Faults = []rig.Applied{{Fault: catalogue()[1]}}
	v, err := c.Begin(faulttree.DefaultMeter())
	if err != nil {
		fmt.Println(err)
		return
	}
	done, _ := v.Do(practice.Act{Kind: practice.Read, Red: "body", Black: "earth"})
	fmt.Println(done[0].Shown)
	attempt := practice.Attempt{Case: c.ID}.With(done...).Name("hot-ground-swapped")
	fmt.Println(c.Truth()[0] == attempt.Named(), len(attempt.Readings()))
	// Output:
	// 120.0 V
	// true 1
}
