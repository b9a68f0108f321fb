package view

import (
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/visit"
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

// Called is what a vehicle is called among all of the reader's: its name, and where another
// one has the same, what is known of it, or else when it was added.
func Called(lib *content.Library, v logbook.Vehicle, all []logbook.Vehicle) string {
	like := lists.Where(all, func(o logbook.Vehicle) bool { return o.ID != v.ID && strings.EqualFold(o.Name, v.Name) })
	if len(like) == 0 {
		return v.Name
	}
	known := strings.Join(KnownOf(lib, v), ", ")
	same := func(o logbook.Vehicle) bool { return strings.Join(KnownOf(lib, o), ", ") == known }
	if known == "" || slices.ContainsFunc(like, same) {
		known = strings.TrimPrefix(known+", added "+v.Made.Format("2 Jan 2006 15:04"), ", ")
	}
	return v.Name + " (" + known + ")"
}

// AboardOf lists what is noted aboard of a vehicle: "Aboard: generator, inverter."; "" for
// nothing.
func AboardOf(v logbook.Vehicle) string {
	has := lists.Where(logbook.AllEquipment(), func(e logbook.Equipment) bool { return v.Has(e.ID) })
	if len(has) == 0 {
		return ""
	}
	return "Aboard: " + strings.ToLower(strings.Join(lists.Each(has, func(e logbook.Equipment) string { return e.Title }), ", ")) + "."
}

// Differs says that facts, by id, are otherwise at a visit than what is noted of its
// vehicle; "" for none.
func Differs(lib *content.Library, v logbook.Vehicle, facts []string) string {
	if len(facts) == 0 {
		return ""
	}
	titles := lists.Each(facts, func(id string) string { return lib.Forest.Fact(id).Title })
	return "This differs from what is noted of “" + v.Name + "”: " + strings.Join(titles, " ") + " Make sure that this is the vehicle; its page is where that is changed."
}

// GivenVisit says that a visit was given from one vehicle to another, either of them the zero
// value for one without a name, and what of it is noted otherwise of the vehicle that it is
// of now. All is the reader's vehicles.
func GivenVisit(lib *content.Library, v visit.Visit, from, to logbook.Vehicle, all []logbook.Vehicle) string {
	called := func(v logbook.Vehicle) string {
		if v.Name == "" {
			return "a vehicle without a name"
		}
		return "“" + Called(lib, v, all) + "”"
	}
	said := "The visit is of " + called(to) + " now. It was of " + called(from) + "; giving it back undoes that."
	rounds := v.Replay(lib.Forest)
	if last := rounds[len(rounds)-1]; to.ID != "" && last.Err == nil {
		if differs := Differs(lib, to, to.Learn(lib.Forest, v.Header.Start.Tree, last.Walk.Facts()).Differ); differs != "" {
			said += " " + differs
		}
	}
	return said
}

// AboardNotes says what becomes of what is noted aboard of a vehicle, a line for each way:
// "Solar charger: a note, …".
func AboardNotes(lib *content.Library) []string {
	const noted = "a note. No walk asks for it, and nothing is concluded from it."
	var ways, out []string
	of := map[string][]string{}
	for _, e := range logbook.AllEquipment() {
		way := noted
		for _, fact := range lib.Forest.Facts {
			switch {
			case !slices.ContainsFunc(fact.Choices, func(c faulttree.Choice) bool { return c.Aboard == e.ID }):
			case fact.Lasting:
				way = "a walk takes it from here, and does not ask: " + fact.Title
			default:
				way = "a walk asks each time, and notes what it finds aboard: " + fact.Title
			}
		}
		ways = lists.With(ways, way)
		of[way] = append(of[way], e.Title)
	}
	for _, way := range ways {
		out = append(out, strings.Join(of[way], ", ")+": "+way)
	}
	return out
}

// Noted says what is noted of a vehicle now that was not before: "Noted of “Willow”:
// Service: 30 A, generator aboard.".
func Noted(lib *content.Library, before, now logbook.Vehicle) string {
	news := lists.Where(KnownOf(lib, now), func(text string) bool { return !slices.Contains(KnownOf(lib, before), text) })
	for _, e := range logbook.AllEquipment() {
		if now.Has(e.ID) && !before.Has(e.ID) {
			news = append(news, strings.ToLower(e.Title)+" aboard")
		}
	}
	return "Noted of “" + now.Name + "”: " + strings.Join(news, ", ") + "."
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
