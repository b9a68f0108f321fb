package view

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/suspect"
)

// Parting is where the finding of a walk and what fits its readings part. The
// safer of the two is followed. The zero value is that they agree.
type Parting struct {
	Text   string   // how they part, and which is followed; in sentences
	Danger bool     // what fits is the graver, and is followed
	Do     []string // what to do then
	Repair string   // who repairs it
	Faults []Link   // what it may be
}

// Signal is that of its text; none where they agree.
func (p Parting) Signal() faulttree.Signal {
	switch {
	case p.Danger:
		return faulttree.Danger
	case p.Text != "":
		return faulttree.Warning
	}
	return faulttree.NoSignal
}

// From which shares on they part: a finding should name one of the suspects that
// together hold nine tenths, and be no milder than a danger of a twentieth.
const (
	mostHeld   = 0.9
	openDanger = 0.05
)

// PartingOf compares a finding with what fits the readings of its walk. Only what a
// reading could have shown parts them: a danger that none of them is a test for is
// open, with the share that it had before anything was read. Nor does a danger that
// the finding itself declares, or one in a place of which an all-clear does not
// speak. A finding that names nothing and clears nothing parts from dangers that hold
// nine tenths together, though it declares them.
func PartingOf(lib *content.Library, r faulttree.Result, v Suspects) Parting {
	if o, ok := openBeside(r, v); ok {
		p := Parting{Danger: true, Text: fmt.Sprintf("These readings leave open a danger that is graver than this finding: %s, %s.", dangerTitle(lib, o), ShareText(o.Share))}
		if test := strings.TrimSuffix(Sentence(o.Test), "."); test != "" {
			p.Text += " The test for it: " + faulttree.InSentence(test) + "."
		}
		p.Text += " The safer is followed: until that is settled it counts as DANGER."
		for _, s := range slices.Concat(v.Likely, v.Untested, v.Unlikely) {
			if slices.ContainsFunc(s.Of.Parts, func(p suspect.Part) bool { return p.At == faulttree.FaultAt{Fault: o.Fault, Place: o.Place} }) {
				p = p.followed(s)
				break
			}
		}
		return p
	}
	first, named := namesHeld(r, v)
	if named || first == nil || ofMeter(lib, r.Finding.Faults) {
		return Parting{}
	}
	text := fmt.Sprintf("What this finding names hardly fits all of its readings together: they fit “%s” (%s).", first.Headline(), first.Word)
	switch {
	case slices.Contains(first.Of.Faults, suspect.NoFault):
		return Parting{Text: "What this finding names rests on few of its readings; most of them fit a vehicle on which nothing would show. That clears nothing: do what the finding says, and have what it rests on read once more."}
	case len(r.Finding.Faults) == 0:
		text = fmt.Sprintf("This finding names no fault; its readings together fit “%s” (%s).", first.Headline(), first.Word)
	}
	if first.Signal > r.Finding.Signal {
		return Parting{Text: text + " That is the graver and is followed: have it settled before anything is used.", Danger: first.Signal == faulttree.Danger}.followed(*first)
	}
	return Parting{Text: text + " Do what the finding says, which is no milder, and have both looked at."}
}

// followed is the parting with what is to be done about a suspect.
func (p Parting) followed(s Suspect) Parting {
	p.Do, p.Repair, p.Faults = s.Do, s.RepairBy, s.Faults
	return p
}

// openBeside is the likeliest danger that a finding is milder than and says nothing
// of; false where there is none.
func openBeside(r faulttree.Result, v Suspects) (suspect.Open, bool) {
	if r.Finding.Signal >= faulttree.Danger {
		return suspect.Open{}, false
	}
	for _, o := range v.Dangers {
		at := faulttree.FaultAt{Fault: o.Fault, Place: o.Place}
		if cleared := r.Finding.Clears; len(cleared) > 0 && !slices.Contains(cleared, o.Place) {
			continue
		}
		if o.Tested && o.Share >= openDanger && !r.Finding.Declares(at) && !names(r, at) {
			return o, true
		}
	}
	return suspect.Open{}, false
}

// namesHeld reports whether a finding names one of the suspects that hold nine
// tenths of their side; first is the likeliest of them, nil where nothing can be
// said.
func namesHeld(r faulttree.Result, v Suspects) (first *Suspect, named bool) {
	says := len(r.Finding.Faults) > 0 || len(r.Finding.Clears) > 0 || r.Finding.Signal < faulttree.Danger && dangersHold(v) >= mostHeld
	if r.HandedOver || !says || v.None != nil && v.None.Leads {
		return nil, true
	}
	held := map[string]float64{}
	for _, s := range slices.Concat(v.Likely, v.Untested, v.Unlikely) {
		if held[s.Of.System] >= mostHeld {
			continue
		}
		held[s.Of.System] += s.Of.Share
		if first == nil {
			first = &s
		}
		if slices.Contains(s.Of.Faults, suspect.NoFault) && len(r.Finding.Faults) == 0 ||
			slices.ContainsFunc(s.Of.Parts, func(p suspect.Part) bool { return names(r, p.At) }) {
			return first, true
		}
	}
	return first, false
}

// dangersHold is the share of all dangers that a reading was a test for.
func dangersHold(v Suspects) float64 {
	return lists.Sum(v.Dangers, func(o suspect.Open) float64 {
		if !o.Tested {
			return 0
		}
		return o.Share
	})
}

// ofMeter reports whether faults are of the meter: to a belief that is a reading gone
// wrong, and no suspect.
func ofMeter(lib *content.Library, faults []string) bool {
	return len(faults) > 0 && !slices.ContainsFunc(faults, func(id string) bool {
		f := lib.Faults[id]
		return f == nil || !slices.Equal(f.Places, []faulttree.Place{faulttree.MeterOwn})
	})
}

// names reports whether a finding names a fault in a place.
func names(r faulttree.Result, at faulttree.FaultAt) bool {
	return slices.Contains(r.Finding.Faults, at.Fault) && (r.Finding.Place == "" || r.Finding.Place == at.Place)
}

func dangerTitle(lib *content.Library, o suspect.Open) string {
	return fmt.Sprintf("“%s” (%s)", strings.TrimSuffix(FaultLink(lib, o.Fault).Title, "."), placeNames([]faulttree.Place{o.Place}))
}

// After is the finding beside what fits its readings. Where that is the graver it is
// followed: what the milder finding would have done, such as to plug in again, is not
// told, and nothing counts as without fault. What it says not to do is told with the
// finding that it speaks of.
func (v Finding) After(p Parting) Finding {
	if !p.Danger {
		return v
	}
	ended := append([]string{"By its own steps this walk ended at “" + strings.TrimSuffix(v.Title, ".") + "”."}, v.DoNot...)
	v.Sure = strings.TrimSpace(strings.Join(append(ended, v.Sure), " "))
	v.RepairBy, v.DoNot, v.AtOnce = cmp.Or(p.Repair, v.RepairBy), nil, false
	v.Faults = append(slices.Clone(p.Faults), slices.DeleteFunc(slices.Clone(v.Faults), func(l Link) bool { return slices.Contains(p.Faults, l) })...)
	v.Title, v.Signal, v.Clears, v.Prose = "The readings leave a danger open", faulttree.Danger, "", nil
	if v.Do = p.Do; len(v.Do) == 0 {
		v.Do = []string{"Keep the plug out, or pull it, and use nothing of it until that is settled."}
	}
	return v
}
