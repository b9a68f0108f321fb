package load

import (
	"faultwright/content"
	"faultwright/content/document"
)

// readSynonyms reads lists of words that mean the same.
func (p *part) readSynonyms() {
	for _, group := range document.ParseYAML(p.file, &p.diags).Items("the file") {
		words := group.Texts("a group of synonyms")
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
	for _, item := range document.ParseYAML(p.file, &p.diags).Items("the file") {
		m := item.Map("an opening", "title", "text", "tree", "card")
		o := content.Opening{Title: m.NeedText("title"), Text: m.NeedText("text"), Tree: m.Text("tree"), Card: m.Text("card"), Pos: item.Pos()}
		switch {
		case (o.Tree != "") == (o.Card != ""):
			if item.IsMap() {
				item.Report(document.RuleMissingKey, "", "an opening leads to one tree or to one card; expected one of the keys tree and card")
			}
		case o.Tree != "":
			p.refs = append(p.refs, reference{kind: refTree, id: o.Tree, pos: m.Get("tree").Pos()})
		default:
			p.refs = append(p.refs, reference{kind: refCard, id: o.Card, pos: m.Get("card").Pos()})
		}
		if item.IsMap() {
			p.openings = append(p.openings, o)
		}
	}
}
