package view

import (
	"cmp"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// AccountRow is one row of an account.
type AccountRow struct {
	Index  int    // into Account.Evidence
	Title  string // of the quantity, the question, or what was tried
	Value  string // "118.4 V ±1.2 V", what was seen, "gone", "still there"
	Marks  []string
	Danger string // the danger limit that it reaches; "" for none
	WhyNot string // why it counts for nothing; "" where it counts
}

// Text is the row as one line.
func (t AccountRow) Text() string {
	text := t.Title + ": " + t.Value
	if all := slices.Concat(t.Marks, []string{t.Danger}); strings.Join(all, "") != "" {
		text += " (" + strings.Trim(strings.Join(all, ", "), ", ") + ")"
	}
	if t.WhyNot != "" {
		text += ". Counts for nothing: " + t.WhyNot
	}
	return text
}

// What stands beside a row.
const (
	MarkDoubtful = "not sure"
	MarkTold     = "told by somebody else"
	MarkEarlier  = "before the repair, counts no more"
)

// RowsOf words the evidence of an account, in its order.
func RowsOf(lib *content.Library, a Account, m faulttree.Meter) []AccountRow {
	var out []AccountRow
	for i, e := range a.Evidence {
		t := AccountRow{Index: i, WhyNot: whyNot(lib, a, e)}
		t.Title, t.Value = evidenceText(lib, e, m)
		if e.Doubtful {
			t.Marks = append(t.Marks, MarkDoubtful)
		}
		if e.Told {
			t.Marks = append(t.Marks, MarkTold)
		}
		if e.Round < a.Round() {
			t.Marks = append(t.Marks, MarkEarlier)
		}
		if x, hurts := reaches(lib, e, m); hurts {
			t.Danger = x.Says()
		}
		out = append(out, t)
	}
	return out
}

// evidenceText is what a piece of evidence is about, and what it says.
func evidenceText(lib *content.Library, e suspect.Evidence, m faulttree.Meter) (title, value string) {
	switch {
	case e.Seen != nil && e.Seen.Observation == suspect.Complaint:
		return "What somebody came with", TreeTitle(lib, e.Seen.Choice)
	case e.Seen != nil:
		o := lib.Forest.Observation(e.Seen.Observation)
		if o == nil {
			return e.Seen.Observation, e.Seen.Choice
		}
		if s := o.Sight(e.Seen.Choice); s != nil {
			return o.Title, s.Text
		}
		return o.Title, e.Seen.Choice
	case e.Tried != nil:
		title = e.Tried.Intervention
		if i := lib.Forest.Intervention(title); i != nil {
			title = i.Title
		}
		return title, goneText(e.Tried.Gone)
	}
	q := e.Quantity
	if now, ok := lib.Forest.Quantities[q.ID]; ok {
		q = now
	}
	value = strings.TrimSpace(e.Reading.Show(q.Unit) + " " + Uncertainty(e.Reading, q, m))
	if q.Title == "" {
		return q.ID, value
	}
	return q.Title, value
}

// What came of something that was tried.
const (
	Gone       = "gone"
	StillThere = "still there"
)

func goneText(gone bool) string {
	if gone {
		return Gone
	}
	return StillThere
}

// reaches reports whether a piece of evidence is a reading that may have reached
// the danger limit of any tree, or forbids the plug.
func reaches(lib *content.Library, e suspect.Evidence, m faulttree.Meter) (faulttree.Reached, bool) {
	q, ok := lib.Forest.Quantities[e.Quantity.ID]
	if !ok {
		return faulttree.Reached{}, false
	}
	return lib.Forest.Warns(m, q, e.Reading)
}

// Alarm is readings that may have reached a danger limit, or forbid the plug, and what
// is to be done at once.
type Alarm struct {
	Texts []string // "Body to earth, 58 V, reaches the danger limit of 30 V."
	Title string   // "STOP: the body is live. It can kill."
	Do    []string // what to do, a sentence or two each
	Walk  Link     // the walk that says it, and goes on from there
	stop  bool     // a STOP of a walk, which comes first: nothing may be touched
}

// AlarmsOf lists what the readings of an account call for that may have reached a
// danger limit of any tree, or forbid the plug, a STOP first. A reading of an earlier
// round counts until the same was read again; one that was too low or too high also in the
// same.
func AlarmsOf(lib *content.Library, a Account, m faulttree.Meter) []Alarm {
	var out []Alarm
	for i, e := range a.Evidence {
		x, hurts := reaches(lib, e, m)
		if !hurts || readLater(a.Evidence[i+1:], e, x.ForNow()) {
			continue
		}
		alarm := alarmOf(lib, Account{Facts: a.Facts, Evidence: []suspect.Evidence{e}}, x, m)
		if k := slices.IndexFunc(out, func(o Alarm) bool { return o.Title == alarm.Title && o.Walk == alarm.Walk }); k >= 0 {
			out[k].Texts = append(out[k].Texts, alarm.Texts...)
			continue
		}
		out = append(out, alarm)
	}
	slices.SortStableFunc(out, func(a, b Alarm) int { return cmp.Compare(asInt(b.stop), asInt(a.stop)) })
	return out
}

// readLater reports whether the quantity of e was read in a later round, or a figure of
// it later in the same one, where that is enough.
func readLater(after []suspect.Evidence, e suspect.Evidence, sameRound bool) bool {
	return slices.ContainsFunc(after, func(o suspect.Evidence) bool {
		switch {
		case o.Quantity.ID != e.Quantity.ID:
			return false
		case o.Round > e.Round:
			return o.Reading.Quality != faulttree.NotPossible
		}
		return sameRound && o.Round == e.Round && o.Reading.Numeric()
	})
}

// alarmOf says what the one reading of an account calls for in the tree whose
// limit it reaches.
func alarmOf(lib *content.Library, a Account, x faulttree.Reached, m faulttree.Meter) Alarm {
	out := Alarm{
		Texts: []string{x.String() + "."}, Walk: Link{KindTree, x.Tree, TreeTitle(lib, x.Tree)}, Title: "STOP: this can hurt",
		Do: []string{"Touch neither vehicle nor supply.", "Stand 3 m off and have the site main switched."},
	}
	if _, hurts := lib.Forest.Trees[x.Tree].DangerLimit(x.Quantity.ID); !hurts { // it forbids the plug
		out.Title, out.Do = "Plug nothing in here", []string{"Pedestal breaker off, and a plug that is in comes out.", "Tell the site office.", "Another pedestal is read before anything is plugged in there."}
		return out
	}
	if title, do, ok := atOnce(lib, x); ok {
		out.Title, out.Do = title, do
		return out
	}
	w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: x.Tree}, faulttree.Qualified, m)
	if err != nil {
		return out
	}
	if w, _, err = w.Supply(faulttree.Supplied{Readings: a.Readings(), Facts: a.Facts}); err != nil {
		return out
	}
	if ref, stopped := w.Stop(); stopped {
		out.Title, out.stop = stepTitle(lib, ref), true
		out.Do = items(lib.Prose[ref])
	} else if f, ended := w.Finding(); ended && f.Finding.Signal == faulttree.Danger {
		out.Title, out.Do = f.Title, Sentences(f.Finding.FirstAction)
	}
	return out
}

// items are the entries of the lists of a text, or its first sentence where it
// has none.
func items(body []document.Block) []string {
	var out []string
	for _, b := range body {
		if l, ok := b.(document.List); ok {
			for _, item := range l.Items {
				out = append(out, strings.Join(strings.Fields(document.Plain(item)), " "))
			}
		}
	}
	if len(out) == 0 {
		if all := Sentences(strings.Join(strings.Fields(document.Plain(body)), " ")); len(all) > 0 {
			out = all[:1]
		}
	}
	return out
}
