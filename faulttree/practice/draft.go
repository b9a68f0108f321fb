package practice

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"

	"faultwright/faulttree/source"
)

// Draft is what a learner has chosen and typed and not said yet. It is on record for a
// program that ends before it is said, and is no part of the [Attempt].
type Draft struct {
	Conclusion Conclusion `json:"conclusion,omitzero"`
	// Readings is how many there were when Expects and Tells were chosen of the next one.
	Readings int    `json:"readings,omitzero"`
	Expects  string `json:"expects,omitzero"`
	Tells    string `json:"tells,omitzero"`
}

// What drafts may take of one record, so that it stays one that can be read.
const (
	mostDrafts     = 4_000
	mostDraftBytes = 2 << 20
)

// ErrDrafts is that no further draft of an attempt is kept.
var ErrDrafts = fmt.Errorf("this attempt has kept all that it can of what was not said yet: %d changes, or %d MiB", mostDrafts, mostDraftBytes>>20)

// Draft is what was kept last; after the conclusion there is none.
func (r *Recorder) Draft() Draft {
	if r.kept.Attempt.Ended() {
		return Draft{}
	}
	return r.kept.Draft
}

// Keep has on record what a learner has chosen and typed so far. A draft that is the same
// as the last one is not written again; after the conclusion there is nothing to keep.
func (r *Recorder) Keep(d Draft) error {
	d.hide()
	switch {
	case r.kept.Attempt.Ended() || reflect.DeepEqual(d, r.kept.Draft):
		return nil
	case r.kept.drafts >= mostDrafts || r.kept.draftBytes+d.size() > mostDraftBytes:
		return ErrDrafts
	}
	if err := r.kept.Attempt.takes(d); err != nil {
		return err
	}
	return r.add(record{Draft: &d})
}

// takes reports why a draft cannot be one of the attempt.
func (a Attempt) takes(d Draft) error {
	readings := a.ReadingsAt()
	if d.Readings < 0 || slices.ContainsFunc(d.Conclusion.Deciding, func(i int) bool { return !slices.Contains(readings, i) }) {
		return errors.New("it is about readings that nobody took")
	}
	a.Conclusion, a.Predictions = &d.Conclusion, []Prediction{{Expects: d.Expects, Tells: d.Tells}}
	return a.bounded()
}

// size is how many bytes it takes in a record, about.
func (d Draft) size() int {
	text, err := json.Marshal(d)
	if err != nil {
		return mostDraftBytes
	}
	return len(text)
}

// hide takes what is not shown out of its texts.
func (d *Draft) hide() {
	d.Conclusion.Tell, d.Expects, d.Tells = source.Shown(d.Conclusion.Tell), source.Shown(d.Expects), source.Shown(d.Tells)
}
