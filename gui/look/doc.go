// Package look is the appearance of the window: theme, type, buttons, panels,
// layouts, the limit ruler, and the drawing of document blocks and figures.
//
// It decides nothing. Every colour comes from the theme by name, every size
// grows with the text-size setting, and nothing is ever drawn in green: what
// lies inside limits is grey.
//
// All text that can wrap follows one rule: a widget's MinSize is as narrow as
// its longest word and as tall as it needs to be at its present width. The
// layouts of this package therefore set a child's width first and ask for its
// height afterwards; put such widgets into [Stack], [Row], [Grid], [Beside],
// [Pad], [NewPanel] and [NewScroll] rather than into the toolkit's own boxes.
package look
