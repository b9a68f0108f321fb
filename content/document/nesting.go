package document

import "fmt"

// mostMarkers bounds the quote and list markers before the text of one line.
// The Markdown parser's time grows with the square of their number.
const mostMarkers = 60

// tooNested looks for text that would nest blocks without bound, before any
// parser sees it. It returns the offset of the first line over the bound, or
// -1.
func tooNested(text []byte) (at int, why string) {
	markers, start, inPrefix := 0, 0, true
	for i, b := range text {
		switch {
		case b == '\n':
			markers, start, inPrefix = 0, i+1, true
		case !inPrefix || b == ' ' || b == '\t':
		case b == '>' || b == '-' || b == '+' || b == '*':
			if b == '>' || (i+1 < len(text) && (text[i+1] == ' ' || text[i+1] == '\t')) {
				markers++
			}
			if markers > mostMarkers {
				return start, fmt.Sprintf("a line begins with more than %d quote and list markers", mostMarkers)
			}
		default:
			inPrefix = (b >= '0' && b <= '9') || b == '.' || b == ')'
			if b == '.' || b == ')' {
				markers++
			}
		}
	}
	return -1, ""
}
