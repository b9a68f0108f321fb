package vehicle

import (
	"slices"

	"faultwright/faulttree"
)

// Taken is the number that a reader comes to who takes a quantity as its method
// says: the reading that counts of several where there are several (see
// [faulttree.Take]). Without a meter's error; ok is false where there is none.
func (v *Vehicle) Taken(q faulttree.Quantity) (value float64, ok bool, err error) {
	var values []float64
	for _, legs := range v.turns(q.Take.Loads) {
		for _, at := range q.At() {
			value, there, err := v.Asked(legs).Value(at)
			if err != nil {
				return 0, false, err
			}
			if there {
				values = append(values, value)
			} else if len(values) == 0 {
				return 0, false, nil // not even the reading that the others add to
			}
		}
	}
	return q.Take.Pick(values), true, nil
}

// turns lists the legs whose loads are on, reading after reading. Without a word
// about loads they are as the quantity asks.
func (v *Vehicle) turns(loads []faulttree.LoadsTurn) [][]string {
	if len(loads) == 0 {
		return [][]string{v.legs}
	}
	var out [][]string
	add := func(legs []string) {
		if !slices.ContainsFunc(out, func(o []string) bool { return slices.Equal(o, legs) }) {
			out = append(out, legs)
		}
	}
	for _, turn := range loads {
		switch turn {
		case faulttree.LoadsOff:
			add(nil)
		case faulttree.EachLoad:
			for i := range v.legs {
				add(v.legs[i : i+1])
			}
		case faulttree.AllLoads:
			add(v.legs)
		}
	}
	return out
}
