package figure

import (
	"strings"

	"faultwright/faulttree"
)

// wrap breaks words into lines of at most width characters.
func wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > width {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// stateWords says in what state the rig is read.
func stateWords(q faulttree.Quantity) string {
	var words []string
	group, local := split(q.Red)
	unplugged := q.Has(faulttree.Unplugged)
	switch {
	case group == "pedestal" && clamped(q):
		words = append(words, "qualified people only")
	case group == "pedestal":
		words = append(words, "nothing plugged in")
	case q.Black == "pedestal.g" && !unplugged:
		words = append(words, "a spare receptacle of the pedestal")
	case group == "cord" && !unplugged:
		words = append(words, "cord live, not in the inlet")
	case group == "adapter" && !unplugged && strings.HasPrefix(local, "out-"):
		words = append(words, "adapter in the pedestal, nothing in it")
	case group == "generator" && !unplugged:
		words = append(words, "generator running")
	case group == "inverter" && !unplugged:
		words = append(words, "inverter running")
	case group == "panel" || group == "feed":
		words = append(words, "qualified people only")
	case group == "tow" && local == "aux":
		words = append(words, "engine running")
	}
	for _, one := range q.Prepare() {
		words = append(words, one.String())
	}
	s := strings.Join(words, " · ")
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// frontWords says from which side a connector is drawn.
func frontWords(s object) string {
	switch {
	case !s.face:
		return ""
	case s.name == "plug", s.name == "adapter", s.name == "inlet":
		return ", pins towards you"
	}
	return ", from the front"
}

// note says how to tell the contacts apart.
func (s object) note() []string {
	if s.name == "cord" || s.name == "inlet" {
		return []string{"Go by the", "letters at", "the", "contacts."}
	}
	return []string{"Find the", "ground by", "its shape", "first."}
}

// leadWords says what a lead touches, in lines that fit beside the meter.
func leadWords(lead, point string, f Face) []string {
	return append([]string{lead}, wrap(pointWords(point, f), 14)...)
}

// hotWord is the one name of a hot contact: hot where a connector has one, L1
// and L2 where it has two. The card names-of-conductors tells the reader so.
func hotWord(local string, f Face) string {
	switch {
	case local == "l2":
		return "L2"
	case local == "l1" && f == Face14_50:
		return "L1"
	}
	return "hot"
}

// pointWords names a point of a connector of face f, short; the caption names
// the object.
func pointWords(point string, f Face) string {
	group, local := split(point)
	local = strings.TrimPrefix(local, "out-")
	contact := func(kind string) string {
		switch local {
		case "n":
			return "neutral " + kind
		case "g":
			return "ground " + kind
		case "l1", "l2", "h":
			return hotWord(local, f) + " " + kind
		case "cover":
			return "bare metal: cover, door or post"
		}
		return point // never a hot contact by default
	}
	switch group {
	case "body":
		return "bare metal: step, frame or door frame"
	case "earth":
		return "spike, clipped, not held"
	case "meter":
		return map[string]string{"known-source": "hot slot", "n": "neutral slot", "known-battery": "positive post", "neg": "negative post",
			"tips": "nothing", otherTip + "tips": "nothing", "leads": "the black tip", otherTip + "leads": "the red tip"}[local]
	case "plug", "inlet":
		return contact("pin")
	case "adapter":
		if strings.HasPrefix(point, "adapter.out-") {
			return contact("slot")
		}
		return contact("pin")
	case "pedestal", "cord", "outlet":
		return contact("slot")
	case "feed":
		return contact("lug")
	case "panel":
		return map[string]string{"l1": contact("bus"), "l2": contact("bus"), "n": "neutral bar", "g": "grounding bar"}[local]
	case "generator", "inverter":
		return contact("terminal")
	case "battery":
		return map[string]string{"pos": "positive post", "neg": "negative post"}[local]
	case "dc":
		return map[string]string{"pos": "positive bus", "neg": "negative bus"}[local]
	case "converter":
		return map[string]string{"pos": "positive output", "neg": "negative output"}[local]
	case "tow":
		return map[string]string{"aux": "charge pin", "gnd": "ground pin"}[local]
	}
	return point
}

// GroupWord is the name of a group of test points: "12 V panel", "pedestal".
func GroupWord(group string) string {
	switch group {
	case "dc":
		return "12 V panel"
	case "tow":
		return "tow connector"
	}
	return group
}

// describe says the picture in sentences.
func describe(q faulttree.Quantity, f Face) string {
	_, words := dial(q.Unit)
	s := "Meter set to " + words + ", range " + q.Range.With(q.Unit) + ". Red lead on " + where(q.Red, q, f) + ", black lead on " + where(q.Black, q, f) + "."
	if state := stateWords(q); state != "" {
		s += " State: " + inSentence(state) + "."
	}
	return s
}

// where names a point with its object.
func where(point string, q faulttree.Quantity, f Face) string {
	s := objectOf(point, ends(point, q, f))
	if s.name == "body" || s.name == "earth" {
		return pointWords(point, f)
	}
	return pointWords(point, ends(point, q, f)) + " (" + inSentence(s.caption) + ")"
}

// inSentence makes the first letter small, unless a name begins there.
func inSentence(s string) string {
	if len(s) < 2 || s[1] < 'a' || s[1] > 'z' {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
