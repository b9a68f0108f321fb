package booklet

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"faultwright/faulttree"
)

// normal is a line with one spelling for what is written in several ways.
func normal(line string) string {
	return strings.Join(strings.Fields(replacer.Replace(line)), " ")
}

var replacer = strings.NewReplacer("+/-", "±", "+-", "±", "\u00a0", " ", "\u202f", " ", "\u2009", " ", "−", "-", "–", "-", "—", "-", "…", "-",
	"\u2126", "Ω", "\u00b5", "µ", "\u03bc", "µ", "⎓", " DC ", "⏤", " DC ", "V~", "V AC ", "A~", "A AC ", "V≂", "V AC DC ", "|", " ", ";", " ", "\t", " ")

var (
	accuracyText = regexp.MustCompile(faulttree.AccuracyText)
	value        = regexp.MustCompile(`^(\d+(?:[.,]\d+)?) ?(mV|kV|V|µA|uA|mA|A|mΩ|kΩ|KΩ|MΩ|Ω|(?:m|k|K|M)?[oO]hms?)`)
	number       = regexp.MustCompile(`^\d+(?:[.,]\d+)?`)
	frequency    = regexp.MustCompile(`(?i)^(\d+(?:[.,]\d+)?) ?(k?hz)?(?: ?(?:-|~|to|/) ?(\d+(?:[.,]\d+)?) ?)?(k?hz)\b`)
	word         = regexp.MustCompile(`^(?:[\pL]+|Ω)`)
	between      = regexp.MustCompile(`^[\s():,@]+`)
)

// accuracyIn is the one accuracy in a line, nil where it has none, and the line without
// it.
func accuracyIn(line string) (*faulttree.Accuracy, string, error) {
	found := accuracyText.FindAllStringIndex(line, -1)
	if len(found) == 0 {
		if strings.Contains(line, "%") {
			_, err := faulttree.ParseAccuracy(line)
			return nil, "", err
		}
		return nil, line, nil
	}
	if len(found) > 1 {
		return nil, "", errors.New("it has several accuracies; expected one a line, that for 60 Hz")
	}
	from, to := found[0][0], found[0][1]
	a, err := faulttree.ParseAccuracy(line[from:to])
	if err != nil {
		return nil, "", err
	}
	before, after := line[:from], line[to:]
	if next := strings.TrimLeft(after, " "); next != "" && strings.ContainsAny(next[:1], ".,%+0123456789") || glued(after) || strings.HasSuffix(before, ".") {
		_, err := faulttree.ParseAccuracy(line[from:])
		return nil, "", cmp.Or(err, fmt.Errorf("“%s” is not understood; expected percent of the reading and counts, such as ±(1.0%% + 3)", line))
	}
	return &a, before + " " + after, nil
}

// glued reports whether a letter stands at once behind the accuracy, which so may be
// another word than it was taken for.
func glued(after string) bool { return word.MatchString(after) }

// function is what a line says that is measured.
type function struct {
	what string // "V", "A", "Ω"; "" is not said
	wave string // "AC", "DC"; "" is not said
}

// written is a value with its unit as it was written.
type written struct {
	size, count faulttree.Amount // count is that of its last digit
	decimals    bool
	what        string // "V", "A", "Ω"
	joined      string // what stands before it: "to", "/", or "" where nothing joins it to the last
}

// words is what a line says beside its accuracy.
type words struct {
	function
	values []written
}

// kinds says which words name a function.
var kinds = map[string]function{
	"ac": {"", "AC"}, "dc": {"", "DC"},
	"acv": {"V", "AC"}, "vac": {"V", "AC"}, "dcv": {"V", "DC"}, "vdc": {"V", "DC"},
	"aca": {"A", "AC"}, "aac": {"A", "AC"}, "dca": {"A", "DC"}, "adc": {"A", "DC"},
	"v": {"V", ""}, "mv": {"V", ""}, "volt": {"V", ""}, "volts": {"V", ""}, "voltage": {"V", ""},
	"a": {"A", ""}, "ma": {"A", ""}, "amp": {"A", ""}, "amps": {"A", ""}, "ampere": {"A", ""}, "amperes": {"A", ""}, "current": {"A", ""},
	"ω": {"Ω", ""}, "kω": {"Ω", ""}, "mω": {"Ω", ""}, "ohm": {"Ω", ""}, "ohms": {"Ω", ""}, "resistance": {"Ω", ""},
}

// said are words that change nothing.
var said = map[string]bool{"range": true, "ranges": true, "resolution": true, "accuracy": true, "function": true, "true": true, "rms": true, "trms": true, "at": true, "and": true, "clamp": true}

// supplyHertz is the frequency of the supplies that the handbook knows.
const supplyHertz = 60

// read takes a line apart that has no accuracy any more. What it does not know is an
// error.
func read(line string) (words, error) {
	var w words
	var open []string // figures whose unit stands behind a later one: "6/60/600 V"
	joined := ""
	for line = strings.TrimSpace(line); line != ""; {
		switch {
		case between.MatchString(line):
			line = line[len(between.FindString(line)):]
		case frequency.MatchString(line):
			f := frequency.FindStringSubmatch(line)
			if err := holds(f); err != nil {
				return w, err
			}
			line = line[len(f[0]):]
		case value.MatchString(line):
			f := value.FindStringSubmatch(line)
			for _, figure := range append(open, f[1]) {
				v, err := amount(figure, f[2])
				if err != nil {
					return w, err
				}
				v.joined = joined
				if len(open) > 0 {
					v.joined = "/"
				}
				w.values = append(w.values, v)
			}
			open, joined, line = nil, "", line[len(f[0]):]
		case number.MatchString(line):
			figure := number.FindString(line)
			line = strings.TrimSpace(line[len(figure):])
			if !strings.HasPrefix(line, "/") {
				return w, fmt.Errorf("“%s” has no unit; expected a range such as 600.0 V", figure)
			}
			open, line = append(open, figure), strings.TrimSpace(line[1:])
		case line[0] == '/', line[0] == '-':
			joined = map[byte]string{'/': "/", '-': "to"}[line[0]]
			line = line[1:]
		case word.MatchString(line):
			said := word.FindString(line)
			line = line[len(said):]
			to, err := w.word(said)
			if err != nil {
				return w, err
			}
			joined = cmp.Or(to, joined)
		default:
			return w, fmt.Errorf("“%s” is not understood", line)
		}
	}
	if len(open) > 0 {
		return w, fmt.Errorf("“%s” has no unit; expected a range such as 600.0 V", open[0])
	}
	return w, nil
}

// word takes one word of a line; to is "to" where it joins two values.
func (w *words) word(text string) (to string, err error) {
	low := strings.ToLower(text)
	if low == "to" {
		return "to", nil
	}
	f, known := kinds[low]
	switch {
	case known:
		if f.what != "" && w.what != "" && f.what != w.what || f.wave != "" && w.wave != "" && f.wave != w.wave {
			return "", fmt.Errorf("it names two functions; expected one a line")
		}
		w.what, w.wave = cmp.Or(w.what, f.what), cmp.Or(w.wave, f.wave)
		return "", nil
	case said[low]:
		return "", nil
	case low == "loz" || low == "lowz":
		return "", errors.New("the accuracy of a low-impedance setting is not kept; say below that the meter has one")
	}
	return "", fmt.Errorf("“%s” is not understood; expected a function such as AC V, a range such as 600.0 V and ±(1.0%% + 3)", text)
}

// errFrequency is of a line for other frequencies than that of the supply.
var errFrequency = errors.New("it is for another frequency")

// holds reports whether a stretch of frequencies has that of the supply in it.
func holds(f []string) error {
	from, to := hertz(f[1], cmp.Or(f[2], f[4])), hertz(cmp.Or(f[3], f[1]), f[4])
	if from <= supplyHertz && supplyHertz <= to {
		return nil
	}
	return fmt.Errorf("%w: %s; expected the line for %d Hz", errFrequency, f[0], supplyHertz)
}

func hertz(figure, unit string) float64 {
	f, err := strconv.ParseFloat(strings.ReplaceAll(figure, ",", "."), 64)
	if err != nil {
		return 0
	}
	if strings.HasPrefix(strings.ToLower(unit), "k") {
		f *= 1000
	}
	return f
}

var thousands = regexp.MustCompile(`^\d{1,3},\d{3}$`)

// amount is a figure with a unit: "600.0" and "mV".
func amount(figure, unit string) (written, error) {
	if thousands.MatchString(figure) {
		return written{}, fmt.Errorf("“%s %s” can mean two things; expected %s or %s", figure, unit, strings.Replace(figure, ",", "", 1), strings.Replace(figure, ",", ".", 1))
	}
	size, err := faulttree.ParseAmount(strings.ReplaceAll(figure, ",", "."))
	if err != nil {
		return written{}, err
	}
	count := faulttree.One
	_, decimals, found := strings.Cut(strings.ReplaceAll(figure, ",", "."), ".")
	for range len(decimals) {
		count /= 10
	}
	v := written{size: size, count: count, decimals: found, what: "Ω"}
	if u := strings.ToUpper(unit); strings.HasSuffix(u, "V") || strings.HasSuffix(u, "A") {
		v.what = u[len(u)-1:]
	}
	most := faulttree.Amount(4_000_000_000) * faulttree.One
	times := faulttree.Amount(1)
	switch prefix, _ := strings.CutSuffix(unit, v.what); {
	case strings.HasPrefix(prefix, "m"):
		v.size, v.count = v.size/1000, v.count/1000
	case strings.HasPrefix(prefix, "µ"), strings.HasPrefix(prefix, "u"):
		v.size, v.count = v.size/1_000_000, v.count/1_000_000
	case strings.HasPrefix(prefix, "k"), strings.HasPrefix(prefix, "K"):
		times = 1000
	case strings.HasPrefix(prefix, "M"):
		times = 1_000_000
	}
	if v.size > most/times {
		return written{}, fmt.Errorf("“%s %s” is more than any meter reads", figure, unit)
	}
	v.size, v.count = v.size*times, v.count*times
	return v, nil
}
