package content_test

import (
	"strings"
	"testing"

	"faultwright/faulttree/bench"
)

// What the reader is told in a quantity's title and what the model does are the
// same state: the titles stand in the handbook, the states in bench.StateFor.
func TestTitlesSayTheStateThatIsRead(t *testing.T) {
	says := []struct {
		words string
		off   []string // switches
		on    []string
	}{
		{"cord off at both ends", []string{"plug", "inlet"}, nil},
		{"pulled plug", []string{"plug", "generator", "inverter"}, nil},
		{"not in the inlet", []string{"inlet"}, []string{"plug", "pedestal"}},
		{"adapter in the pedestal", []string{"adapter"}, []string{"plug"}},
		{"adapter in the hand", []string{"adapter", "plug"}, nil},
		{"inlet pins, cord off", []string{"inlet", "plug"}, nil},
		{"main breaker off", []string{"main"}, []string{"plug"}},
		{"plug pulled, generator and inverter off", []string{"plug", "generator", "inverter"}, nil},
		{"generator running", nil, []string{"generator"}},
		{"generator stopped", []string{"generator"}, nil},
		{"inverter running", nil, []string{"inverter"}},
		{"inverter off", []string{"inverter"}, nil},
		{"across the main breaker", nil, []string{"main", "plug"}},
	}
	lib := shipped()
	met := map[string]bool{}
	for id, q := range lib.Forest.Quantities {
		title, st := strings.ToLower(q.Title), bench.StateFor(q, []string{"l1"})
		for _, s := range says {
			if !strings.Contains(title, s.words) {
				continue
			}
			met[s.words] = true
			for _, name := range s.off {
				if !st.Off[name] {
					t.Errorf("%s, %q, is read with the %s on", id, q.Title, name)
				}
			}
			for _, name := range s.on {
				if st.Off[name] {
					t.Errorf("%s, %q, is read with the %s off", id, q.Title, name)
				}
			}
		}
		if strings.Contains(title, "loads on") && !st.Loads["l1"] {
			t.Errorf("%s, %q, is read with the loads off", id, q.Title)
		}
	}
	for _, s := range says {
		if !met[s.words] {
			t.Errorf("no title says %q", s.words)
		}
	}
}
