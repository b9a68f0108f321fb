package main

import (
	"fmt"
	"strconv"
	"time"
)

// lastSecond is the last one that a date can be written for.
var lastSecond = time.Date(9999, 12, 31, 23, 59, 59, 0, time.UTC).Unix()

// clockOf is the clock, or the fixed time of reproducible output.
func clockOf(env func(string) string) (func() time.Time, error) {
	text := env("SOURCE_DATE_EPOCH")
	if text == "" {
		return time.Now, nil
	}
	seconds, err := strconv.ParseInt(text, 10, 64)
	if err != nil || seconds < 0 || seconds > lastSecond {
		return nil, fmt.Errorf("the variable SOURCE_DATE_EPOCH is %q; expected whole seconds since the beginning of 1970, such as 1777818600, up to %d", text, lastSecond)
	}
	return func() time.Time { return time.Unix(seconds, 0).UTC() }, nil
}
