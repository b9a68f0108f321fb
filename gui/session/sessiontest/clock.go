package sessiontest

import "time"

// Noon is a clock that stands.
func Noon() time.Time { return time.Date(2026, 5, 3, 12, 0, 0, 0, time.UTC) }
