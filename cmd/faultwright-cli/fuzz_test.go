package main

import (
	"bufio"
	"bytes"
	"math"
	"strings"
	"testing"

	"faultwright/faulttree"
)

// Whatever is typed for --fault, --load and --set, it is refused with a
// sentence that has nothing in it to steer a terminal, or gives a rig whose
// reading is a finite number or none.
func FuzzMeasureOptions(f *testing.F) {
	lib := shipped()
	for _, seed := range [][3]string{
		{"open-neutral", "l1=1500", "cord.length=15"},
		{"open-neutral@cord", "l1l2=2400 W", "cord.length=1e-50"},
		{"weak-hot@cord=2.4", "l1=0", "hertz=50 Hz"},
		{"corroded-contact=1e300 Ω", "l1=-5", "celsius=-300"},
		{"leakage-to-body@vehicle=3 kΩ", "dc=1e999", "cord.gauge=6"},
		{"@=", "=", "="}, {"", "", ""}, {"open-ground\x1b[31m", "l1=NaN", "cord.length=Inf"},
	} {
		f.Add(seed[0], seed[1], seed[2])
	}
	quantity := lib.Forest.Quantities["panel.l1-n"]
	f.Fuzz(func(t *testing.T, fault, leg, part string) {
		if len(fault)+len(leg)+len(part) > 300 {
			return // longer ones say nothing new
		}
		c := measureCommand{Rig: "coach-50a", Meter: "standard"}
		for option, text := range map[*[]string]string{&c.Fault: fault, &c.Load: leg, &c.Set: part} {
			if text != "" {
				*option = []string{text}
			}
		}
		b, err := c.prepare(lib)
		if err != nil {
			said := clean(err.Error())
			if said == "" {
				t.Fatalf("%q, %q, %q are refused with %q", fault, leg, part, err)
			}
			return
		}
		out, err := b.read([]faulttree.Quantity{quantity})
		if err != nil {
			return
		}
		if v := out.Readings[0].Value; v != nil && (math.IsNaN(float64(*v)) || math.Abs(float64(*v)) > 1e6) {
			t.Fatalf("%q, %q, %q give %v V", fault, leg, part, *v)
		}
	})
}

// Whatever the words of an account are, they are taken, or refused with a
// sentence, and nobody is asked where nobody can be.
func FuzzSuspectsWords(f *testing.F) {
	lib := shipped()
	for _, seed := range [][2]string{
		{"panel.l1-n=59 ?", "L1-N 59 L2-N 177"}, {"body-earth=58, customer says", "at the pedestal: L1-N 121"}, {"panel.l1-x=5", "="},
		{"-", "-"}, {"battery −12.6", "?\x1b[31m"}, {"panel.l1-n=59\npanel.l2-n=60", "12 V"},
	} {
		f.Add(seed[0], seed[1], "panel", "loads-on")
	}
	f.Fuzz(func(t *testing.T, one, other, at, state string) {
		if len(one)+len(other)+len(at)+len(state) > 300 {
			return // longer ones say nothing new
		}
		var said bytes.Buffer
		p := &program{in: bufio.NewReader(strings.NewReader(one)), out: &said, err: &said, env: func(string) string { return "" }}
		c := suspectsCommand{Told: []string{one, other}, At: at, State: state, JSON: true}
		a, err := c.account(p, lib, faulttree.DefaultMeter())
		if err != nil && clean(err.Error()) == "" {
			t.Fatalf("%q and %q are refused with %q", one, other, err)
		}
		for _, e := range a.Evidence {
			if lib.Forest.Quantities[e.Quantity.ID].ID == "" {
				t.Fatalf("%q and %q tell of the quantity %q", one, other, e.Quantity.ID)
			}
		}
		if err == nil && len(a.Evidence) == 0 {
			t.Fatalf("%q and %q tell nothing, and are not refused", one, other)
		}
		if strings.ContainsRune(said.String(), '\x1b') {
			t.Fatalf("%q and %q steer the terminal: %q", one, other, said.String())
		}
	})
}
