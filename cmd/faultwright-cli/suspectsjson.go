package main

import (
	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// jsonFitting is what fits an account as programs read it. Shares are within
// the 120 V or the 12 V side; a sound vehicle is the suspect no-fault. Stop is
// there where a reading has reached a danger limit, and comes before all else.
// TakenAs is facts, by their names, that the readings imply and nobody stated.
type jsonFitting struct {
	Stop     []jsonAlarm       `json:"stop,omitempty"`
	Suspects []jsonSuspect     `json:"suspects"`
	NoneFits float64           `json:"none_fits"`
	Open     []jsonOpen        `json:"open"`
	Next     []jsonNext        `json:"next"`
	TakenAs  map[string]string `json:"taken_as,omitempty"`
}

type jsonAlarm struct {
	Title    string   `json:"title"`
	Readings []string `json:"readings"` // which reached a danger limit, a sentence each
	Do       []string `json:"do"`
	Walk     string   `json:"walk"` // that says it
}

type jsonSuspect struct {
	Faults []string          `json:"faults"`
	Places []faulttree.Place `json:"places"`
	Share  float64           `json:"share"`
	Hazard string            `json:"hazard"`
	Do     string            `json:"do"`
	Worst  *jsonWorst        `json:"worst"`
}

// jsonWorst is what fits a suspect worst: a reading, or an observation or an
// intervention, of which nothing is expected in figures.
type jsonWorst struct {
	Quantity string `json:"quantity"`
	Expected string `json:"expected"`
	Reading  string `json:"reading"` // as typed
}

type jsonOpen struct {
	Fault string  `json:"fault"`
	Share float64 `json:"share"`
	Test  string  `json:"test"`
}

// jsonNext is one thing worth finding out: a quantity, an observation or an
// intervention.
type jsonNext struct {
	Quantity string  `json:"quantity"`
	Why      string  `json:"why"`
	Bits     float64 `json:"bits"`
	Cost     float64 `json:"cost"`
}

func jsonOf(f fitting, m faulttree.Meter) jsonFitting {
	out := jsonFitting{Suspects: []jsonSuspect{}, NoneFits: f.belief.NoneFits(), Open: []jsonOpen{}, Next: []jsonNext{}}
	for _, a := range f.alarms {
		out.Stop = append(out.Stop, jsonAlarm{a.Title, a.Texts, a.Do, a.Walk.ID})
	}
	for _, i := range f.implied {
		if out.TakenAs == nil {
			out.TakenAs = map[string]string{}
		}
		out.TakenAs[i.Fact] = i.Choice
	}
	for _, s := range f.belief.Suspects() {
		out.Suspects = append(out.Suspects, jsonSuspect{
			append([]string{}, s.Faults...), append([]faulttree.Place{}, s.Places...), s.Share, s.Hazard.String(), s.Do, worstOf(s.Worst, m),
		})
	}
	for _, o := range f.belief.Open() {
		out.Open = append(out.Open, jsonOpen{o.Fault, o.Share, o.Test})
	}
	for _, n := range f.next {
		out.Next = append(out.Next, jsonNext{n.Of.ID(), n.Why, n.Of.Bits, n.Of.Cost})
	}
	return out
}

func worstOf(w *suspect.Misfit, m faulttree.Meter) *jsonWorst {
	switch {
	case w == nil:
		return nil
	case w.Evidence.Seen != nil:
		return &jsonWorst{Quantity: w.Evidence.Seen.Observation, Reading: w.Evidence.Seen.Choice}
	case w.Evidence.Tried != nil:
		return &jsonWorst{Quantity: w.Evidence.Tried.Intervention, Reading: cameOfText(w.Evidence.Tried.Gone)}
	}
	return &jsonWorst{w.Evidence.Quantity.ID, w.Expected.Show(w.Evidence.Quantity, m), w.Evidence.Reading.Text}
}
