package visits

import (
	"context"
	"strconv"
	"testing"
	"time"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// A long list is shown in part, the newest first, and whole on demand.
func TestManyVisits(t *testing.T) {
	folder := must.Have(store.Open(t.TempDir()))(t)
	defer folder.Close()
	start := time.Date(2026, 4, 1, 8, 0, 0, 0, time.UTC)
	for i := range mostRows + 3 {
		f := must.Have(folder.Create(visit.Header{
			Start: faulttree.Ref{Tree: "tingle", Step: "felt"}, Meter: faulttree.DefaultMeter(), Started: start.Add(time.Duration(i) * time.Hour),
			Details: visit.Details{Site: "Quillback Hollow, site " + strconv.Itoa(i)},
		}))(t)
		f.Close()
	}
	book := must.Have(load.Dir(context.Background(), "../../testdata/handbook"))(t)
	s := must.Have(session.New(session.Options{Visits: session.OnDisk(folder), Now: func() time.Time { return time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC) }}))(t)
	s.UseBook(book)
	w, r := frametest.Open(t, frametest.Wide, frame.Options{}, place.Visits(), func(f *frame.Frame) { f.Add(New(f, s).Pages("")) })
	r.Want("Quillback Hollow, site 62, 3 April 22:00\nUnfinished. 0 readings.", "Show 3 older visits")
	r.Press("Show 3 older visits")
	r.Want("Quillback Hollow, site 0, 1 April 08:00")
	w.Back()
	r.Want("Show 3 older visits")
}
