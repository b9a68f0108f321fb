package store

import (
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
)

// BenchmarkAnswer is one answer on record: judged, encoded, written, synced.
func BenchmarkAnswer(b *testing.B) {
	s, err := Open(b.TempDir())
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	f := must.Have(s.Create(header()))(b)
	defer func() { f.Close() }()
	forest := chain()
	first := must.Have(visit.Resume(f, f.Record(), forest))(b)
	r, a := first, volts("118.4")
	for b.Loop() {
		if r.Walk().Ended() {
			if len(r.Visit().Records) > visit.MostRecords-2*legs {
				b.StopTimer()
				f.Close()
				if f, err = s.Create(header()); err != nil {
					b.Fatal(err)
				}
				if r, err = visit.Resume(f, f.Record(), forest); err != nil {
					b.Fatal(err)
				}
				b.StartTimer()
				continue
			}
			if r, err = r.Retest(header().Started, faulttree.Ref{}); err != nil {
				b.Fatal(err)
			}
		}
		if r, err = r.Answer(header().Started, a); err != nil {
			b.Fatal(err)
		}
	}
}
