package trial

import "testing"

// The limit is that below which at most one sound vehicle in twenty lies; one or two
// of them tell no limit.
func TestFewSoundVehiclesTellNoLimit(t *testing.T) {
	many := make([]float64, 100)
	for i := range many {
		many[i] = float64(i) / 100
	}
	for _, c := range []struct {
		sound []float64
		want  float64
	}{{nil, 0.5}, {[]float64{0, 1e-9}, 0.5}, {many, 0.05}, {many[60:], 0.5}} {
		if got := limitOf(c.sound); got != c.want {
			t.Errorf("of %d sound vehicles the limit is %v; want %v", len(c.sound), got, c.want)
		}
	}
}
