package load

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// ScenarioText writes a scenario as a file that [Scenario] reads, to the same values.
// Numbers that no decimal of twelve places holds are written to twelve.
func ScenarioText(l *content.Library, s *content.Scenario) string {
	w := &scenarioWriter{}
	w.text("scenario", s.ID)
	w.text("title", s.Title)
	w.text("rig", s.Rig.ID)
	var faults []string
	for _, a := range s.Faults {
		faults = append(faults, faultText(s.Rig, a))
	}
	w.list("faults", faults)
	var meter []string
	for _, m := range s.Meter {
		meter = append(meter, m.String())
	}
	w.list("meter", meter)
	loads, set := writtenLoads(s)
	w.fields("set", set)
	w.fields("loads", loads)
	w.list("may", s.May)
	w.text("tree", s.Tree)
	if s.Role != faulttree.Qualified {
		w.text("role", s.Role.String())
	}
	w.long("lesson", s.Lesson)
	if s.Hazard != l.HiddenHazard(s) {
		w.text("hazard", s.Hazard.String())
	}
	if s.Is(content.MisleadingStory) {
		w.text("kind", string(content.MisleadingStory))
	}
	w.vary(s)
	w.conclude(s.Expect)
	var seen []string
	for _, x := range s.Seen {
		seen = append(seen, x.Observation+": "+quoted(x.Choice))
	}
	w.fields("seen", seen)
	if s.Shock {
		w.out.WriteString("shock: true\n")
	}
	w.long("answer", s.Answer)
	w.list("sources", s.Sources)
	w.list("related", s.Related)
	return "---\n" + w.out.String() + "---\n\n" + s.Story + "\n"
}

// scenarioWriter writes front matter, leaving out keys without a value.
type scenarioWriter struct{ out strings.Builder }

// plainForm is text that means itself in YAML without quotes, wherever it stands.
var plainForm = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9 ._/-]*$`)

// quoted is a text as a YAML scalar.
func quoted(text string) string {
	switch strings.ToLower(text) {
	case "true", "false", "yes", "no", "on", "off", "y", "n", "null":
		return strconv.Quote(text)
	}
	if plainForm.MatchString(text) && !strings.HasSuffix(text, " ") {
		return text
	}
	return strconv.Quote(text)
}

func (w *scenarioWriter) text(key, text string) {
	if text != "" {
		fmt.Fprintf(&w.out, "%s: %s\n", key, quoted(text))
	}
}

// widest is how long a line of running text is written.
const widest = 118

// long writes a text that may run over several lines.
func (w *scenarioWriter) long(key, text string) {
	words := strings.Fields(text)
	if len(text) < widest-len(key) || strings.Join(words, " ") != text {
		w.text(key, text)
		return
	}
	fmt.Fprintf(&w.out, "%s: >-\n", key)
	line := " "
	for _, word := range words {
		if len(line)+1+len(word) > widest {
			w.out.WriteString(line + "\n")
			line = " "
		}
		line += " " + word
	}
	w.out.WriteString(line + "\n")
}

// list writes entries that are YAML already.
func (w *scenarioWriter) list(key string, entries []string) {
	if len(entries) > 0 {
		fmt.Fprintf(&w.out, "%s: [%s]\n", key, strings.Join(entries, ", "))
	}
}

// fields writes a mapping of entries that are YAML already.
func (w *scenarioWriter) fields(key string, entries []string) {
	if len(entries) > 0 {
		fmt.Fprintf(&w.out, "%s: {%s}\n", key, strings.Join(entries, ", "))
	}
}

// faultText is a fault as an entry of faults.
func faultText(r *rig.Rig, a rig.Applied) string {
	v := a.Fault.Variants[a.Variant]
	out := "{fault: " + a.Fault.ID + ", place: " + string(v.Place)
	first := slices.IndexFunc(a.Fault.Variants, func(o rig.Variant) bool { return o.Place == v.Place && o.FitsIn(r) })
	if first != a.Variant {
		out += ", text: " + quoted(v.Text)
	}
	if s := a.Fault.Severity; s != nil && a.Severity != s.Value {
		out += ", severity: " + NumberText(a.Severity, s.Unit)
	}
	return out + "}"
}

// writtenLoads is the numbers that a scenario changes: of the legs whose loads share
// their watts as they ordinarily do, together; the others one by one.
func writtenLoads(s *content.Scenario) (loads, set []string) {
	told := map[int]bool{}
	for _, leg := range s.Rig.Legs() {
		sum := lists.Sum(s.Rig.LegWatts(leg), func(i int) float64 { return s.Values[i] })
		sum, _ = strconv.ParseFloat(strconv.FormatFloat(sum, 'g', 12, 64), 64)
		share := s.Rig.Shared(leg, sum)
		same := len(share) > 0
		for i, x := range share {
			have, changed := s.Values[i]
			same = same && changed && have == x
		}
		if same {
			loads = append(loads, leg+": "+NumberText(sum, rig.Watts))
			for i := range share {
				told[i] = true
			}
		}
	}
	for _, i := range slices.Sorted(maps.Keys(s.Values)) {
		if p := s.Rig.Params[i]; !told[i] {
			set = append(set, p.Name+": "+NumberText(s.Values[i], p.Unit))
		}
	}
	return loads, set
}

// vary writes what varies.
func (w *scenarioWriter) vary(s *content.Scenario) {
	if !s.Vary.Stated {
		return
	}
	w.out.WriteString("vary:\n")
	in := &scenarioWriter{}
	for _, f := range []struct {
		key string
		is  bool
	}{{"numbers", s.Vary.Numbers}, {"legs", s.Vary.Legs}} {
		if f.is {
			in.out.WriteString(f.key + ": true\n")
		}
	}
	var severity, loads, set, places []string
	for _, id := range slices.Sorted(maps.Keys(s.Vary.Severity)) {
		for _, a := range s.Faults {
			if a.Fault.ID == id && a.Fault.Severity != nil {
				severity = append(severity, id+": "+rangeText(s.Vary.Severity[id], a.Fault.Severity.Unit))
			}
		}
	}
	for _, leg := range slices.Sorted(maps.Keys(s.Vary.Loads)) {
		loads = append(loads, leg+": "+rangeText(s.Vary.Loads[leg], rig.Watts))
	}
	for _, i := range slices.Sorted(maps.Keys(s.Vary.Values)) {
		set = append(set, s.Rig.Params[i].Name+": "+rangeText(s.Vary.Values[i], s.Rig.Params[i].Unit))
	}
	for _, of := range s.Vary.Places {
		places = append(places, of.Fault+": ["+strings.Join(words(of.Places), ", ")+"]")
	}
	in.fields("severity", severity)
	in.fields("loads", loads)
	in.fields("set", set)
	in.fields("places", places)
	if in.out.Len() == 0 { // nothing varies, and that is said
		in.out.WriteString("numbers: false\n")
	}
	for line := range strings.Lines(in.out.String()) {
		w.out.WriteString("  " + line)
	}
}

func rangeText(x content.Range, u rig.ParamUnit) string {
	return "[" + NumberText(x.From, u) + ", " + NumberText(x.To, u) + "]"
}

// conclude writes what is said of the conclusion.
func (w *scenarioWriter) conclude(e content.Expectation) {
	in := &scenarioWriter{}
	in.text("place", string(e.Place))
	in.long("do", e.Do)
	in.text("repair_by", e.RepairBy)
	var open []string
	for _, at := range e.Open {
		open = append(open, at.String())
	}
	in.list("open", open)
	if in.out.Len() == 0 {
		return
	}
	w.out.WriteString("conclude:\n")
	for line := range strings.Lines(in.out.String()) {
		w.out.WriteString("  " + line)
	}
}

// NumberText writes a number of a rig as its files have it, with an SI prefix where
// that makes it shorter: "0.3 Ω", "47 nF", "1/0 AWG". [ParseValue] reads the same
// number back, where a decimal of twelve places holds it.
func NumberText(x float64, u rig.ParamUnit) string {
	if u == rig.Gauge {
		return u.Format(x)
	}
	best, off, length := "", math.Inf(1), 0
	for _, s := range scales[u] {
		if s.symbol == "%" {
			continue
		}
		text := strings.TrimSpace(decimal(x, -s.power) + " " + s.symbol)
		if u == rig.Degrees {
			text = decimal(x, -s.power) + s.symbol
		}
		back, err := parseValue(text, u)
		if err != nil {
			continue
		}
		far, long := math.Abs(back-x), len(text)
		if s.power != 0 {
			long++ // of equals the one without a prefix
		}
		if far < off || far == off && long < length {
			best, off, length = text, far, long
		}
	}
	return cmp.Or(best, u.Format(x))
}

// decimal writes a number, its point moved by a power of ten, to at most twelve
// places behind the point. It moves the point in the text, where nothing is rounded.
func decimal(x float64, power int) string {
	digits, exponent, _ := strings.Cut(strconv.FormatFloat(x, 'e', -1, 64), "e")
	n, _ := strconv.Atoi(exponent)
	moved, _ := strconv.ParseFloat(digits+"e"+strconv.Itoa(n+power), 64)
	text := strconv.FormatFloat(moved, 'f', -1, 64)
	if _, places, _ := strings.Cut(text, "."); len(places) > 12 {
		text = strings.TrimRight(strconv.FormatFloat(moved, 'f', 12, 64), "0")
		text = strings.TrimSuffix(text, ".")
	}
	return text
}
