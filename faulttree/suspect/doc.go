// Package suspect says which faults fit what has been read, how likely each is,
// which dangers are still open and which reading to take next. It reasons over
// drawn vehicles that somebody else solved, and knows neither rigs nor circuits.
//
// Words: a case is a drawn vehicle with its faults; a population is all that were
// drawn; evidence is a reading, something seen, or something tried; a belief is
// how the evidence of one round weighs the cases; a suspect is all cases after
// which the same is to be done; a system is all rigs that share no quantity with
// the others, such as the 12 V side. Shares are within a system and rest on the
// weights of the catalogue: words first, figures beside them.
//
// A belief clears nothing. The suspect [NoFault] is "no fault that these readings
// would show", and what no reading could have shown stays open.
package suspect
