// Package place names the places of the window: which page, and what it shows.
// A page knows other pages only by these values; going to one is all that it
// can do with them. Where the reader is and was is a [History].
package place

import "faultwright/content/view"

// Page is the name of a kind of page.
type Page string

// The pages of the window.
const (
	WelcomePage   Page = "welcome"
	OpeningPage   Page = "opening"
	PedestalPage  Page = "pedestal"
	TreePage      Page = "tree"
	StepPage      Page = "step"  // outside a walk
	FlowPage      Page = "flow"  // a tree whole
	PrintPage     Page = "print" // a page to pin up is made
	WalkPage      Page = "walk"
	CannotPage    Page = "cannot"
	ReadingsPage  Page = "readings" // all readings of a tree on one page
	FoundPage     Page = "found"    // what was found before a repair
	SheetPage     Page = "sheet"    // for whoever repairs it
	DocumentPage  Page = "document"
	HandbookPage  Page = "handbook"
	ProblemsPage  Page = "problems"
	EditedPage    Page = "edited" // a page beside its text, for its author
	SearchPage    Page = "search"
	SuspectsPage  Page = "suspects"
	VisitsPage    Page = "visits"
	DeletePage    Page = "delete"
	VehiclesPage  Page = "vehicles"
	VehiclePage   Page = "vehicle"        // one of the reader's own
	KeepPage      Page = "vehicle-form"   // it is added or changed
	MergePage     Page = "vehicle-merge"  // which other one it is
	DiscardPage   Page = "vehicle-delete" // it is deleted
	GivePage      Page = "visit-vehicle"  // of which vehicle a visit is
	GatherPage    Page = "vehicle-visits" // which visits on record are of a vehicle as well
	CircuitPage   Page = "circuit"
	ScenariosPage Page = "scenarios"
	ScenarioPage  Page = "scenario" // one of them
	ClassPage     Page = "class"
	AssignPage    Page = "assign"   // an assignment is made
	TasksPage     Page = "tasks"    // an assignment that was handed out, for a learner
	HandedInPage  Page = "handedin" // the table of a class
	AttemptPage   Page = "attempt"  // one attempt of it
	RubricPage    Page = "rubric"   // how attempts are marked
	FormPage      Page = "form"     // a scenario is made
	SettingsPage  Page = "settings"
)

// Location is a place in the window that can be returned to: a page, what it
// shows, and how far it was scrolled. Make one with the functions of this
// package. Two locations that differ only in the scroll offset are the same
// place.
type Location struct {
	Page   Page
	ID     string  // document, tree, step, visit, vehicle, rig or scenario
	Query  string  // words searched or filtered for, a reading typed, or a fault
	Kind   string  // kind of hits or documents, quantity, visit or scenario; "" is all or none
	Where  string  // the place of a fault; "" is any
	Step   int     // answers given before the step shown, in a walk; or a round of it
	Offset float32 // scroll offset, in window units
}

// Same reports whether both name the same place, wherever it is scrolled.
func (l Location) Same(m Location) bool {
	l.Offset, m.Offset = 0, 0
	return l == m
}

// Top is the same place, not scrolled.
func (l Location) Top() Location {
	l.Offset = 0
	return l
}

// Welcome is the first start.
func Welcome() Location { return Location{Page: WelcomePage} }

// Opening is where a walk begins: what is happening?
func Opening() Location { return Location{Page: OpeningPage} }

// Pedestal is the choice of a check of the supply.
func Pedestal() Location { return Location{Page: PedestalPage} }

// Walk is a visit at the step reached after so many answers.
func Walk(visit string, answers int) Location {
	return Location{Page: WalkPage, ID: visit, Step: answers}
}

// Cannot asks why the reading of that step cannot be taken.
func Cannot(visit string, answers int) Location {
	return Location{Page: CannotPage, ID: visit, Step: answers}
}

// Obstacle says what to do where that reading meets an obstacle.
func Obstacle(visit string, answers int, obstacle string) Location {
	return Location{Page: CannotPage, ID: visit, Step: answers, Kind: obstacle}
}

// Readings takes all readings of a visit's tree on one page.
func Readings(visit string) Location { return Location{Page: ReadingsPage, ID: visit} }

// Found is what a visit had found by the end of a round, counted from 0, before
// the test after repair that followed.
func Found(visit string, round int) Location {
	return Location{Page: FoundPage, ID: visit, Step: round}
}

// Sheet makes the sheet of a visit.
func Sheet(visit string) Location { return Location{Page: SheetPage, ID: visit} }

// SheetBefore makes the sheet of a visit as it stood at the end of a round,
// counted from 0.
func SheetBefore(visit string, round int) Location {
	return Location{Page: SheetPage, ID: visit, Kind: "before", Step: round}
}

// Document is the page of a document: a tree is introduced, a step is shown
// outside a walk, anything else is read.
func Document(kind view.Kind, id string) Location {
	switch kind {
	case view.KindTree:
		return Location{Page: TreePage, ID: id}
	case view.KindStep:
		return Location{Page: StepPage, ID: id}
	}
	return Location{Page: DocumentPage, Kind: string(kind), ID: id}
}

// Flow is a tree drawn whole, with the way of a visit marked, "" for none.
func Flow(tree, visit string) Location { return Location{Page: FlowPage, ID: tree, Kind: visit} }

// Print makes a page to pin up of a walk, a chart or a document, by the id that
// [faultwright/content/print.Write] takes.
func Print(id string) Location { return Location{Page: PrintPage, ID: id} }

// Link is where a link leads.
func Link(l view.Link) Location { return Document(l.Kind, l.ID) }

// Reading is a step outside a walk with a reading of one of its quantities
// typed already.
func Reading(step, quantity, text string) Location {
	return Location{Page: StepPage, ID: step, Kind: quantity, Query: text}
}

// Handbook lists the documents of a kind, "" for all, whose titles have the
// words.
func Handbook(kind view.Kind, words string) Location {
	return Location{Page: HandbookPage, Kind: string(kind), Query: words}
}

// Problems lists what is wrong in the handbook.
func Problems() Location { return Location{Page: ProblemsPage} }

// Edited shows the page that a line of a file of the handbook makes beside the
// text; without a file that which was saved last.
func Edited(file string, line int) Location {
	return Location{Page: EditedPage, ID: file, Step: line}
}

// Search shows what is found for the words.
func Search(words string) Location { return Location{Page: SearchPage, Query: words} }

// Suspects shows what fits a list of readings, as typed or pasted; "" for none
// yet.
func Suspects(list string) Location { return Location{Page: SuspectsPage, Query: list} }

// Visits lists the newest visits.
func Visits() Location { return Location{Page: VisitsPage} }

// AllVisits lists every visit.
func AllVisits() Location { return Location{Page: VisitsPage, Kind: "all"} }

// Delete asks whether a visit is to be deleted.
func Delete(visit string) Location { return Location{Page: DeletePage, ID: visit} }

// Vehicles lists the reader's own vehicles.
func Vehicles() Location { return Location{Page: VehiclesPage} }

// Vehicle is one of them.
func Vehicle(id string) Location { return Location{Page: VehiclePage, ID: id} }

// KeepVehicle changes one of them, or adds one for "".
func KeepVehicle(id string) Location { return Location{Page: KeepPage, ID: id} }

// MergeVehicle asks which other one it is as well, or, with that, whether they are merged.
func MergeVehicle(id, other string) Location { return Location{Page: MergePage, ID: id, Kind: other} }

// GiveVisit asks of which vehicle a visit is.
func GiveVisit(id string) Location { return Location{Page: GivePage, ID: id} }

// GatherVisits asks which visits on record are of a vehicle as well.
func GatherVisits(id string) Location { return Location{Page: GatherPage, ID: id} }

// DiscardVehicle asks whether one of them is to be deleted.
func DiscardVehicle(id string) Location { return Location{Page: DiscardPage, ID: id} }

// Told stands where the id of a visit would, for what is told outside of any.
const Told = "told"

// Why shows why what was read in a visit, or told outside of one, reads so with a
// fault at a place of the vehicle.
func Why(fault, where, from string) Location {
	return Location{Page: CircuitPage, Query: fault, Where: where, Kind: from}
}

// Circuit shows a rig with a fault, as a visit or a scenario spoke of it; ""
// for any of them lets the page choose, or is none.
func Circuit(rig, fault, from string) Location {
	return Location{Page: CircuitPage, ID: rig, Query: fault, Kind: from}
}

// Scenarios lists the vehicles to practise on.
func Scenarios() Location { return Location{Page: ScenariosPage} }

// Scenario is one of them.
func Scenario(id string) Location { return Location{Page: ScenarioPage, ID: id} }

// Task is a scenario of the assignment in hand.
func Task(id string) Location { return Location{Page: ScenarioPage, ID: id, Kind: "task"} }

// Class is what an instructor and a class can do.
func Class() Location { return Location{Page: ClassPage} }

// Assign makes an assignment.
func Assign() Location { return Location{Page: AssignPage} }

// Tasks is the assignment that was opened, for a learner.
func Tasks() Location { return Location{Page: TasksPage} }

// HandedIn is the table of the class whose attempts were opened.
func HandedIn() Location { return Location{Page: HandedInPage} }

// Attempt is one attempt of it, by the learner's file and the number of the task.
func Attempt(file string, task int) Location {
	return Location{Page: AttemptPage, ID: file, Step: task}
}

// Rubric is how attempts are marked.
func Rubric() Location { return Location{Page: RubricPage} }

// Form makes a scenario: a new one for "", or out of one that there is, by its id.
func Form(scenario string) Location { return Location{Page: FormPage, ID: scenario} }

// Settings are the reader's own.
func Settings() Location { return Location{Page: SettingsPage} }
