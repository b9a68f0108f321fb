package visit

import (
	"encoding/json"
	"fmt"

	"faultwright/faulttree"
)

// EncodeRecord is r as a line of a journal.
func EncodeRecord(r Record) ([]byte, error) {
	w := wireRecord{Seq: r.Seq, Time: r.At, Kind: r.Kind, Kept: r.Kept}
	for _, reply := range r.Replies {
		w.Replies = append(w.Replies, wireFromReply(reply))
	}
	if r.Item != (ItemID{}) {
		w.Item = &r.Item
	}
	switch r.Kind {
	case Supplied:
		w.Supply = wireFromSupplied(r.Supply)
	case Detailed:
		w.Details = &r.Details
	case Retested:
		w.Start = &r.Start
	}
	record, err := json.Marshal(w)
	if err != nil {
		return nil, err
	}
	return seal(record)
}

// decodeRecord reads a line and checks that its record has what its kind
// needs.
func decodeRecord(line []byte) (Record, error) {
	var w wireRecord
	if err := open(line, &w); err != nil {
		return Record{}, err
	}
	r := Record{Seq: w.Seq, At: w.Time, Kind: w.Kind, Kept: w.Kept}
	for _, wire := range w.Replies {
		reply, err := wire.reply()
		if err != nil {
			return r, err
		}
		r.Replies = append(r.Replies, reply)
	}
	if w.Item != nil {
		r.Item = *w.Item
	}
	if w.Details != nil {
		r.Details = *w.Details
	}
	if w.Start != nil {
		r.Start = *w.Start
	}
	if w.Supply != nil {
		var err error
		if r.Supply, err = w.Supply.supplied(); err != nil {
			return r, err
		}
	}
	return r, w.complete()
}

// complete reports what a record of its kind lacks.
func (w wireRecord) complete() error {
	lacks := func(what string) error { return fmt.Errorf("it is a record of kind %q without %s", w.Kind, what) }
	switch w.Kind {
	case Answered:
		if len(w.Replies) != 1 {
			return lacks("its one answer")
		}
	case Backed:
		if w.Item == nil {
			return lacks("the answer it takes back")
		}
	case Changed:
		if len(w.Replies) != 1 || w.Item == nil {
			return lacks("the old and the new answer")
		}
	case Supplied:
		if w.Supply == nil {
			return lacks("its readings")
		}
	case Detailed:
		if w.Details == nil {
			return lacks("details")
		}
	case Retested:
		if w.Start == nil {
			return lacks("the step it starts at")
		}
	default:
		return fmt.Errorf("it is a record of the unknown kind %q", w.Kind)
	}
	return nil
}

func wireFromReply(r Reply) wireReply {
	w := wireReply{Step: r.Step, Choice: r.Choice, Done: r.Done}
	for _, t := range r.Readings {
		w.Readings = append(w.Readings, wireFromReading(t))
	}
	return w
}

func (w wireReply) reply() (Reply, error) {
	r := Reply{Step: w.Step, Choice: w.Choice, Done: w.Done}
	for _, wire := range w.Readings {
		t, err := wire.taken()
		if err != nil {
			return r, err
		}
		r.Readings = append(r.Readings, t)
	}
	return r, nil
}

func wireFromSupplied(s faulttree.Supplied) *wireSupplied {
	w := &wireSupplied{Choices: s.Choices, ActsDone: s.ActsDone}
	for quantity, readings := range s.Readings {
		if w.Readings == nil {
			w.Readings = map[string][]wireReading{}
		}
		list := []wireReading{}
		for _, r := range readings {
			list = append(list, wireFromReading(Taken{Reading: r}))
		}
		w.Readings[quantity] = list
	}
	return w
}

func (w *wireSupplied) supplied() (faulttree.Supplied, error) {
	s := faulttree.Supplied{Choices: w.Choices, ActsDone: w.ActsDone}
	for quantity, list := range w.Readings {
		if s.Readings == nil {
			s.Readings = map[string][]faulttree.Reading{}
		}
		readings := []faulttree.Reading{}
		for _, wire := range list {
			t, err := wire.taken()
			if err != nil {
				return s, err
			}
			readings = append(readings, t.Reading)
		}
		s.Readings[quantity] = readings
	}
	return s, nil
}
