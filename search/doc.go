// Package search finds documents of a handbook by the words a reader has,
// lay or trade, mistyped or half typed, and recognises a query that is a
// reading.
//
// [Build] indexes a [content.Library] in memory; the result is an [Index]
// that never changes.
//
// The words of this package: a meaning is a group of words and phrases of the
// handbook's synonym list, and stands in the index beside the words
// themselves; a query word is one word of a query with all that it may match; a
// phrase is a title, a symptom or an alias of a document; a figure is a number
// in a query that may be a reading; an offer is a step that measures what a
// query such as "58 volts on the bumper" says was read.
//
// A query of two or more pairs of points with their readings is a list, and is
// offered as a whole, to find what fits it ([KindReadings]).
//
// A reading is offered only for the two points that were said. What nobody says
// of a reading, such as the soil for "58 volts on the bumper", is taken, but a
// figure that would look harmless there is then not filled in. Nor is it where
// the words only ask about it, and a reading taken with the breaker off or in
// dry soil is offered at no step that asks for power and wet soil.
//
// What a reader types is never handed to a query language. It is cut into
// words, and only objects are made of them.
package search
