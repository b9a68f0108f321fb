package view

import (
	"faultwright/content"
	"faultwright/faulttree/logbook"
)

// KnownOf is what is noted of a vehicle without a meter, a line for each fact: "Service: 30 A".
func KnownOf(lib *content.Library, v logbook.Vehicle) []string {
	var out []string
	for _, f := range FactsOf(lib, v.Facts) {
		if f.Known != "" {
			out = append(out, f.Name+": "+f.Known)
		}
	}
	return out
}

// TakenVehicle says what was taken of a file with a vehicle and its visits; known is that
// the vehicle was there already.
func TakenVehicle(v logbook.Vehicle, known bool, t logbook.Taken) string {
	said := "“" + v.Name + "” was taken."
	if known {
		said = "“" + v.Name + "” is here already: what its page says stays."
	}
	said += " " + VisitsWere(t.Visits) + " added."
	if t.Differ > 0 {
		said += " " + Count(t.Differ, "visit") + " of the file differ from what is on record here, which stays."
	}
	return said
}

// VisitsWere begins a sentence about so many visits: "1 visit was", "3 visits were".
func VisitsWere(n int) string {
	if n == 1 {
		return "1 visit was"
	}
	return Count(n, "visit") + " were"
}
