package journal

import "time"

// idLetters has no letter or digit that is taken for another when read aloud.
const idLetters = "abcdefghjkmnpqrstuvwxyz23456789"

// NewID names a journal by its day and five letters drawn from random, which
// the caller provides: "2026-05-03-k7fqm". The day is that of started in its
// own time zone.
func NewID(started time.Time, random uint64) string {
	tail := make([]byte, 5)
	for i := range tail {
		tail[i] = idLetters[random%uint64(len(idLetters))]
		random /= uint64(len(idLetters))
	}
	return started.Format("2006-01-02") + "-" + string(tail)
}

// ValidID reports whether id can name a journal: 1 to 64 small letters, digits
// and inner hyphens. Anything else could also name a place outside the folder.
func ValidID(id string) bool {
	if len(id) == 0 || len(id) > 64 || id[0] == '-' || id[len(id)-1] == '-' {
		return false
	}
	for _, c := range id {
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}
