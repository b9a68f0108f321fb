// Package practice lets a learner find a hidden fault with a virtual meter and
// says afterwards how it went.
//
// A [Case] is a vehicle with something wrong, or with nothing wrong. A
// [Learner] stands before a case, meter in hand, and does every [Act]. An
// [Attempt] is the list of acts with what came of each, and the fault that was
// named in the end; it is a value that can be kept, sent and done over again.
// [Case.Review] puts an attempt beside what every suspect fault would have
// shown, and [Case.Unsafe] lists the acts that would have been dangerous.
//
// Nothing here reads files or draws. The same attempt gives the same review.
package practice
