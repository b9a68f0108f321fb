package session_test

import (
	"context"
	"fmt"
	"time"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/gui/session"
)

// A visit is begun and answered; each outcome says where to go on.
func Example() {
	book, err := load.Dir(context.Background(), "../../testdata/handbook")
	if err != nil {
		fmt.Println(err)
		return
	}
	s, _ := session.New(session.Options{
		Now:    func() time.Time { return time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC) },
		Random: func() uint64 { return 7 },
	})
	s.UseBook(book)
	begun, err := s.Begin(faulttree.Ref{Tree: "tingle"})
	fmt.Println(begun.To.Page, begun.To.Step, err)
	next, err := s.Answer(begun.To.ID, faulttree.Answer{Choice: "no"})
	fmt.Println(next.To.Page, next.To.Step, err)
	fmt.Println(s.Visit().Walk().At())
	// Output:
	// walk 0 <nil>
	// walk 1 <nil>
	// tingle#prove
}
