package archive

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// Version is that of the form of a file: the major grows when an earlier program
// must not read it, the minor when it may and only misses something.
type Version struct{ Major, Minor int }

// ours is the version that is written, of every format.
var ours = Version{1, 0}

func (v Version) String() string { return fmt.Sprintf("%d.%d", v.Major, v.Minor) }

// MarshalText writes "1.0".
func (v Version) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (v *Version) UnmarshalText(text []byte) error {
	major, minor, ok := strings.Cut(string(text), ".")
	var errs [2]error
	v.Major, errs[0] = strconv.Atoi(major)
	v.Minor, errs[1] = strconv.Atoi(minor)
	if !ok || errs != [2]error{} || v.Major < 1 || v.Minor < 0 {
		return fmt.Errorf("%q is no version; expected two numbers, such as %q", text, ours)
	}
	return nil
}

// Head is what the JSON of every file begins with, to be embedded in it. Fields that a
// later minor version has, and this one does not know, are left out.
type Head struct {
	Format  string  `json:"format"`
	Version Version `json:"version"`
}

// Ours is the head of a file of a format as it is written now.
func Ours(format string) Head { return Head{format, ours} }

// mostDepth is how deep JSON may be nested; ours has some six levels.
const mostDepth = 32

// Decode reads JSON that begins with a [Head] of a format. What says in one word what it is.
func Decode(text []byte, format, what string, into any) error {
	if deep(text) {
		return fmt.Errorf("the %s is nested more than %d levels deep; it is not read", what, mostDepth)
	}
	var h Head
	if err := json.Unmarshal(text, &h); err != nil {
		return fmt.Errorf("the %s is damaged: %w", what, err)
	}
	switch {
	case h.Format != format:
		return fmt.Errorf("the %s says that its format is %q; expected %q", what, h.Format, format)
	case h.Version.Major < 1:
		return fmt.Errorf("the %s does not say its version; expected one such as %q", what, ours)
	case h.Version.Major > ours.Major:
		return fmt.Errorf("the %s is of version %s, made by a later Faultwright; this one reads up to %d", what, h.Version, ours.Major)
	}
	if err := json.Unmarshal(text, into); err != nil {
		return fmt.Errorf("the %s is damaged: %w", what, err)
	}
	return nil
}

// deep reports whether brackets outside of strings stand deeper than [mostDepth].
func deep(text []byte) bool {
	depth, quoted := 0, false
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case quoted && c == '\\':
			i++
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '{' || c == '[':
			if depth++; depth > mostDepth {
				return true
			}
		case c == '}' || c == ']':
			depth--
		}
	}
	return false
}

// Encode writes the JSON of a file.
func Encode(v any) ([]byte, error) {
	text, err := json.MarshalIndent(v, "", " ")
	return append(text, '\n'), err
}
