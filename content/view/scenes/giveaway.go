package scenes

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/vehicle"
)

// givesAway lists where a sentence of the story says what is to be found: all words
// of the title of a hidden fault, or of another name of it.
func givesAway(lib *content.Library, s *content.Scenario) []string {
	var out []string
	told := document.WholeSentences(document.Plain(s.Body))
	for _, id := range hiddenIDs(lib, s) {
		if sentence, term := saidOf(lib, id, told); term != "" {
			out = append(out, fmt.Sprintf("The story says “%s”, which is nearly “%s”: that is what is to be found.", clip(sentence), term))
		}
	}
	return out
}

// unseen lists what the story says was seen and cannot be seen of the vehicle, unless the
// story is meant to mislead.
func unseen(lib *content.Library, s *content.Scenario) ([]string, error) {
	if s.Is(content.MisleadingStory) {
		return nil, nil
	}
	v, err := standing(s)
	if err != nil {
		return nil, err
	}
	hidden := lists.Each(Hidden(lib, s), func(at faulttree.FaultAt) string { return at.Fault })
	var out []string
	for _, x := range s.Seen {
		o := lib.Forest.Observation(x.Observation)
		chances, err := vehicle.Walker{Vehicle: v, Value: v.Taken}.Seen(o, hidden)
		if err != nil {
			return nil, err
		}
		if i := slices.Index(o.ChoiceIDs(), x.Choice); chances == nil || chances[i] == 0 {
			out = append(out, fmt.Sprintf("By seen: the story answers “%s” with “%s”. That cannot be seen of this vehicle.", o.Title, o.Sight(x.Choice).Text))
		}
	}
	return out, nil
}

// contradicts lists where the first sentence of the answer names another fault as
// the cause, or another place. What it says is not so is no cause.
func contradicts(lib *content.Library, s *content.Scenario) []string {
	sentences := document.WholeSentences(s.Answer)
	if len(sentences) == 0 || denied(sentences[0]) {
		return nil
	}
	first := sentences[0]
	clauses := strings.FieldsFunc(first, func(r rune) bool { return strings.ContainsRune(",;:", r) })
	plain := &content.Library{Faults: lib.Faults} // an answer is in the words of the catalogue
	var out []string
	hidden := hiddenIDs(lib, s)
	says := func(id string) string { _, term := saidOf(plain, id, clauses); return term }
	if !slices.ContainsFunc(hidden, func(id string) bool { return says(id) != "" }) {
		for _, f := range Nameable(lib, s.Rig) {
			if term := says(f.ID); term != "" && !slices.Contains(hidden, f.ID) {
				out = append(out, fmt.Sprintf("The answer begins with “%s”, which is nearly “%s”: that is not hidden here.", clip(first), term))
			}
		}
	}
	hides := lists.Each(Hidden(lib, s), func(at faulttree.FaultAt) faulttree.Place { return at.Place })
	places := map[string]faulttree.Place{"cord": faulttree.Cord, "receptacle": faulttree.Supply, "pedestal": faulttree.Supply}
	var named []string
	for _, w := range wordsOf(plain, first) {
		if places[w] != "" && !slices.Contains(named, w) {
			named = append(named, w)
		}
	}
	if len(named) == 1 && len(hides) > 0 && !slices.Contains(hides, places[named[0]]) {
		out = append(out, fmt.Sprintf("The answer begins with “%s”, but nothing is hidden in the %s.", clip(first), named[0]))
	}
	return out
}

// hiddenIDs lists the faults that are hidden, those of the meter among them.
func hiddenIDs(lib *content.Library, s *content.Scenario) []string {
	out := lists.Each(Hidden(lib, s), func(at faulttree.FaultAt) string { return at.Fault })
	for _, id := range CaseOf(lib, s).Truth() {
		if id != practice.NoFault && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

// saidOf is the first of some sentences that says a name of a fault, and that name.
func saidOf(lib *content.Library, id string, sentences []string) (sentence, term string) {
	f := lib.Faults[id]
	if f == nil {
		return "", ""
	}
	for _, name := range append([]string{f.Title}, f.Aliases...) {
		words := wordsOf(lib, name)
		if len(words) < 2 {
			continue // one word alone is what everybody says
		}
		for _, s := range sentences {
			if holds(wordsOf(lib, s), words) {
				return s, name
			}
		}
	}
	return "", ""
}

// holds reports whether all of some words are among others.
func holds(all, some []string) bool {
	return len(some) > 0 && !slices.ContainsFunc(some, func(w string) bool { return !slices.Contains(all, w) })
}

// small are words that tell nothing by themselves.
var small = strings.Fields("a an and are as at be been by for from has have in is it its not of off on one or the there to two was were with into out no nothing")

// wordsOf lists the words of a text that tell something, without endings, each as
// the first of the words that mean the same.
func wordsOf(lib *content.Library, text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		if slices.Contains(small, w) {
			continue
		}
		out = append(out, sameWord(lib, stem(w)))
	}
	return out
}

// stem is a word without the ending of a plural.
func stem(w string) string {
	if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") {
		return w[:len(w)-1]
	}
	return w
}

// sameWord is the first of the words that mean the same as one.
func sameWord(lib *content.Library, w string) string {
	for _, list := range lib.Synonyms {
		if slices.ContainsFunc(list, func(s string) bool { return stem(strings.ToLower(s)) == w }) {
			return stem(strings.ToLower(list[0]))
		}
	}
	return w
}

// denied reports whether a sentence says what is not so.
func denied(sentence string) bool {
	words := strings.Fields(strings.ToLower(sentence))
	return slices.ContainsFunc(words, func(w string) bool {
		return slices.Contains([]string{"not", "no", "neither", "nor", "never", "nobody", "nothing", "without", "would"}, strings.Trim(w, ".,;:"))
	})
}

// clip is a sentence, not too long to quote.
func clip(sentence string) string {
	const most = 80
	if r := []rune(sentence); len(r) > most {
		return strings.TrimRight(string(r[:most]), " ,;:") + "…"
	}
	return sentence
}
