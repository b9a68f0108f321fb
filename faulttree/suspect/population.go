package suspect

import (
	"context"

	"faultwright/faulttree"
)

// NoFault stands for a sound vehicle where a fault's id would.
const NoFault = "no-fault"

// PlacedFault is a fault in force: one variant of it, as bad as it is.
type PlacedFault struct {
	Fault    string
	Place    faulttree.Place
	Variant  int
	Severity float64 // 0 where the fault has none
}

// Case is one drawn vehicle.
type Case struct {
	Rig    string
	System string        // rigs of one system share quantities; faults of two systems are independent
	Faults []PlacedFault // none: sound
	Weight float64       // how often it is met before anything is read, up to a common factor within its system
}

// Population is drawn vehicles that fit the facts. It does not change, and any
// number of goroutines may ask it. Every column has one entry for each case, in
// their order; NaN tells nothing. Whoever asks does not write to a column.
type Population interface {
	Cases() []Case
	// Column is what q reads in each case without a meter's error, in the base unit
	// of q: NaN where the rig has no such thing, +Inf where ohms are open.
	Column(ctx context.Context, q faulttree.Quantity) ([]float32, error)
	// Seen is the probability in each case that a choice of an observation is seen.
	Seen(ctx context.Context, observation, choice string) ([]float32, error)
	// Gone is the probability in each case that the complaint of a tree is gone after
	// an intervention: NaN where the case does not have the complaint.
	Gone(ctx context.Context, intervention, tree string) ([]float32, error)
	// More is this population with n more draws of the strata of some cases: rig,
	// fault, place and variant. The cases of this one come first, in their order; the
	// weights of a stratum sum to what they did. The same strata and n give the same
	// draws.
	More(ctx context.Context, near []int, n int) (Population, error)
}

// Described is what the document of a fault says of it in a place.
type Described struct {
	Title    string           // of the fault
	Hazard   faulttree.Signal // of the fault
	Do       string           // the first action
	RepairBy string           // who repairs it there
	Test     string           // what shows it, and who does that; "" where no document says it
	NoLoads  bool             // while it is not unlikely no load is switched on, and nothing live is read inside
	// OneBranch is a fault of one branch, which puts a wrong voltage on nothing while the
	// loads are off: with it live readings are taken inside, loads off.
	OneBranch bool
}

// Describe looks a fault up. A sound vehicle is asked for as [NoFault], without
// a place.
type Describe func(fault string, place faulttree.Place) Described
