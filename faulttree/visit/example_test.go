package visit_test

import (
	"fmt"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

// memory is a Log that keeps lines as long as the program runs.
type memory struct{ text []byte }

func (m *memory) Append(line []byte) error { m.text = append(m.text, line...); return nil }

// A visit is recorded answer by answer, read back from its lines, and goes on
// where it ended.
func Example() {
	leg := faulttree.Quantity{ID: "panel.l1-n", Unit: faulttree.VoltsAC, Range: 600 * faulttree.One}
	done := faulttree.Exit{Text: "read", To: faulttree.Ref{Tree: "leg", Step: "read"}}
	tree := &faulttree.Tree{ID: "leg", Start: "measure", Steps: []*faulttree.Step{
		{Tree: "leg", ID: "measure", Kind: faulttree.KindMeasure, Measure: []faulttree.Variable{{Name: "v", Quantity: leg}},
			Branches: []faulttree.Branch{{Exit: done}}, OverRange: done, NotPossible: done},
		{Tree: "leg", ID: "read", Kind: faulttree.KindFinding},
	}}
	tree.Index()
	forest := &faulttree.Forest{Quantities: faulttree.Quantities{leg.ID: leg}, Trees: map[string]*faulttree.Tree{"leg": tree}}

	at := time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC)
	header := visit.Header{ID: visit.NewID(at, 7), Start: faulttree.Ref{Tree: "leg", Step: "measure"}, Meter: faulttree.DefaultMeter(), Started: at}
	log := &memory{}
	first, _ := visit.EncodeHeader(header)
	log.Append(first)

	rec, _ := visit.Resume(log, visit.Visit{Header: header}, forest)
	reading, _ := faulttree.ParseReading("118,4 V", leg)
	rec, err := rec.Answer(at.Add(time.Minute), faulttree.Answer{Readings: []faulttree.Reading{reading}})
	fmt.Println(rec.Walk().Ended(), err)

	v, _, err := visit.Read(log.text)
	taken := v.Rounds()[0].Items[0].Reply.Readings[0]
	fmt.Println(taken.Quantity, taken.Reading.Text, taken.Reading.Show(taken.Unit), err)
	// Output:
	// true <nil>
	// panel.l1-n 118,4 V 118.4 V <nil>
}
