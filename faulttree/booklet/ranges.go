package booklet

import (
	"errors"
	"fmt"

	"faultwright/faulttree"
)

// unit is the function that a line gives an accuracy of, by what it says itself and
// what the last heading said.
func (w words) unit(above function) (faulttree.Unit, error) {
	f := w.function
	for _, v := range w.values {
		if f.what != "" && f.what != v.what {
			return 0, fmt.Errorf("a value in %s stands in a line of %s", v.what, f.what)
		}
		f.what = v.what
	}
	if f.what == "" || f.what == above.what {
		if f.what == "" {
			f.what = above.what
		}
		if f.wave == "" {
			f.wave = above.wave
		}
	} else if f.wave == "" && above.what == "" {
		f.wave = above.wave
	}
	units := map[function]faulttree.Unit{
		{"V", "AC"}: faulttree.VoltsAC, {"V", "DC"}: faulttree.VoltsDC,
		{"A", "AC"}: faulttree.AmpsAC, {"A", "DC"}: faulttree.AmpsDC,
	}
	if f.what == "Ω" {
		return faulttree.Ohms, nil
	}
	if u, ok := units[f]; ok {
		return u, nil
	}
	if f.what == "" {
		return 0, errors.New("it does not say of which function; expected AC V, DC V, ohms, AC A or DC A before it")
	}
	return 0, fmt.Errorf("it does not say whether AC or DC; expected AC %s or DC %s", f.what, f.what)
}

// ranges is the ranges that a line gives an accuracy for: one; several joined by "/";
// or the decades from one to another. A second value beside one, not joined to it, is
// how finely it shows.
func (w words) ranges(of faulttree.Unit, a faulttree.Accuracy, model faulttree.Meter) ([]faulttree.Range, error) {
	var out []faulttree.Range
	for i, v := range w.values {
		count := v.count
		if !v.decimals { // "600 V" says nothing of its digits
			count = model.Range(of, v.size).Count
		}
		r := faulttree.Range{Unit: of, Top: v.size, Count: count, Accuracy: a}
		switch {
		case i == 0 || v.joined == "/":
			out = append(out, r)
		case v.joined == "to":
			last := out[len(out)-1]
			if last.Top >= v.size {
				return nil, fmt.Errorf("its ranges go from %s to %s; expected the lower first", last.Top.With(of), v.size.With(of))
			}
			for last.Top < v.size/10 {
				last.Top, last.Count = last.Top*10, last.Count*10
				out = append(out, last)
			}
			out = append(out, r)
		case len(w.values) == 2 && v.size > 0 && v.size <= out[0].Top/10:
			out[0].Count = v.size
		default:
			return nil, fmt.Errorf("%s beside %s is not understood; expected how finely the range shows, or several ranges as 6/60/600 V", v.size.With(of), out[len(out)-1].Top.With(of))
		}
		if r.Top <= 0 {
			return nil, fmt.Errorf("a range cannot end at %s", r.Top.With(of))
		}
	}
	return out, nil
}
