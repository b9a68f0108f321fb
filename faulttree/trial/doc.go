// Package trial sends many simulated vehicles down a fault tree and counts
// where they end.
//
// A draw is a rig with one fault or none: the fault's variant and severity, the
// numbers of the rig, the meter's error. The walk asks, the circuit answers.
// What comes out is a [Report]: the confusion matrix, the false all-clears,
// what each finding leaves possible beside what it declares, and how all that
// compares with a belief ([faultwright/faulttree/suspect]) that has every reading.
//
// Every quantity is read in the state that its conditions name
// ([faultwright/faulttree/bench.Bench.StateFor]); the states that acts bring about say
// the same to the reader and the proofs, and are not kept from step to step.
// Which of several readings counts the quantity says ([faulttree.Take]). Where an
// observe step leaves the choice open all are walked, and the worst ending
// counts. One fault is present at a time; its
// variants may combine what makes it show.
//
// Draw i is made from the seed and i alone, and everything that is added up is
// a whole number, or added in the order of the draws, so that a report does not
// depend on how many workers made it.
package trial
