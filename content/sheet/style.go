package sheet

import _ "embed"

// style is the whole look of the page. Signal words keep their colours of the
// ANSI Z535 families; border, word and sign say the same in black and white.
//
//go:embed style.css
var style string
