package visit

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

// A journal from elsewhere may hold marks that turn the direction of text in
// everything that a person types; none of it is read.
func TestHiddenCharactersOfAJournal(t *testing.T) {
	const mark = "\u202e"
	at := time.Date(2026, 5, 3, 9, 0, 0, 0, time.UTC)
	reading := faulttree.Reading{Text: "not possible: a" + mark, Quality: faulttree.NotPossible, Reason: "a" + mark, Note: "b" + mark}
	var text bytes.Buffer
	for _, make := range []func() ([]byte, error){
		func() ([]byte, error) {
			return encode(at, headerLine{head, Header{ID: "a", Started: at, Details: Details{Site: "c" + mark}}})
		},
		func() ([]byte, error) {
			return EncodeRecord(Record{Seq: 1, At: at, Kind: Detailed, Details: Details{Vehicle: "d" + mark, Note: "e" + mark}})
		},
		func() ([]byte, error) {
			return EncodeRecord(Record{Seq: 2, At: at, Kind: Answered, Replies: []Reply{{Readings: []Taken{{Quantity: "q", Reading: reading}}}}})
		},
		func() ([]byte, error) {
			return EncodeRecord(Record{Seq: 3, At: at, Kind: Supplied, Supply: faulttree.Supplied{Readings: map[string][]faulttree.Reading{"q": {reading}}}})
		},
	} {
		line := must.Have(make())(t)
		text.Write(line)
	}
	if n := strings.Count(text.String(), mark); n != 9 {
		t.Fatalf("the journal holds %d marks", n)
	}
	v, _, err := Read(text.Bytes())
	if err != nil || len(v.Records) != 3 || len(v.Damage) > 0 {
		t.Fatalf("%v, %d records, %v", err, len(v.Records), v.Damage)
	}
	r, s := v.Records[1].Replies[0].Readings[0], v.Records[2].Supply.Readings["q"][0]
	all := []string{v.Header.Details.Site, v.Details().Vehicle, v.Details().Note, r.Text, r.Reason, r.Note, s.Text, s.Reason, s.Note}
	if strings.ContainsFunc(strings.Join(all, "|"), source.Hidden) || r.Reason != "a" {
		t.Errorf("%q", all)
	}
	if got := faulttree.NotTaken("x" + mark); got.Reason != "x" || got.Text != "not possible: x" {
		t.Errorf("typed: %+v", got)
	}
}
