package view

import "strings"

// Chosen says which choice is meant by what was typed where a choice is asked:
// a single digit that is offered, and nothing as soon as it could be a reading.
// Then it says so, since a person with the meter in hand types what it shows
// and looks for where that went.
func Chosen(typed string, offered func(digit int) bool) (digit int, said string) {
	typed = strings.TrimSpace(typed)
	if len(typed) == 1 {
		if d := int(typed[0] - '0'); typed[0] >= '1' && typed[0] <= '9' && offered(d) {
			return d, ""
		}
	}
	if typed == "" || !strings.ContainsAny(typed[:1], "0123456789+-.,") && !strings.EqualFold(typed, "ol") {
		return 0, ""
	}
	return 0, "A choice is asked here. “" + typed + "” reads like a reading, so nothing is chosen: a reading has its step later, with a field to type it into. To choose, press Esc, then one digit."
}
