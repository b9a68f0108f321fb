package shorthand

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"faultwright/content/contact"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/suspect"
)

// words is what the words of a label, a header or a note say.
type words struct {
	contact.Said
	unit      string // "V", "Ω" or "A"
	doubtful  bool
	told      bool
	elsewhere bool   // at a supply that is not the one in question
	to        bool   // begins with "to": the other point is that of the pair before
	quantity  string // the id, where the handbook's own title or id was written
	strange   bool   // some words are not understood
	empty     bool   // there are no words
}

// placed and stated report whether a place, or a state, was said.
func (w words) placed() bool { return w.Site != "" }
func (w words) stated() bool { return len(w.Conditions) > 0 || w.LoadsOff }

// header reports whether the words say something that can stand over rows.
func (w words) header() bool {
	return w.Contacts() == 0 && (w.placed() || w.stated() || w.unit != "" || w.told || w.doubtful || w.elsewhere)
}

var (
	doubtWords = regexp.MustCompile(`(?i)\?|[~≈]|\b(?:maybe|perhaps|not sure|unsure|doubt\w*|i think|or so|probably|guess\w*|questionable)\b|\b(?:approx\w*|about|around|roughly|circa)\W*$`)
	toldWords  = regexp.MustCompile(`(?i)\b(?:customers?|owners?|clients?|guests?|told|says?|said|report(?:s|ed)|claim(?:s|ed)|according to|hearsay|second[ -]hand)\b`)
	ownWords   = regexp.MustCompile(`(?i)\b(meter|multimeter|display|screen|it) (?:says?|said|reported)\b`) // nobody has told it
	ohmsWords  = regexp.MustCompile(`(?i)\b(?:ohms?|resistances?|continuity|insulation)\b|Ω`)
	voltsWords = regexp.MustCompile(`(?i)\b(?:volts|voltages?|vac|vdc)\b`)
	ampsWords  = regexp.MustCompile(`(?i)(?:^|[^\d -]) *\b(?:amps|amperes|amperage|clamp|currents?)\b`)
	wordForm   = regexp.MustCompile(`\pN+(?:[.,]\pN+)*|\pL[\pL\pN]*(?:'\pL+)*`)
	numberUnit = regexp.MustCompile(`^(\pN+)(\pL+)$`)
	compact    = regexp.MustCompile(`^(l1|l2|l|h|n|g|e|pe)(l1|l2|l|h|n|g|e|pe)$`)
	numbered   = regexp.MustCompile(`^(h|hot|leg|line|phase)([12])$`)
	oneWord    = regexp.MustCompile(`\((\w+)\)`)
	plainWords = contact.Set("he she ne le ll") // no pair of contacts, unless in capitals
	signs      = strings.NewReplacer("+ve", "positive", "-ve", "negative", "B+", "positive", "B-", "negative", "->", " to ", "→", " to ")
	measures   = contact.Set("voltage current resistance reading amperage") // of what was read, and no point
	filler     = contact.Set("out output voltage current resistance then now later again read reads reading show shows measure measured got get meter display same first second with after before note ok whole v a o vac vdc ac dc rms volt ohm amp ω")
)

// term is a word in the form that the vocabulary has.
func term(word string) string {
	word = strings.TrimSuffix(strings.ToLower(word), "'s")
	if n := len(word); n > 3 && strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss") {
		return word[:n-1]
	}
	return word
}

// cut cuts a text into the terms of its words.
func cut(text string) []string {
	return lists.Each(wordForm.FindAllString(text, -1), term)
}

// token is a word of a line and where it stands.
type token struct {
	start, end int
	term       string
}

// tokens cuts a line into the terms that the vocabulary is asked for. A word
// that is nearly one of the vocabulary gives way to it.
func (r *Reader) tokens(text string) []token {
	var out []token
	for _, at := range wordForm.FindAllStringIndex(text, -1) {
		typed := text[at[0]:at[1]]
		word := strings.ToLower(typed)
		add := func(terms ...string) {
			for _, t := range terms {
				out = append(out, token{at[0], at[1], t})
			}
		}
		pair := compact.FindStringSubmatch(word)
		unit := numberUnit.FindStringSubmatch(word)
		leg := numbered.FindStringSubmatch(word)
		special, isSpecial := contact.Term(word)
		switch {
		case isSpecial:
			add(special)
		case contact.Copula(word):
		case pair != nil && (!plainWords[word] || typed != word):
			add(pair[1], pair[2])
		case leg != nil && leg[1] == "h":
			add("hot", leg[2])
		case leg != nil:
			add(leg[1], leg[2])
		case unit != nil:
			add(unit[1], unit[2])
		default:
			add(r.known(term(word)))
		}
	}
	return out
}

const shortestTypo = 6 // letters; shorter words have too many neighbours

// known is word, or the word of the vocabulary that it is one slip away from.
func (r *Reader) known(word string) string {
	if utf8.RuneCountInString(word) < shortestTypo || r.atoms.Begins(word) {
		return word
	}
	for _, w := range r.vocabulary {
		if w[0] == word[0] && contact.OneTypo([]rune(word), []rune(w)) {
			return w
		}
	}
	return word
}

// read reads the words of a label, a header or a note.
func (r *Reader) read(text string) words {
	text = ownWords.ReplaceAllString(text, "$1 reads")
	text = oneWord.ReplaceAllString(signs.Replace(text), " $1 ") // "hot (L1)"
	w := words{
		doubtful: doubtWords.MatchString(text), told: toldWords.MatchString(text), elsewhere: contact.Elsewhere(text),
		strange: false, empty: !strings.ContainsFunc(text, func(c rune) bool { return c > ' ' && !strings.ContainsRune(",;:.-–—=()[]?/|", c) }),
	}
	switch {
	case ohmsWords.MatchString(text):
		w.unit = "Ω"
	case ampsWords.MatchString(text):
		w.unit = "A"
	case voltsWords.MatchString(text):
		w.unit = "V"
	}
	var terms []string
	for _, part := range strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune(",;:|()[]", c) }) {
		for _, t := range r.tokens(part) {
			if !measures[t.term] {
				terms = append(terms, t.term)
			}
		}
		terms = append(terms, contact.StopTerm)
	}
	if w.Said = contact.Read(r.atoms, terms); w.SeveralPlaces {
		w.Site = nowhere
	}
	first := slices.IndexFunc(terms, func(t string) bool { return !filler[t] && t != contact.StopTerm })
	w.to = first >= 0 && terms[first] == "to"
	w.strange = r.strange(text)
	return w
}

// strange reports whether some words of text are not understood.
func (r *Reader) strange(text string) bool {
	rest := doubtWords.ReplaceAllString(toldWords.ReplaceAllString(text, " "), " ")
	rest = ohmsWords.ReplaceAllString(ampsWords.ReplaceAllString(rest, " "), " ")
	list := r.tokens(rest)
	terms := make([]string, len(list))
	for i, t := range list {
		terms[i] = t.term
	}
	for i := 0; i < len(terms); {
		if _, n := r.atoms.At(terms[i:]); n > 0 {
			i += n
			continue
		}
		if t := terms[i]; !contact.Stop(t) && !contact.Weak(t) && !filler[t] {
			return true
		}
		i++
	}
	return false
}

// named reports whether a figure is part of a name: leg 1, 12 volt panel.
func (r *Reader) named(f figure, list []token) bool {
	for i := 0; i < len(list); {
		terms := make([]string, 0, 6)
		for _, t := range list[i:min(len(list), i+6)] {
			terms = append(terms, t.term)
		}
		_, n := r.atoms.At(terms)
		if n == 0 {
			i++
			continue
		}
		begin, end := list[i].start, list[i+n-1].end
		if begin < f.end && f.start < end && (begin < f.start || f.end < end) {
			return true
		}
		i += n
	}
	return false
}

// Evidence is the rows that are readings of a quantity.
func (r *Reader) Evidence(list *List) []suspect.Evidence {
	var out []suspect.Evidence
	for _, row := range list.Rows {
		if row.Kind == Taken {
			out = append(out, suspect.Evidence{Quantity: r.byID[row.Quantity], Reading: row.Reading, Doubtful: row.Doubtful, Told: row.Told})
		}
	}
	return out
}

// Possible is the rows where only state or unit are still to be asked, each as a
// reading of every quantity that it can be: a danger among them does not wait for
// the answer.
func (r *Reader) Possible(list *List) []suspect.Evidence {
	var out []suspect.Evidence
	for _, row := range list.Rows {
		for _, id := range row.May {
			if reading, err := faulttree.ParseReading(row.Typed, r.byID[id]); err == nil && row.Kind == Asked {
				out = append(out, suspect.Evidence{Quantity: r.byID[id], Reading: reading, Doubtful: row.Doubtful, Told: row.Told})
			}
		}
	}
	return out
}

// Left is the list without the rows that are readings of a quantity, as it was
// typed: what is still to be asked of, and what cannot be read. A header stands
// above its rows.
func (l *List) Left() string {
	var lines []string
	block, line := -1, 0
	for _, row := range l.Rows {
		switch {
		case row.Kind == Taken:
			continue
		case row.Block != block:
			if header := l.Blocks[row.Block].Header; header != "" && !strings.Contains(row.Text, header) {
				lines = append(lines, header)
			}
			lines = append(lines, row.Text)
		case row.Line == line:
			lines[len(lines)-1] += ", " + row.Text
		default:
			lines = append(lines, row.Text)
		}
		block, line = row.Block, row.Line
	}
	return strings.Join(lines, "\n")
}
