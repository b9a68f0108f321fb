package sheet

import (
	"cmp"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"faultwright/content"
)

// FileName is what the file of a sheet is called, without its ending: vehicle,
// date and time, finding. A test after repair has another name than the finding
// before it, so that neither takes the other's place. Whatever the vehicle is
// called, the name is one name on every system: letters, digits and "-_" only.
func FileName(in Input, lib *content.Library) string {
	v := findingOf(lib, in.Walk)
	vehicle, at, what := slug(in.Vehicle, 60), in.Started, "not-finished"
	vehicle = cmp.Or(vehicle, "vehicle")
	if v.Ended {
		what = slug(v.Title, 80)
	}
	if in.Again {
		at, what = in.Began, "after-repair-"+what
		if n := len(in.Before); n > 1 {
			what = fmt.Sprintf("after-repair-%d-%s", n, strings.TrimPrefix(what, "after-repair-"))
		}
	}
	return vehicle + "_" + at.Format("2006-01-02-1504") + "_" + what
}

// slug keeps the letters and digits of a text, in small letters, with one "-"
// for all that stands between them, and at most so many bytes.
func slug(text string, most int) string {
	var b strings.Builder
	gap := false
	for _, r := range text {
		if r == utf8.RuneError || !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			gap = b.Len() > 0
			continue
		}
		r = unicode.ToLower(r)
		if b.Len()+1+utf8.RuneLen(r) > most {
			break
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		b.WriteRune(r)
	}
	return b.String()
}
