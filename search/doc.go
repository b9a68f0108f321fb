// Package search finds documents of a handbook by the words a reader has,
// lay or trade, mistyped or half typed, and recognises a query that is a
// reading.
//
// [Build] indexes a [content.Library] in memory; the result is an [Index]
// that never changes. A [Holder] keeps the current one and is swapped whole
// when the content changes, so that windows that search never wait for one
// another.
//
// The words of this package: a meaning is a group of words and phrases of the
// handbook's synonym list, and stands in the index beside the words
// themselves; a unit is one word of a query with all that it may match; an
// offer is a step that measures what a query such as "58 volts on the bumper"
// says was read.
//
// What a reader types is never handed to a query language. It is cut into
// words, and only objects are made of them.
package search
