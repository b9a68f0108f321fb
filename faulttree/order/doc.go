// Package order finds in which order to ask questions, such as readings, so that
// the least is expected to be spent until it is known where their answers lead.
// It knows nothing of vehicles.
//
// Words: a question costs something to ask. A column is one thing that answers
// show: the answer to one question, or something worked out from several, such as
// the sum of two readings, which shows once all of them were asked. A case is one
// combination of what all columns can show, with the result it leads to and its
// weight. The result is known once all cases that are left lead to the same one,
// those of weight zero included: what is unlikely must be ruled out, too.
package order
