package rubric

import "testing"

// What a rubric says nothing of does not go unmarked.
func TestARuleThatARubricLacksLeavesNothing(t *testing.T) {
	r := Rubric{Caps: []Cap{{Rule: BadSupply, Title: "From a bad supply", Most: 20}}}
	if c := r.Cap(HighSupply); c.Most != 0 || c.Title == "" {
		t.Errorf("the cap of a rule that the rubric lacks is %+v", c)
	}
	if c := r.Cap(BadSupply); c.Most != 20 {
		t.Errorf("the cap of its own is %+v", c)
	}
}
