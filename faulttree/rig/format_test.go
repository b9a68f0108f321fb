package rig

import "testing"

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		v    float64
		u    ParamUnit
		want string
	}{{3, Ohms, "3 Ω"}, {0.012, Ohms, "12 mΩ"}, {47300, Ohms, "47.3 kΩ"}, {2e-8, Farads, "20 nF"}, {1500, Watts, "1500 W"},
		{0.0045, Amperes, "4.5 mA"}, {12.52, Amperes, "12.5 A"}, {-1, Gauge, "2/0 AWG"}, {0, Watts, "0 W"}, {180, Degrees, "180°"}, {30, Metres, "30 m (98 ft)"}, {0.1, Metres, "0.1 m"}} {
		if got := c.u.Format(c.v); got != c.want {
			t.Errorf("%v is %q, want %q", c.v, got, c.want)
		}
	}
}

func TestFormatVolts(t *testing.T) {
	for want, got := range map[string]string{
		"120.0 V": FormatVolts(-120, false), "−12.6 V": FormatVolts(-12.6, true), "12.6 V": FormatVolts(12.6, true),
		"0.17 V": FormatVolts(0.17i, false), "0 V": FormatVolts(-0.001, true),
	} {
		if got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
