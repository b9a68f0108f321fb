package circuit_test

import (
	"fmt"
	"math/cmplx"

	"faultwright/faulttree/circuit"
)

// A lost neutral: two loads share the voltage between the legs.
func Example() {
	n := new(circuit.Net)
	n.Voltage("leg 1", "l1", "0", 120, 0)
	n.Voltage("leg 2", "l2", "0", -120, 0)
	n.Resistor("1500 W", "l1", "neutral", 9.6)
	n.Resistor("500 W", "l2", "neutral", 28.8)
	s, err := circuit.Compile(n, 60)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, leg := range []string{"l1", "l2"} {
		v, _ := s.Voltage(n.Node(leg), n.Node("neutral"))
		fmt.Printf("%s: %.0f V\n", leg, cmplx.Abs(v))
	}
	// Output:
	// l1: 60 V
	// l2: 180 V
}
