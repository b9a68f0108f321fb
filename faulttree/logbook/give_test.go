package logbook

import (
	"slices"
	"testing"

	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
)

type lines struct{ text []byte }

func (l *lines) Append(line []byte) error { l.text = append(l.text, line...); return nil }

// An old visit is given to a vehicle, to another, and back: each time its record, read
// again, is of that one, and the name on its sheet follows; what somebody wrote there stays.
func TestGive(t *testing.T) {
	for written, want := range map[string][]string{
		"":           {"Willow", "Heron", "Willow", ""},
		"plate QH 1": {"plate QH 1", "plate QH 1", "plate QH 1", "plate QH 1"},
	} {
		head := record(t, func(h *visit.Header) { h.Vehicle, h.Details.Vehicle = "", written })
		log := &lines{text: slices.Clone(head)}
		v, _, err := visit.Read(head)
		must.Do(t, err)
		from := Vehicle{}
		for i, to := range []Vehicle{willow(), heron(), willow(), {}} {
			must.Have(Give(log, v, made, from, to))(t)
			if v, _, err = visit.Read(log.text); err != nil || len(v.Damage) > 0 {
				t.Fatal(err, v.Damage)
			}
			if v.Vehicle() != to.ID || v.Details().Vehicle != want[i] || v.Header.Vehicle != "" {
				t.Errorf("%q given to %q is of %q, its sheet of %q; want %q", written, to.Name, v.Vehicle(), v.Details().Vehicle, want[i])
			}
			from = to
		}
	}
}

// Practice is about no real vehicle, and is given to none. A record that names none is damage.
func TestNotGiven(t *testing.T) {
	v, _, err := visit.Read(record(t, func(h *visit.Header) { h.Practice = "2026-05-03-aaaaa" }))
	must.Do(t, err)
	if _, err := Give(&lines{}, v, made, Vehicle{}, willow()); err != visit.ErrNoRealVehicle {
		t.Errorf("practice was given to a vehicle: %v", err)
	}
	log := &lines{text: record(t, as)}
	must.Have(visit.Give(log, visit.Visit{}, made, "../../etc", visit.Details{}))(t)
	if v, _, err := visit.Read(log.text); err != nil || len(v.Damage) != 1 || v.Vehicle() != willow().ID {
		t.Errorf("a vehicle that leads out is taken: %q, %v, %v", v.Vehicle(), v.Damage, err)
	}
}
