package load

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/iotest"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"

	"github.com/google/go-cmp/cmp"
)

// readingsForest knows two quantities and one question.
func readingsForest() *faulttree.Forest {
	volts := func(id string) faulttree.Quantity {
		return faulttree.Quantity{ID: id, Unit: faulttree.VoltsAC, Range: 600 * faulttree.One, Most: 1000 * faulttree.One}
	}
	t := &faulttree.Tree{ID: "tingle", Steps: []*faulttree.Step{
		{Tree: "tingle", ID: "felt", Kind: faulttree.KindObserve, Choices: []faulttree.Choice{{ID: "yes"}, {ID: "no"}}},
		{Tree: "tingle", ID: "off", Kind: faulttree.KindAct},
	}}
	t.Index()
	return &faulttree.Forest{
		Quantities: faulttree.Quantities{"body-earth": volts("body-earth"), "pedestal.l1-n": volts("pedestal.l1-n")},
		Trees:      map[string]*faulttree.Tree{"tingle": t},
	}
}

func TestReadings(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"yaml", "body-earth: 58 V\npedestal.l1-n: 120.0\n", "body-earth=58 V pedestal.l1-n=120.0"},
		{"digits stay as typed", "pedestal.l1-n: 1.20\n", "pedestal.l1-n=1.20"},
		{"comma", "body-earth: 0,4\n", "body-earth=0,4"},
		{"list", "body-earth: [OL, 58, wanders 3-8 V]\n", "body-earth=OL|58|wanders 3-8 V"},
		{"not possible", "body-earth: {not-possible: fence in the way}\npedestal.l1-n: 'not possible: rain'\n",
			"body-earth=not possible: fence in the way pedestal.l1-n=not possible: rain"},
		{"not possible in a list", "body-earth:\n  - {not-possible: rain}\n  - 3\n", "body-earth=not possible: rain|3"},
		{"choice", "tingle#felt: yes\nbody-earth: 2\n", "body-earth=2 tingle#felt=yes"},
		{"json", "{\n\t\"body-earth\": 58.10,\n\t\"pedestal.l1-n\": [\"120 V\", 119],\n\t\"tingle#felt\": \"no\"\n}\n",
			"body-earth=58.10 pedestal.l1-n=120 V|119 tingle#felt=no"},
		{"windows line ends", "\ufeffbody-earth: 58\r\n", "body-earth=58"},
		{"empty mapping", "{}", ""},
	}
	for _, tt := range tests {
		s, diags := Readings(strings.NewReader(tt.text), "r.yaml", readingsForest())
		if len(diags) > 0 {
			t.Errorf("%s: %v", tt.name, diags)
			continue
		}
		var got []string
		for _, id := range []string{"body-earth", "pedestal.l1-n"} {
			texts := lists.Each(s.Readings[id], func(r faulttree.Reading) string { return r.Text })
			if texts != nil {
				got = append(got, id+"="+strings.Join(texts, "|"))
			}
		}
		for ref, choice := range s.Choices {
			got = append(got, ref.String()+"="+choice)
		}
		if diff := cmp.Diff(tt.want, strings.Join(got, " ")); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
		if !s.ActsDone {
			t.Errorf("%s: acts do not count as done", tt.name)
		}
	}
}

func TestReadReadingsRefuses(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"unknown quantity", "body-eart: 3\n", "r.yaml:1:1: error: body-eart is not a quantity of this handbook, nor the tree#step of a question (did you mean body-earth?)"},
		{"lone one", "body-earth: 1.\n", "r.yaml:1:13: error: body-earth: A lone 1 with a point can be how a meter shows over-range."},
		{"negative", "body-earth: -3 V\n", "r.yaml:1:13: error: body-earth: Alternating voltage has no sign"},
		{"other unit", "body-earth: 3 ohm\n", "r.yaml:1:13: error: body-earth: Ohms typed where volts are asked."},
		{"in a list", "body-earth:\n  - 3\n  - what\n", "r.yaml:3:5: error: body-earth: “what” is not a reading."},
		{"nothing", "body-earth:\n", "r.yaml:1:12: error: body-earth has no reading"},
		{"empty list", "body-earth: []\n", "r.yaml:1:13: error: body-earth has an empty list"},
		{"other key", "body-earth: {value: 3}\n", "r.yaml:1:13: error: a reading that is no text lacks the key not-possible"},
		{"unknown choice", "tingle#felt: yess\n", "r.yaml:1:14: error: tingle#felt has no choice \"yess\"; expected yes or no (did you mean yes?)"},
		{"unknown step", "tingle#fell: yes\n", "r.yaml:1:1: error: tingle#fell: there is no step of this name (did you mean tingle#felt?)"},
		{"an act", "tingle#off: yes\n", "r.yaml:1:1: error: tingle#off: that step is no question but of kind act"},
		{"a list", "- body-earth\n", "r.yaml:1:1: error: the file of readings is a list; expected keys and values"},
		{"twice", "body-earth: 1.0\nbody-earth: 2\n", "r.yaml:2:1: error: the key body-earth stands twice"},
		{"alias", "body-earth: &a 3\npedestal.l1-n: *a\n", "r.yaml:1:"},
		{"not utf-8", "body-earth: \xff\n", "r.yaml:1:13: error: this byte is not UTF-8; save the file as UTF-8"},
		{"empty", "", "r.yaml:1:1: error: there is nothing here"},
		{"large", "body-earth: " + strings.Repeat("3", mostReadingBytes), "r.yaml: error: the file of readings is larger than 262144 bytes"},
		{"many", "body-earth: [" + strings.Repeat("3, ", mostReadings) + "3]", "r.yaml:1:13: error: body-earth has 101 readings; at most 100 are read"},
	}
	for _, tt := range tests {
		s, diags := Readings(strings.NewReader(tt.text), "r.yaml", readingsForest())
		if len(diags) == 0 || !strings.HasPrefix(diags[0].String(), tt.want) {
			t.Errorf("%s: %v; want %s", tt.name, diags, tt.want)
		}
		if len(s.Readings) > 0 {
			t.Errorf("%s: readings are supplied beside an error", tt.name)
		}
	}
	if _, diags := Readings(iotest.ErrReader(errors.New("gone")), "r.yaml", readingsForest()); len(diags) != 1 {
		t.Errorf("a reader that fails: %v", diags)
	}
}

// Every error of a file is reported, in the order of its lines.
func TestReadReadingsReportsAll(t *testing.T) {
	_, diags := Readings(strings.NewReader("body-earth: x\npedestal.l1: 3\ntingle#felt: 7\n"), "r.yaml", readingsForest())
	if len(diags) != 3 || diags[0].Pos.Line != 1 || diags[2].Pos.Line != 3 {
		t.Errorf("got %v", diags)
	}
}

func FuzzReadings(f *testing.F) {
	for _, seed := range []string{"body-earth: 58 V", "{\"body-earth\": [1.0, {\"not-possible\": \"rain\"}]}", "tingle#felt: yes", "a: &b [*b]", "[[[[", "? x"} {
		f.Add(seed)
	}
	forest := readingsForest()
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > mostFuzzed {
			return
		}
		s, diags := Readings(strings.NewReader(text), "r.yaml", forest)
		if len(diags) > 0 && len(s.Readings)+len(s.Choices) > 0 {
			t.Errorf("readings are supplied beside %v", diags)
		}
	})
}

// A file of readings with very many errors tells the first and counts the rest.
func TestReadingsWithManyErrors(t *testing.T) {
	var text strings.Builder
	for i := range 10_000 {
		fmt.Fprintf(&text, "body-eart%d: 5\n", i)
	}
	_, diags := Readings(strings.NewReader(text.String()), "many.yaml", readingsForest())
	if n := mostReadingErrors; len(diags) != n+1 || diags[n].String() != "many.yaml:21:1: error: the 9980 keys from here on are not looked at until these errors are mended" {
		t.Errorf("%d diagnostics, the last %v", len(diags), diags[len(diags)-1])
	}
}
