package trial

import "fmt"

// Seen is one draw of a trial made again.
type Seen struct {
	Vehicle string         // what it is, in words
	Path    string         // the walk to the finding asked for, in words
	Wrong   []WrongReading // what went wrong once on it
}

// see makes a draw of the trial again: the same options give the same vehicle and
// the same walks. It shows the way to a finding, in whichever role reaches it.
func (w *worker) see(number, finding int) (Seen, error) {
	s, ok := w.plan.stratumOf(number)
	if !ok {
		return Seen{}, fmt.Errorf("the trial has no draw %d", number)
	}
	k, err := w.before(s, number)
	if err != nil {
		return Seen{}, err
	}
	seen := Seen{Vehicle: k.draw.describe()}
	for _, role := range roles {
		ends, err := w.walk(k, role)
		if err != nil {
			return Seen{}, err
		}
		for _, e := range ends {
			if e.endpoint == finding {
				seen.Path = w.describeWalk(e)
				seen.Wrong, err = w.wrongIn(k, e.walk)
				return seen, err
			}
		}
	}
	return Seen{}, fmt.Errorf("draw %d does not end at %s", number, w.endpoints[finding].ref)
}

// example words a draw and its way to a finding.
func (w *worker) example(number, finding int) (vehicle, path string, err error) {
	s, err := w.see(number, finding)
	return s.Vehicle, s.Path, err
}
