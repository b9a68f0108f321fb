// Package suspect says which faults fit what has been read, how likely each is,
// which dangers are still open and which reading to take next. It reasons over
// drawn vehicles that somebody else solved, and knows neither rigs nor circuits.
//
// Words: a case is a drawn vehicle with its faults; a population is all that were
// drawn; evidence is a reading, something seen, or something tried. The prior of a
// case is how often such a vehicle is met, the likelihood of a piece of evidence how
// probable it is in a case, and the share of a case its posterior probability; a
// belief is the shares given the evidence of one round. A kind is all cases with
// the same faults in the same places; a cell is cases of one kind and rig whose
// faults are about as severe; a task is what is to be done; a suspect is all cases
// with one task. A system is all rigs that share no quantity with the others, such
// as the 12 V side. Shares are within a system and rest on the weights of the
// catalogue: words first, figures beside them.
//
// A belief clears nothing. The suspect [NoFault] is "no fault that these readings
// would show", and what no reading could have shown stays open.
package suspect
