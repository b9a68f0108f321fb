package load

import (
	"fmt"
	"strings"
	"testing"

	"faultwright/faulttree"
)

// accountForest knows besides two quantities what may be seen and tried.
func accountForest() *faulttree.Forest {
	f := readingsForest()
	for _, id := range []string{"a", "b", "c", "d"} {
		f.Quantities[id] = faulttree.Quantity{ID: id, Unit: faulttree.VoltsAC, Range: 600 * faulttree.One, Most: 1000 * faulttree.One}
	}
	f.Observations = []faulttree.Observation{{ID: "smell", Choices: []faulttree.Sight{{ID: "plug"}, {ID: "nothing"}}}}
	f.Interventions = []faulttree.Intervention{{ID: "another-cord"}}
	f.Trees["trips"] = &faulttree.Tree{ID: "trips", Complaint: []faulttree.Choice{{}}}
	return f
}

func TestAccount(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"what a walk takes", "body-earth: [58, OL]\ntingle#felt: yes\n", "body-earth 58 0|body-earth OL 0"},
		{"in the order of the file", "pedestal.l1-n: 120\nbody-earth: 2\nseen: {smell: plug}\n", "pedestal.l1-n 120 0|body-earth 2 0|smell plug 0"},
		{"marks", "pedestal.l1-n: {reading: 120 V, doubtful: true, told: true, round: 2}\nbody-earth: {reading: 3, told: false}\n",
			"pedestal.l1-n 120 V 2 doubtful told|body-earth 3 0"},
		{"marks in a list", "body-earth: [58, {reading: 2, round: 1}, {not-possible: rain, round: 2}]\n", "body-earth 58 0|body-earth 2 1|body-earth not possible: rain 2"},
		{"seen and tried", "complaint: trips\nseen: {smell: plug}\ntried:\n  another-cord: {came-of-it: still, told: true}\n", "smell plug 0|another-cord trips false 0 told"},
		{"the complaint below", "tried: {another-cord: gone}\ncomplaint: trips\n", "another-cord trips true 0"},
	}
	for _, tt := range tests {
		told, diags := Account(strings.NewReader(tt.text), "a.yaml", accountForest())
		var got []string
		for _, e := range told.Evidence {
			text := e.Quantity.ID + " " + e.Reading.Text
			switch {
			case e.Seen != nil:
				text = e.Seen.Observation + " " + e.Seen.Choice
			case e.Tried != nil:
				text = fmt.Sprint(e.Tried.Intervention, " ", e.Tried.Tree, " ", e.Tried.Gone)
			}
			text += fmt.Sprint(" ", e.Round)
			if e.Doubtful {
				text += " doubtful"
			}
			if e.Told {
				text += " told"
			}
			got = append(got, text)
		}
		if s := strings.Join(got, "|"); s != tt.want || len(diags) > 0 {
			t.Errorf("%s: %s, %v; want %s", tt.name, s, diags, tt.want)
		}
	}
}

func TestAccountRefuses(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"an unknown mark", "body-earth: {reading: 3, doubtfull: true}\n", "a.yaml:1:26: error: a reading with marks has no key doubtfull (did you mean doubtful?)"},
		{"a mark that is neither", "body-earth: {reading: 3, told: perhaps}\n", "a.yaml:1:32: error: told is perhaps; expected true or false"},
		{"a round below 0", "body-earth: {reading: 3, round: -1}\n", "a.yaml:1:33: error: round is"},
		{"taken and not", "body-earth: {reading: 3, not-possible: rain}\n", "a.yaml:1:40: error: body-earth has a reading and was not possible; expected one of them"},
		{"marks alone", "body-earth: {told: true}\n", "a.yaml:1:13: error: a reading with marks lacks the key not-possible"},
		{"marks in marks", "body-earth: {reading: {reading: 3}}\n", "a.yaml:1:23: error: body-earth has no reading"},
		{"an unknown observation", "seen: {smel: plug}\n", "a.yaml:1:8: error: there is no observation smel (did you mean smell?)"},
		{"an unknown choice", "seen: {smell: plugs}\n", "a.yaml:1:15: error: smell is plugs; expected plug or nothing (did you mean plug?)"},
		{"an unknown intervention", "tried: {another-chord: gone}\n", "a.yaml:1:9: error: there is no intervention another-chord (did you mean another-cord?)"},
		{"came of it", "tried: {another-cord: better}\n", "a.yaml:1:23: error: another-cord is better; expected gone or still"},
		{"a complaint of no walk", "complaint: tingle\n", "a.yaml:1:12: error: the complaint is tingle; expected trips"},
		{"a list of what was seen", "seen: [smell]\n", "a.yaml:1:7: error: seen is a list; expected keys and values"},
		{"many", manyReadings(), "a.yaml:6:5: error: this is more than 500 readings"},
	}
	for _, tt := range tests {
		told, diags := Account(strings.NewReader(tt.text), "a.yaml", accountForest())
		if len(diags) == 0 || !strings.HasPrefix(diags[0].String(), tt.want) {
			t.Errorf("%s: %v; want %s", tt.name, diags, tt.want)
		}
		if len(told.Evidence) > 0 {
			t.Errorf("%s: something is told beside an error", tt.name)
		}
	}
}

// manyReadings is six times the most readings that one quantity may have.
func manyReadings() string {
	var b strings.Builder
	for _, id := range []string{"body-earth", "pedestal.l1-n", "a", "b", "c", "d"} {
		fmt.Fprintf(&b, "%s: [%s3]\n", id, strings.Repeat("3, ", mostReadings-1))
	}
	return b.String()
}

// A walk takes what its reader is sure of, and says so.
func TestAWalkTakesNoMarks(t *testing.T) {
	for _, text := range []string{"body-earth: {reading: 3, told: true}\n", "seen: {smell: plug}\n", "complaint: trips\n"} {
		if _, diags := Readings(strings.NewReader(text), "r.yaml", accountForest()); len(diags) == 0 {
			t.Errorf("%s is taken", text)
		}
	}
}

func FuzzAccount(f *testing.F) {
	for _, seed := range []string{"body-earth: {reading: 58 V, doubtful: true}", "seen: {smell: plug}", "tried: {another-cord: {came-of-it: gone, round: 1}}", "complaint: trips", "body-earth: {? x}"} {
		f.Add(seed)
	}
	forest := accountForest()
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > mostFuzzed {
			return
		}
		told, diags := Account(strings.NewReader(text), "a.yaml", forest)
		if len(diags) > 0 && len(told.Evidence)+len(told.Choices) > 0 {
			t.Errorf("something is told beside %v", diags)
		}
		for _, e := range told.Evidence {
			if e.Round < 0 || e.Round > mostRounds {
				t.Errorf("round %d", e.Round)
			}
		}
	})
}
