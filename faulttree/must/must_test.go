package must_test

import (
	"errors"
	"testing"

	"faultwright/faulttree/must"
)

// told is a test that goes on after its end, to be asked what ended it.
type told struct{ with []any }

func (x *told) Fatal(with ...any) { x.with = with }

func TestAnErrorEndsTheTest(t *testing.T) {
	why := errors.New("the disk is full")
	fine, ended := &told{}, &told{}
	if got := must.Have(7, nil)(fine); got != 7 || fine.with != nil {
		t.Errorf("without an error the test has %d and ends with %v", got, fine.with)
	}
	must.Do(ended, why)
	if len(ended.with) != 1 || ended.with[0] != why {
		t.Errorf("the test ends with %v", ended.with)
	}
	ended = &told{}
	must.Have(0, why)(ended)
	if len(ended.with) != 1 || ended.with[0] != why {
		t.Errorf("the test that was to have something ends with %v", ended.with)
	}
}
