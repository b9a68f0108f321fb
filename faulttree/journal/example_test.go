package journal_test

import (
	"fmt"
	"time"

	"faultwright/faulttree/journal"
)

// note is a record of a journal that keeps notes.
type note struct {
	Seq  int    `json:"seq"`
	Text string `json:"text"`
}

// One letter of a note is damaged on disk; the other notes are read, and it is
// said what is lost.
func Example() {
	first := journal.Head{Kind: "notes", Format: 1}
	notes := journal.Format[journal.Head, note]{
		Of: "somebody's notes", Most: 100,
		Header: func(text []byte) (journal.Head, error) { return first, first.Check(text) },
		Record: func(text []byte) (n note, seq int, err error) {
			err = journal.Decode(text, &n)
			return n, n.Seq, err
		},
	}
	at := time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC)
	var text []byte
	for _, record := range []any{first, note{1, "wet grass"}, note{2, "sun"}, note{3, "dew"}} {
		line, err := journal.Encode(at, record)
		if err != nil {
			fmt.Println(err)
			return
		}
		text = append(text, line...)
	}
	text[len(text)-70] ^= 1
	read, err := notes.Read(text)
	fmt.Println(len(read.Records), read.Records[1].Text, err)
	fmt.Println(read.Damage[0])
	// Output:
	// 2 dew <nil>
	// line 3 of the record: its checksum does not agree with its text; record 2 is lost
}
