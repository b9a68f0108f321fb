package faulttree

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"unique"
)

// Range is one range of a meter's function: how far it goes, how finely it shows,
// and how far it can be trusted there.
type Range struct {
	Unit  Unit
	Top   Amount // the largest value that it shows
	Count Amount // of the last digit
	Accuracy
}

// String is the range in words: "AC volts up to 600 V in steps of 0.1 V: ±(1 % + 3)".
func (r Range) String() string {
	return fmt.Sprintf("%s up to %s in steps of %s: %s", r.Unit.Function(), r.Top.With(r.Unit), r.Count.With(r.Unit), r.Accuracy)
}

// MostRanges is the most ranges that a meter can list.
const MostRanges = 48

// mostTop is where the highest range ends at most: a thousand million volts or ohms.
const mostTop = 1_000_000_000 * One

// check reports what a range cannot be.
func (r Range) check() error {
	switch {
	case r.Unit.String() == "":
		return errors.New("a range has no unit")
	case r.Top <= 0 || r.Top > mostTop:
		return fmt.Errorf("a range cannot end at %s", r.Top.With(r.Unit))
	case r.Count <= 0 || r.Top/r.Count < 10 || r.Top/r.Count > MostCounts:
		return fmt.Errorf("the range up to %s cannot show steps of %s", r.Top.With(r.Unit), r.Count.With(r.Unit))
	case r.Percent < 0 || r.Percent > 100*One:
		return fmt.Errorf("%q is not a percentage from 0 to 100", r.Percent)
	case r.Counts < 0 || Amount(r.Counts) > r.Top/r.Count:
		return fmt.Errorf("%d is not a number of counts of the range up to %s", r.Counts, r.Top.With(r.Unit))
	}
	return nil
}

// Ranges are the ranges of a meter, as far as its booklet was copied. They compare
// with ==, so that a [Meter] does; the zero value has none.
type Ranges struct {
	list unique.Handle[[MostRanges]Range] // by unit and end; those behind the last have no unit
}

// NewRanges is some ranges in any order. The error says which of them cannot be, is
// there twice, or that they are too many.
func NewRanges(of []Range) (Ranges, error) {
	if len(of) == 0 {
		return Ranges{}, nil
	}
	if len(of) > MostRanges {
		return Ranges{}, fmt.Errorf("a meter has at most %d ranges, not %d", MostRanges, len(of))
	}
	sorted := slices.SortedFunc(slices.Values(of), func(a, b Range) int {
		return cmp.Or(cmp.Compare(a.Unit, b.Unit), cmp.Compare(a.Top, b.Top))
	})
	for i, r := range sorted {
		if err := r.check(); err != nil {
			return Ranges{}, err
		}
		if i > 0 && sorted[i-1].Unit == r.Unit && sorted[i-1].Top == r.Top {
			return Ranges{}, fmt.Errorf("the range of %s up to %s is given twice", r.Unit.Function(), r.Top.With(r.Unit))
		}
	}
	var list [MostRanges]Range
	copy(list[:], sorted)
	return Ranges{unique.Make(list)}, nil
}

// IsZero reports whether there are none.
func (r Ranges) IsZero() bool { return r == Ranges{} }

// Equal reports whether both list the same.
func (r Ranges) Equal(o Ranges) bool { return r == o }

// List is all of them, by unit and then by their ends.
func (r Ranges) List() []Range {
	if r.IsZero() {
		return nil
	}
	list := r.list.Value()
	n := slices.IndexFunc(list[:], func(x Range) bool { return x.Unit == 0 })
	if n < 0 {
		n = len(list)
	}
	return list[:n:n]
}

// of lists those of one function, the lowest first.
func (r Ranges) of(u Unit) []Range {
	if r.IsZero() {
		return nil
	}
	all := r.List()
	from, _ := slices.BinarySearchFunc(all, u, func(x Range, u Unit) int { return cmp.Compare(x.Unit, u) })
	to, _ := slices.BinarySearchFunc(all, u+1, func(x Range, u Unit) int { return cmp.Compare(x.Unit, u) })
	return all[from:to]
}

// rangeLine is a range on record.
type rangeLine struct {
	Unit     string `json:"unit"`
	Top      Amount `json:"top"`
	Count    Amount `json:"count"`
	Accuracy        // percent and counts
}

// MarshalJSON is the list of them.
func (r Ranges) MarshalJSON() ([]byte, error) {
	lines := []rangeLine{}
	for _, x := range r.List() {
		lines = append(lines, rangeLine{x.Unit.String(), x.Top, x.Count, x.Accuracy})
	}
	return json.Marshal(lines)
}

// UnmarshalJSON reads such a list, and refuses what [NewRanges] does.
func (r *Ranges) UnmarshalJSON(text []byte) error {
	var lines []rangeLine
	if err := json.Unmarshal(text, &lines); err != nil {
		return err
	}
	var all []Range
	for _, l := range lines {
		u, ok := ParseUnit(l.Unit)
		if !ok {
			return fmt.Errorf("%q is no unit of a range", l.Unit)
		}
		all = append(all, Range{u, l.Top, l.Count, l.Accuracy})
	}
	read, err := NewRanges(all)
	if err == nil {
		*r = read
	}
	return err
}
