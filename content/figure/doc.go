// Package figure draws the pictures of the handbook as values: where the two
// probes go, receptacle faces, circuits that explain a card.
//
// A [Drawing] is a display list of lines, filled shapes, circles and words. It
// names inks by what they mean (a [Role]), not by colour; a [Palette] turns
// roles into the colours of light, dark and high contrast. [SVG] writes a
// drawing as a picture that stands alone; a window draws the same items.
//
// [Probes] draws the picture of any quantity of the handbook, [Named] the
// figures that cards ask for by name. Colour never stands alone: each lead
// carries a letter, each contact its own.
//
// Receptacle faces follow the configuration names of NEMA WD 6. The order of
// their contacts going clockwise, and the slant of the blades, are from memory
// and marked so in the tests.
package figure
