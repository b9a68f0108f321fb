package why

import (
	"testing"

	"faultwright/faulttree"
)

// OL in ohms fits all that lies beyond the highest range of the meter, and what lies below
// it the less the farther it is.
func TestOverRangeFitsWhatLiesBeyondTheMeter(t *testing.T) {
	ol := Reading{Quantity: faulttree.Quantity{Unit: faulttree.Ohms}, Reading: faulttree.Reading{Quality: faulttree.OverRange}}
	short := ol
	short.Top = 2_000_000 * faulttree.One
	if d := deviation(short, 5e6); d != 0 {
		t.Errorf("on a meter that ends at 2 MΩ, 5 MΩ is %v away from OL", d)
	}
	if near, far := deviation(short, 1e6), deviation(short, 1e3); near <= 0 || far <= near {
		t.Errorf("1 MΩ is %v away, 1 kΩ %v", near, far)
	}
	if d := deviation(ol, 5e6); d <= 0 {
		t.Errorf("on a meter of which nothing is known, 5 MΩ is %v away from OL", d)
	}
}
