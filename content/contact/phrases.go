package contact

import (
	"slices"
	"strings"
)

// Phrases finds the longest of a set of phrases at a place in a run of words.
// The zero value holds none.
type Phrases[T any] struct {
	byWords map[string][]T  // the words joined by spaces
	begins  map[string]bool // every beginning of a phrase, so that a search stops early
}

// Add makes words mean one more thing.
func (p *Phrases[T]) Add(words []string, what T) {
	if len(words) == 0 {
		return
	}
	if p.byWords == nil {
		p.byWords, p.begins = map[string][]T{}, map[string]bool{}
	}
	for i := range words {
		p.begins[strings.Join(words[:i+1], " ")] = true
	}
	key := strings.Join(words, " ")
	p.byWords[key] = append(p.byWords[key], what)
}

// At is what the longest phrase that begins at words[0] means, and how many
// words it has; 0 if none begins there.
func (p *Phrases[T]) At(words []string) (what []T, length int) {
	key := ""
	for i, w := range words {
		if i > 0 {
			key += " "
		}
		key += w
		if !p.begins[key] {
			break
		}
		if found, ok := p.byWords[key]; ok {
			what, length = found, i+1
		}
	}
	return what, length
}

// Begins reports whether some phrase begins with word.
func (p *Phrases[T]) Begins(word string) bool { return p.begins[word] }

// TooBare refuses a lone digit, which says nothing, and stop words alone.
func TooBare(words []string) bool {
	return !slices.ContainsFunc(words, func(w string) bool { return !Stop(w) && (len(words) > 1 || len(w) > 1 || w < "0" || w > "9") })
}

// Words lists, in order, the single words that phrases begin with.
func (p *Phrases[T]) Words() []string {
	var out []string
	for begin := range p.begins {
		if !strings.Contains(begin, " ") {
			out = append(out, begin)
		}
	}
	slices.Sort(out)
	return out
}
