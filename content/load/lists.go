package load

import (
	"strconv"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree/source"
)

// Bounds on the lists of a handbook, some ten times what the shipped ones have.
const (
	mostSynonyms   = 1000 // groups
	mostWordsAlike = 50   // of a group
	mostOpenings   = 100
	mostPoints     = 2000
	mostQuantities = 2000
)

// atMost is the items of a list, cut off where they are very many.
func atMost(most int, v document.Value, what string) []document.Value {
	items := v.Items(what)
	if len(items) > most {
		items[most].Report(RuleListSize, "", "%s has %d entries; from this one on none is read, as there may be %d", what, len(items), most)
		items = items[:most]
	}
	return items
}

// cut is the entries of a list, or the keys of a mapping, cut off where they are very
// many. Has says whose they are, what what they are.
func cut[T any](v document.Value, all []T, most int, rule, has, what string) []T {
	if len(all) > most {
		v.Report(rule, "", "%s %d %s; at most %d are read", has, len(all), what, most)
		all = all[:most]
	}
	return all
}

// readSynonyms reads lists of words that mean the same.
func (p *part) readSynonyms() {
	for _, group := range atMost(mostSynonyms, document.ParseYAML(p.file, &p.diags), "the file") {
		var words []string
		for _, item := range atMost(mostWordsAlike, group, "a group of synonyms") {
			if word := item.Text("an entry of a group of synonyms"); word != "" {
				words = append(words, word)
			}
		}
		if len(words) < 2 && group.IsList() {
			group.Report(document.RuleWrongType, "", "a group of synonyms has %d words; expected two or more", len(words))
		}
		if len(words) > 0 {
			p.synonyms = append(p.synonyms, words)
		}
	}
}

// readOpenings reads what the opening view offers.
func (p *part) readOpenings() {
	seen := map[string]source.Pos{}
	for _, item := range atMost(mostOpenings, document.ParseYAML(p.file, &p.diags), "the file") {
		m := item.Map("an opening", "title", "text", "tree", "card")
		o := content.Opening{Title: m.NeedText("title"), Text: m.NeedText("text"), Tree: m.Text("tree"), Card: m.Text("card")}
		if first, twice := seen[o.Title]; twice && o.Title != "" {
			twiceDefined(&p.diags, m.Get("title").Pos(), first, "the opening "+strconv.Quote(o.Title))
		} else {
			seen[o.Title] = m.Get("title").Pos()
		}
		switch {
		case (o.Tree != "") == (o.Card != ""):
			if item.IsMap() {
				item.Report(document.RuleMissingKey, "", "an opening leads to one tree or to one card; expected one of the keys tree and card")
			}
		case o.Tree != "":
			p.referTo(refTree, m, "tree")
		default:
			p.referTo(refCard, m, "card")
		}
		if item.IsMap() {
			p.openings = append(p.openings, o)
		}
	}
}
