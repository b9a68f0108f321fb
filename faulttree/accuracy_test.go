package faulttree

import (
	"strings"
	"testing"
)

func TestAccuracyAsBookletsGiveIt(t *testing.T) {
	for _, c := range []struct {
		text string
		want Accuracy
	}{
		{"±(1.0% + 3)", Accuracy{One, 3}},
		{"± (1.0 % + 3)", Accuracy{One, 3}},
		{"1.0 % rdg + 3 dgt", Accuracy{One, 3}},
		{"±1.0 % of reading + 3 digits", Accuracy{One, 3}},
		{"±(1.0% of rdg. + 3 dgts.)", Accuracy{One, 3}},
		{"0.8%+5", Accuracy{8 * One / 10, 5}},
		{"+/-(0,8 % + 5 D)", Accuracy{8 * One / 10, 5}},
		{"(±0.5% + 10 counts)", Accuracy{One / 2, 10}},
		{" 1.2 + 5 ", Accuracy{12 * One / 10, 5}},
		{"1,2 + 5 counts", Accuracy{12 * One / 10, 5}},
		{"0 % + 0", Accuracy{}},
	} {
		got, err := ParseAccuracy(c.text)
		if err != nil || got != c.want {
			t.Errorf("%q is %v, %v; want %v", c.text, got, err, c.want)
		}
	}
}

// Half an accuracy would make readings look better than they are.
func TestWhatIsNoAccuracy(t *testing.T) {
	for text, says := range map[string]string{
		"quite good":               "no accuracy",
		"":                         "no accuracy",
		"±1.0%":                    "no accuracy",
		"3 dgt":                    "no accuracy",
		"±(1.0% + 0.3)":            "no accuracy",
		"±(1.0% + 3%)":             "no accuracy",
		"1.0% - 3":                 "no accuracy",
		"-1.0% + 3":                "no accuracy",
		"±(1.0% + 3) typical":      "no accuracy",
		"±(0.5% + 0.1% of range)":  "percent of the range",
		"2 % of full scale":        "percent of the range",
		"101 % + 3":                "0 to 100",
		"1 % + 99999999999999":     "at most",
		"1.0000000001 % + 3":       "0 to 100",
		"1e3 + 5":                  "no accuracy",
		strings.Repeat("1", 10000): "no accuracy",
	} {
		if got, err := ParseAccuracy(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%.40q is %v, %v; want %q", text, got, err, says)
		}
	}
}

// What is written is read again.
func TestAccuracyIsWrittenAsItIsRead(t *testing.T) {
	for _, a := range []Accuracy{{One, 3}, {12 * One / 10, 5}, {0, 0}, {1, MostCounts}} {
		if got, err := ParseAccuracy(a.String()); err != nil || got != a {
			t.Errorf("%s is read as %v, %v", a, got, err)
		}
	}
}
