package shorthand_test

import (
	"testing"

	"faultwright/content/load"
	"faultwright/content/shorthand"
	"faultwright/faulttree/must"
)

// What is taken goes, what is not stays as typed under its header, and reads the
// same again.
func TestWhatIsLeftOfAList(t *testing.T) {
	reader := shorthand.New(load.Shipped())
	for text, want := range map[string]string{
		"at the pedestal, nothing plugged in: L1-N 121.3, N-G 0.4":         "",
		"Pedestal, nothing plugged in\nL1-N 121\nL1-X 5\nit hums\nN-G 0.3": "Pedestal, nothing plugged in\nL1-X 5\nit hums",
		"L1-N 59 L2-N 177": "L1-N 59, L2-N 177",
	} {
		list := must.Have(reader.Read(text))(t)
		left := list.Left()
		if left != want {
			t.Errorf("of %q is left %q; expected %q", text, left, want)
		}
		if n := len(reader.Evidence(list)); n != list.Taken() {
			t.Errorf("of %q %d are told; expected %d", text, n, list.Taken())
		}
		again, err := reader.Read(left)
		if err != nil || again.Taken() != 0 || again.Left() != left {
			t.Errorf("%q reads as %+v, and leaves %q", left, again, again.Left())
		}
	}
}

// What a row can be is known before the state is said, and only then.
func TestWhatARowCanBe(t *testing.T) {
	reader := shorthand.New(load.Shipped())
	for text, want := range map[string]bool{"body to earth 58": true, "L1-N 59": false, "panel, loads on: L1-N 59": false} {
		list := must.Have(reader.Read(text))(t)
		found := false
		for _, e := range reader.Possible(list) {
			found = found || e.Quantity.ID == "body-earth" && e.Reading.Text == "58"
		}
		if found != want {
			t.Errorf("%q can be %+v", text, reader.Possible(list))
		}
	}
}
