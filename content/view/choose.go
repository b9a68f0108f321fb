package view

import "strings"

// Chosen says which choice is meant by what was typed where a choice is asked:
// a single digit that is offered, and nothing as soon as it could be a reading.
// Then it says so, since a person with the meter in hand types what it shows
// and looks for where that went: instead is what can be done with it, [AtChoice]
// or [AtFinding].
func Chosen(typed string, offered func(digit int) bool, instead string) (digit int, said string) {
	typed = strings.TrimSpace(typed)
	if len(typed) == 1 {
		if d := int(typed[0] - '0'); typed[0] >= '1' && typed[0] <= '9' && offered(d) {
			return d, ""
		}
	}
	if typed == "" || !strings.ContainsAny(typed[:1], "0123456789+-.,") && !strings.EqualFold(typed, "ol") {
		return 0, ""
	}
	return 0, "“" + typed + "” reads like a reading, and none is asked here, so nothing is done with it. " + instead
}

// What can be done with a reading that was typed where none is asked.
const (
	AtChoice  = "A choice is asked here; a reading has its step later, with a field to type it into. To choose, press Esc, then one digit."
	AtFinding = "The walk has ended. To correct a reading, press it under “So far”. One taken after a repair belongs into the test after repair, and any other into a walk begun anew."
)
