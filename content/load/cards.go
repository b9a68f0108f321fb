package load

import (
	"path"
	"regexp"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

var idForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// open reads a document whose front matter has the key kind for its id, and of
// the keys that all kinds share those that are among keys. It keeps the links
// of the text for the checks to come.
func (p *part) open(kind string, keys ...string) (document.Map, content.Document) {
	doc := document.Parse(p.file, &p.diags)
	p.work, p.lost, p.written = doc.Work, doc.Lost, doc.Text
	front := doc.Front.Map("the front matter of a "+kind, append([]string{kind, "title"}, keys...)...)
	pos := p.named(kind, front.Need(kind))
	p.links(doc.Body)
	return front, content.Document{
		ID: p.id, Title: front.NeedText("title"), Body: doc.Body, Pos: pos,
		Symptoms: front.Texts("symptoms"), Aliases: front.Texts("aliases"),
		Sources: p.refer(refSource, front.Get("sources"), "sources"),
		Related: p.refer(refRelated, front.Get("related"), "related"),
	}
}

// named checks an id against the name of its file, and is where the id stands.
func (p *part) named(kind string, id document.Value) source.Pos {
	text := id.Text(kind)
	switch {
	case text == "":
		return source.Pos{File: p.file.Name, Line: 1, Column: 1}
	case !idForm.MatchString(text):
		id.Report(RuleBadID, "", "%s is not an id; expected lower-case letters, digits and hyphens", text)
	case p.anyName:
		p.id = text
	case text != p.id:
		id.Report(RuleIDFileName, "", "the id is %s, but the file is named %s; expected the same name", text, path.Base(p.file.Name))
	}
	return id.Pos()
}

// refer notes the ids of a list as references.
func (p *part) refer(kind refKind, list document.Value, what string) []string {
	var out []string
	for _, item := range list.Items(what) {
		if id := p.noted(kind, item.Text("an entry of "+what), item.Pos()); id != "" {
			out = append(out, id)
		}
	}
	return out
}

// referTo notes the id of a key as a reference.
func (p *part) referTo(kind refKind, m document.Map, key string) string {
	return p.noted(kind, m.Text(key), m.Get(key).Pos())
}

// needTo does so for a key that must be there.
func (p *part) needTo(kind refKind, m document.Map, key string) string {
	return p.noted(kind, m.NeedText(key), m.Get(key).Pos())
}

// noted notes an id as a reference, if it is any.
func (p *part) noted(kind refKind, id string, pos source.Pos) string {
	if id != "" {
		p.refs = append(p.refs, reference{kind: kind, id: id, tree: p.id, pos: pos})
	}
	return id
}

// needBody reports a document without text.
func (p *part) needBody(kind string) {
	if strings.TrimSpace(document.Plain(p.doc.Body)) == "" && !p.diags.HasErrors() {
		p.diags.Add(p.doc.Pos, RuleEmptyBody, "the %s has no text below its front matter", kind)
	}
}

func (p *part) readCard() {
	_, doc := p.open("card", "symptoms", "aliases", "sources", "related")
	p.card = &content.Card{Document: doc}
	p.doc = &p.card.Document
	p.needBody("card")
}

func (p *part) readCaution() {
	front, doc := p.open("caution", "signal", "aliases", "sources")
	p.caution = &content.Caution{Document: doc, Signal: signal(front.Need("signal"), "signal", faulttree.Notice)}
	p.doc = &p.caution.Document
	p.needBody("caution")
}

func (p *part) readFault() {
	front, doc := p.open("fault", "hazard", "place", "aliases", "symptoms", "sources", "related", "weight", "severity", "variants", "findings", "test", "no-loads")
	hazard := front.Need("hazard")
	p.fault = &content.Fault{Document: doc, Hazard: signal(hazard, "hazard", faulttree.Notice)}
	p.doc = &p.fault.Document
	if p.fault.Hazard == faulttree.Caution {
		hazard.Report(RuleBadValue, "", "hazard is caution; expected danger, warning or notice")
	}
	if place := front.Need("place"); place.IsList() {
		p.fault.Places = listOf(place, "place", faulttree.Places())
	} else if one := oneOf(place, "place", faulttree.Places()); one != "" {
		p.fault.Places = []faulttree.Place{one}
	}
	if front.Has("no-loads") {
		said := oneOf(front.Get("no-loads"), "no-loads", []string{"true", "false", "branch"})
		p.fault.NoLoads, p.fault.OneBranch = said == "true" || said == "branch", said == "branch"
	}
	p.advice(front.Get("findings"))
	p.tests(front.Get("test"))
	p.fault.Edits = p.readEdits(front, p.fault)
	p.needBody("fault")
}

func (p *part) readSource() {
	front, doc := p.open("source", "status", "locator")
	p.source = &content.Source{Document: doc, Locator: front.Text("locator")}
	p.doc = &p.source.Document
	if v := front.Get("status"); !v.IsZero() {
		p.source.Status = oneOf(v, "status", []string{"published", "quoted", "derived", "memory", "common"})
	}
}

// oneOf is a text from a list, or "" after a report.
func oneOf[T ~string](v document.Value, what string, allowed []T) T {
	text := T(v.Text(what))
	if text == "" || slices.Contains(allowed, text) {
		return text
	}
	v.Report(RuleBadValue, source.DidYouMean(string(text), words(allowed)), "%s is %s; expected %s", what, text, either(words(allowed)))
	return ""
}

func words[T ~string](list []T) []string {
	var out []string
	for _, one := range list {
		out = append(out, string(one))
	}
	return out
}

// either words a choice: "a, b or c".
func either(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// signal is a signal word no lower than least. What cannot be read counts as
// danger, so that an error never softens anything.
func signal(v document.Value, what string, least faulttree.Signal) faulttree.Signal {
	if v.IsZero() {
		return faulttree.Danger
	}
	if s, ok := faulttree.ParseSignal(oneOf(v, what, faulttree.SignalNames()[least:])); ok {
		return s
	}
	return faulttree.Danger
}

// listOf reads a list of which each entry is one of those allowed.
func listOf[T ~string](v document.Value, what string, allowed []T) []T {
	var out []T
	for _, item := range v.Items(what) {
		if one := oneOf(item, "an entry of "+what, allowed); one != "" {
			out = append(out, one)
		}
	}
	return out
}
