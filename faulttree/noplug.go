package faulttree

import "slices"

// Sample is a reading of a quantity.
type Sample struct {
	Quantity Quantity
	Reading  Reading
}

// OfSupply reports whether q is read at a supply with nothing plugged in: a live
// contact, and no point of it on the vehicle.
func (q Quantity) OfSupply() bool { return q.Exposure == AtSupply && q.OffVehicle }

// NeedsPlug reports whether q is read on a vehicle that is fed: a contact on its body or
// inside it, or one where nothing is live and what makes the reading is.
func (q Quantity) NeedsPlug() bool {
	return q.Exposure == AtBody || q.Exposure == InsideBody || q.Fed
}

// NoPlug is why nothing is plugged into a supply: readings of it alone say so.
type NoPlug struct {
	At    int    // index of the reading that decided, with those before it
	Limit Amount // which it may have reached, or is below or above; 0 where no limit of its own decided
	Low   bool   // it is below the limit: too little to plug in
	High  bool   // it is above the limit: too much to plug in
	To    *Step  // the chart or step of a walk to which they leave nothing but DANGER; nil where a limit decided
}

// NoPlug reports whether some readings, in the order in which they were taken, forbid to
// plug anything into the supply: one may have reached a limit from which on a tree calls
// its quantity dangerous, or forbids the plug ([Tree.NoPlug]), or shows too little or too
// much ([Tree.Unfit]), or a walk that is about the supply alone is left nothing but a STOP or
// a finding of DANGER, whatever else is read. Later readings take nothing back, but for one
// that was over the meter's range and is read again on a higher one, and one that was too
// low or too high, for a site sags and rises by the hour.
func (f *Forest) NoPlug(read []Sample, m Meter, known Known) (NoPlug, bool) {
	latest := map[string]Reading{}
	var unfit []NoPlug // the mildest, so that any other decides before
	var ofSupply []*Tree
	for _, id := range f.IDs() {
		if t := f.Trees[id]; slices.Equal(t.Scope, []Place{Supply}) {
			ofSupply = append(ofSupply, t)
		}
	}
	for i, s := range read {
		id := s.Quantity.ID
		anew := slices.ContainsFunc(read[i+1:], func(o Sample) bool { return o.Quantity.ID == id && o.Reading.Numeric() })
		if !s.Quantity.OfSupply() || s.Reading.Quality == NotPossible || s.Reading.Quality == OverRange && anew {
			continue
		}
		if limit, reached := f.forbidsPlug(s, m); reached {
			return NoPlug{At: i, Limit: limit}, true
		}
		latest[id] = s.Reading
		if x, is := f.unfit(s.Quantity, s.Reading); is && !anew {
			unfit = append(unfit, NoPlug{At: i, Limit: x.Limit, Low: x.Low, High: x.High})
		}
		for _, t := range ofSupply {
			for _, step := range t.Steps {
				if step.Measures(id) >= 0 && f.condemns(step, latest, m, t.DangerLimit, known) {
					return NoPlug{At: i, To: step}, true
				}
			}
		}
	}
	if len(unfit) > 0 {
		return unfit[0], true
	}
	return NoPlug{}, false
}

// forbidsPlug is the lowest limit that a reading may have reached of those from which on
// it can hurt, or nothing is plugged in.
func (f *Forest) forbidsPlug(s Sample, m Meter) (limit Amount, reached bool) {
	x, reached := f.Reaches(m, s.Quantity, s.Reading)
	if o, also := f.keepsOut(m, s.Quantity, s.Reading); also && (!reached || o.Limit < x.Limit) {
		x, reached = o, true
	}
	return x.Limit, reached
}

// Warns reports which danger limit of any tree a reading may have reached ([Forest.Reaches]);
// where none, from which limit on nothing is plugged in, or below or above which.
func (f *Forest) Warns(m Meter, q Quantity, r Reading) (x Reached, warns bool) {
	if x, hurts := f.Reaches(m, q, r); hurts {
		return x, true
	}
	if x, out := f.keepsOut(m, q, r); out {
		return x, true
	}
	return f.unfit(q, r)
}

// unfit reports below or above which limit of a tree a reading is too low or too high to
// plug in. It hurts nobody at once, so the figure shown decides, and of one that wanders
// any.
func (f *Forest) unfit(q Quantity, r Reading) (x Reached, is bool) {
	if !r.Numeric() {
		return Reached{}, false
	}
	for _, id := range f.IDs() {
		for _, span := range f.Trees[id].Unfit[q.ID] {
			switch {
			case !Only(q.Judged(r.Low, r.High)).Overlaps(span):
			case span.Below == Highest:
				return Reached{Quantity: q, Reading: r, Tree: id, Limit: span.From.Written(), High: true}, true
			default:
				return Reached{Quantity: q, Reading: r, Tree: id, Limit: span.Below, Low: true}, true
			}
		}
	}
	return Reached{}, false
}

// keepsOut reports which limit of any tree from which on nothing is plugged in a reading
// may have reached: the lowest.
func (f *Forest) keepsOut(m Meter, q Quantity, r Reading) (x Reached, reached bool) {
	for _, id := range f.IDs() {
		t := f.Trees[id]
		limit, declared := t.Limits[t.NoPlug[q.ID]]
		if declared && m.MayHurt(r, q, limit.Value) && (!reached || limit.Value < x.Limit) {
			x, reached = Reached{Quantity: q, Reading: r, Tree: id, Limit: limit.Value}, true
		}
	}
	return x, reached
}

// endsWalk reports whether an exit leads to a STOP or to a finding of DANGER.
func (f *Forest) endsWalk(e Exit) bool {
	s := f.Step(e.To)
	return s != nil && (s.Stop() || s.Kind == KindFinding && s.Finding.Signal == Danger)
}

// condemns reports whether s judges by readings of the supply alone, and some of them leave
// it nothing but a STOP or a finding of DANGER.
func (f *Forest) condemns(s *Step, latest map[string]Reading, m Meter, danger DangerLimit, known Known) bool {
	s = s.Under(known)
	if !s.Reads() || slices.ContainsFunc(s.Measure, func(v Variable) bool { return !v.Quantity.OfSupply() }) {
		return false
	}
	at := make([]*Reading, len(s.Measure))
	all := make([]Reading, len(s.Measure))
	for i, v := range s.Measure {
		if r, taken := latest[v.Quantity.ID]; taken {
			at[i], all[i] = &r, r
		}
	}
	if s.Kind == KindChart {
		return s.Chart != nil && s.leavesOnly(at, m, danger, f.endsWalk)
	}
	if slices.Contains(at, nil) {
		return false
	}
	out, err := s.Judge(all, m, danger)
	return err == nil && f.endsWalk(out.Exit)
}
