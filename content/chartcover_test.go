package content_test

import (
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// Whatever three columns of a chart show, also OL on one and less than nothing on
// another, the chart leads somewhere: a sum of them is no more than OL.
func TestEveryChartLeadsSomewhere(t *testing.T) {
	shows := []string{"OL", "-12.5", "-0.5", "0.0", "0.5", "12.6", "14.5", "250", "cannot: a lid in the way", "wanders 2 to 40"}
	lib := load.Shipped()
	charts := 0
	for _, id := range lib.Forest.IDs() {
		for _, s := range lib.Forest.Trees[id].Steps {
			if s.Chart == nil {
				continue
			}
			charts++
			for n := range len(shows) * len(shows) * len(shows) {
				three := []string{shows[n%len(shows)], shows[n/len(shows)%len(shows)], shows[n/len(shows)/len(shows)]}
				given := faulttree.Supplied{Readings: map[string][]faulttree.Reading{}}
				for i, v := range s.Measure {
					if r, err := faulttree.ParseReading(three[i%3], v.Quantity); err == nil {
						given.Readings[v.Quantity.ID] = []faulttree.Reading{r}
					}
				}
				w := must.Have(faulttree.Begin(lib.Forest, s.Ref(), faulttree.Qualified, faulttree.DefaultMeter()))(t)
				if _, _, err := w.Supply(given); err != nil {
					t.Fatalf("%v show: %v", three, err)
				}
			}
		}
	}
	if charts < 10 {
		t.Errorf("there are %d charts", charts)
	}
}
