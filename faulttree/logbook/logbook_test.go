package logbook

import (
	"strings"
	"testing"
	"time"

	"faultwright/faulttree/must"

	"github.com/google/go-cmp/cmp"
)

var made = time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC)

func willow() Vehicle {
	return Vehicle{ID: "2026-05-03-willw", Name: "Willow", Note: "Built 2011.", Facts: map[string]string{"service": "30a"}, Meter: "ordinary", Made: made, Revision: 1}
}

func heron() Vehicle {
	return Vehicle{ID: "2026-05-04-heron", Name: "Heron", Note: "The same one, by its old name.", Facts: map[string]string{"service": "50a", "battery": "agm"}, Aboard: []string{"inverter"}, Made: made, Also: []string{"2026-01-01-older"}}
}

// What is written reads back the same, and hidden characters and blanks do not stay.
func TestRoundTrip(t *testing.T) {
	v := willow()
	v.Name, v.Aboard, v.Facts["adapter"] = "  Wil\u202elow\n ", []string{"solar", "generator", "solar"}, ""
	got := must.Have(Decode(must.Have(Encode(v))(t)))(t)
	want := willow()
	want.Aboard = []string{"generator", "solar"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// A file that is none of ours is told in one sentence.
func TestHostileFiles(t *testing.T) {
	whole := string(must.Have(Encode(willow()))(t))
	long := strings.Repeat("é", 10_000)
	for name, tt := range map[string]struct{ text, want string }{
		"cut off":     {whole[:len(whole)/2], "the vehicle is damaged: unexpected end of JSON input"},
		"empty":       {"", "the vehicle is damaged: unexpected end of JSON input"},
		"later":       {strings.Replace(whole, `"1.0"`, `"2.0"`, 1), "the vehicle is of version 2.0, made by a later Faultwright; this one reads up to 1"},
		"another":     {strings.Replace(whole, "faultwright-vehicle", "faultwright-attempt", 1), `the vehicle says that its format is "faultwright-attempt"; expected "faultwright-vehicle"`},
		"long name":   {strings.Replace(whole, "Willow", long, 1), "the vehicle cannot be taken: the name has 10000 letters; at most 80 are kept, the rest belongs into the note"},
		"long note":   {strings.Replace(whole, "Built 2011.", long, 1), "the vehicle cannot be taken: the note has 10000 letters; at most 4000 are kept"},
		"no name":     {strings.Replace(whole, "Willow", "\u202e ", 1), "the vehicle cannot be taken: the vehicle has no name; a few letters tell it from the others"},
		"leads out":   {strings.Replace(whole, "2026-05-03-willw", "../../settings", 1), `the vehicle cannot be taken: "../../settings" cannot name a vehicle; expected something like 2026-05-03-k7fqm`},
		"long choice": {strings.Replace(whole, "30a", long, 1), "the vehicle cannot be taken: \"" + strings.Repeat("é", 40) + "…\" is no name of a fact, of its choice, or of what is aboard"},
		"deep":        {strings.Repeat("[", 100_000), "the vehicle is nested more than 32 levels deep; it is not read"},
	} {
		if _, err := Decode([]byte(tt.text)); err == nil || err.Error() != tt.want {
			t.Errorf("%s: %v; want %s", name, err, tt.want)
		}
	}
	minor := strings.Replace(strings.Replace(whole, `"1.0"`, `"1.7"`, 1), `"name"`, `"colour":"blue","name"`, 1)
	if diff := cmp.Diff(willow(), must.Have(Decode([]byte(minor)))(t)); diff != "" {
		t.Errorf("of a later minor version: %s", diff)
	}
}

// Merging adds what only the other says and loses nothing of what it says otherwise.
func TestMerged(t *testing.T) {
	got := must.Have(willow().Merged(heron()))(t)
	want := willow()
	want.Facts = map[string]string{"service": "30a", "battery": "agm"}
	want.Aboard = []string{"inverter"}
	want.Also = []string{"2026-05-04-heron", "2026-01-01-older"}
	want.Note = "Built 2011.\nMerged: Heron. service was 50a there. The same one, by its old name."
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if !got.Is("2026-01-01-older") || got.Is("") || got.Is("2026-09-09-none2") {
		t.Error("it is not what was merged into it, or more than that")
	}
	if v, ok := Find([]Vehicle{heron(), got}, "2026-05-04-heron"); !ok || v.Name != "Heron" {
		t.Errorf("its own id finds %q", v.Name) // as long as it is there, such as after a stop in between
	}
	if v, ok := Find([]Vehicle{got}, "2026-05-04-heron"); !ok || v.Name != "Willow" {
		t.Errorf("the id of a merged vehicle finds %q", v.Name)
	}
}

// A vehicle is not merged with itself, by whatever id, nor where the notes are too long.
func TestNotMerged(t *testing.T) {
	both := must.Have(willow().Merged(heron()))(t)
	for _, pair := range [][2]Vehicle{{willow(), willow()}, {both, heron()}, {heron(), both}} {
		if _, err := pair[0].Merged(pair[1]); err == nil || !strings.Contains(err.Error(), "merged with itself") {
			t.Errorf("%s with %s: %v", pair[0].Name, pair[1].Name, err)
		}
	}
	long := willow()
	long.Note = strings.Repeat("a", MostNote-10)
	if _, err := long.Merged(heron()); err == nil || !strings.Contains(err.Error(), "the note has") {
		t.Error(err)
	}
}
