package store

import (
	"path/filepath"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

// bench is a source, a breaker and a lamp. The numbers are round ones, no source.
func bench() practice.Case {
	r := &rig.Rig{ID: "bench", Switches: []rig.Switch{{Name: "main", Title: "the breaker"}}}
	part := func(p rig.Part, on string, numbers map[rig.Attribute]float64) {
		units := map[rig.Attribute]rig.ParamUnit{rig.AttrVolts: rig.Volts, rig.AttrDegrees: rig.Degrees, rig.AttrOhms: rig.Ohms, rig.AttrWatts: rig.Watts, rig.AttrAtVolts: rig.Volts}
		for a, x := range numbers {
			r.Params = append(r.Params, rig.Param{Name: p.Name + "." + a.String(), Unit: units[a], Value: x, From: x, To: x})
			p.Params[a] = len(r.Params) - 1
		}
		p.Switch = on
		r.Parts = append(r.Parts, p)
	}
	r.Params = []rig.Param{{Name: "hertz", Unit: rig.Hertz, Value: 60, From: 60, To: 60}, {Name: "celsius", Unit: rig.Celsius, Value: 20, From: 20, To: 20}}
	r.Hertz, r.Celsius = 0, 1
	part(rig.NewPart("source", rig.Source, "l1", "0"), "", map[rig.Attribute]float64{rig.AttrVolts: 120, rig.AttrDegrees: 0, rig.AttrOhms: 0.5})
	part(rig.NewPart("breaker", rig.Joint, "l1", "panel"), "main", map[rig.Attribute]float64{rig.AttrOhms: 0.1})
	lamp := rig.NewPart("lamp", rig.Load, "panel", "0")
	lamp.Leg = "l1"
	part(lamp, "", map[rig.Attribute]float64{rig.AttrWatts: 60, rig.AttrAtVolts: 120})
	c := practice.NewCase("bench", r)
	c.May = []string{"main"}
	return c
}

func header() practice.Header {
	return practice.Header{Case: "bench", Meter: faulttree.DefaultMeter(), Started: time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC)}
}

var reading = practice.Act{Kind: practice.Read, Red: "panel", Black: "0"}

// act is the nth act of a play without end.
func act(n int) practice.Act {
	switch n % 4 {
	case 0:
		return practice.Act{Kind: practice.Prove}
	case 1:
		return practice.Act{Kind: practice.Throw, Name: "main", On: n%8 == 5, Asked: true}
	case 2:
		return practice.Act{Kind: practice.Load, Name: "l1", On: n%8 == 2, Asked: true}
	}
	return reading
}

func opened(t *testing.T) *Store {
	t.Helper()
	s := must.Have(Open(filepath.Join(t.TempDir(), "data", "practice")))(t)
	t.Cleanup(func() { s.Close() })
	return s
}

// resumed opens an attempt to go on with it.
func resumed(t testing.TB, s *Store, id string) (*File, *practice.Recorder) {
	t.Helper()
	f := must.Have(s.Open(id))(t)
	r := must.Have(bench().Resume(f, f.Record()))(t)
	return f, r
}

// made is an attempt of so many acts, closed again.
func made(t testing.TB, s *Store, acts int) string {
	t.Helper()
	f := must.Have(s.Create(header()))(t)
	defer f.Close()
	r := must.Have(bench().Resume(f, f.Record()))(t)
	for n := range acts {
		must.Have(r.Do(act(n)))(t)
	}
	return r.ID()
}

func path(s *Store, id string) string { return filepath.Join(s.Folder.Dir(), id+".attempt") }
