// Package contact holds the words that name where a probe touched and in which
// state of the vehicle: the one vocabulary of searches and of lists of
// readings.
//
// Its words: an atom is what a word or a phrase says; a contact is one of the
// conductors, the body or the soil; a place is what has contacts, such as the
// pedestal or an outlet; a point is a contact at a place; a condition is a
// state. [NewWords] gathers the phrases of every atom, [Read] reads a run of
// words with them.
package contact
