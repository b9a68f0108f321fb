package contact

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"faultwright/faulttree"
)

var (
	zeroWord = regexp.MustCompile(`(?i)\bzero\b`)
	// A run of words for a number right before a unit; what stands before it tells
	// whether the run is the whole of it.
	numberWord      = strings.Join(numberWordList, "|")
	wordsBeforeUnit = regexp.MustCompile(`(?i)(\b(?:a hundred|` + numberWord + `)(?:[ -]+(?:` + numberWord + `|and|point))*[ -]+)((?:kilo|mega|meg|milli)?(?:volts?|ohms?|amps?|v)\b)`)
	beforeRun       = regexp.MustCompile(`(?i)([\pL\pN.,]+)[ -]*$`)

	numberWordList = strings.Fields(`zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen
		seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred`)
)

// Number is a number in words, or the word zero, and the bytes of the text it
// takes. Value is it in figures.
type Number struct {
	Start, End int
	Value      string
}

// Numbers finds the numbers in words that stand before a unit, and the word
// zero: "twelve point one volts". Other numbers in words stay. Text is tidy.
func Numbers(text string) []Number {
	var out []Number
	for _, at := range wordsBeforeUnit.FindAllStringSubmatchIndex(text, -1) {
		value, ok := numberOf(text[at[2]:at[3]])
		if m := beforeRun.FindStringSubmatch(text[:at[2]]); m != nil && notWhole(m[1]) {
			ok = false
		}
		if ok {
			out = append(out, Number{at[2], at[2] + len(strings.TrimRight(text[at[2]:at[3]], " -")), value})
		}
	}
	for _, at := range zeroWord.FindAllStringIndex(text, -1) {
		within := slices.ContainsFunc(out, func(n Number) bool { return n.Start <= at[0] && at[0] < n.End })
		if !within {
			out = append(out, Number{at[0], at[1], "0"})
		}
	}
	slices.SortFunc(out, func(a, b Number) int { return a.Start - b.Start })
	return out
}

// Figures is text with its [Numbers] as figures.
func Figures(text string) string {
	text = faulttree.Tidy(text)
	var b strings.Builder
	done := 0
	for _, n := range Numbers(text) {
		b.WriteString(text[done:n.Start] + n.Value)
		done = n.End
	}
	return b.String() + text[done:]
}

// notWhole reports whether a word before a number in words belongs to it, so
// that the number would be half read.
func notWhole(word string) bool {
	switch word = strings.ToLower(word); word {
	case "minus", "negative", "of", "to", "or", "half", "quarter", "few", "several", "thousand", "dozen", "leg", "line", "between":
		return true
	}
	return strings.ContainsAny(word, "0123456789")
}

// numberOf reads "one hundred and nineteen", "twelve point one".
func numberOf(words string) (string, bool) {
	total, decimals, last := 0, "", 0
	fraction, after := false, false // behind "point"; behind "and"
	for i, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return r == ' ' || r == '-' }) {
		n := wordValue(w)
		switch {
		case w == "a":
			total = 1
		case w == "and":
			if last != 100 {
				return "", false // "one and two": two numbers
			}
			after = true
			continue
		case w == "point":
			if fraction || after || i == 0 {
				return "", false
			}
			fraction = true
			continue
		case fraction && n < 10:
			decimals += strconv.Itoa(n)
		case fraction:
			return "", false
		case n == 100 && total > 0 && total < 10:
			total *= 100
		case n == 100, i > 0 && last < 20, i > 0 && last < 100 && n > 9, n == 0 && i > 0:
			return "", false // "one twenty", "twenty thirty"
		default:
			total += n
		}
		last, after = n, false
	}
	if after || fraction && decimals == "" {
		return "", false
	}
	if fraction {
		return strconv.Itoa(total) + "." + decimals, true
	}
	return strconv.Itoa(total), true
}

// wordValue is the value of one of numberWordList, -1 for another word.
func wordValue(word string) int {
	for i, w := range numberWordList {
		if w != word {
			continue
		}
		if i <= 20 {
			return i
		}
		return (i - 18) * 10 // "thirty" is the 21st
	}
	return -1
}
