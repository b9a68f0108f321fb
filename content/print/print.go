package print

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/content/sheet"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// Handbook is the id of the whole handbook.
const Handbook = "handbook"

// Options say how something is printed. Only Paper must be set.
type Options struct {
	Paper   Paper
	Printed time.Time
	Form    bool // of a walk, the blank form for its readings
}

// UnknownError says that there is nothing to print by an id.
type UnknownError struct{ ID string }

func (e *UnknownError) Error() string {
	return fmt.Sprintf("nothing in this handbook that can be printed is called %q; expected a walk, a chart as walk#step, a card, a caution, a fault, a source, or %s", e.ID, Handbook)
}

// FormError says that there is no form of what an id names.
type FormError struct{ ID string }

func (e *FormError) Error() string {
	return fmt.Sprintf("%s is no walk, so it has no form for readings", e.ID)
}

// FaultyError says that a walk has errors in this handbook: a branch that could not be
// read is missing from it, and paper would not tell.
type FaultyError struct {
	Walk  string // its title
	First source.Diagnostic
}

func (e *FaultyError) Error() string {
	return fmt.Sprintf("the walk “%s” has errors in this handbook, so it is not printed: %v", e.Walk, e.First)
}

// Write prints what an id names: a walk by its id or name, a chart as walk#step, a card,
// caution, fault or source, or the whole [Handbook]. Its errors are [UnknownError],
// [FormError], [FaultyError] and those of w; nothing is written but with the last.
func Write(w io.Writer, lib *content.Library, id string, o Options) error {
	text, err := Bytes(lib, id, o)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// Bytes is what [Write] writes.
func Bytes(lib *content.Library, id string, o Options) ([]byte, error) {
	p, err := pageOf(lib, id, o)
	if err != nil {
		return nil, err
	}
	p.Style = pageRule(p.Title, lib, o) + style
	for i := range p.Sheets {
		p.Sheets[i].Size = int(10*p.Sheets[i].size(o.Paper) + 0.5)
	}
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, "page", p); err != nil {
		return nil, err
	}
	return []byte(source.Shown(out.String())), nil
}

// Title is what an id names; false for nothing that can be printed.
func Title(lib *content.Library, id string) (string, bool) {
	x, ok := find(lib, id)
	return x.title, ok
}

// FileName is what the file of a page is called, without its ending.
func FileName(id string, o Options) string {
	name := strings.NewReplacer("#", "-", ":", "-", "/", "-", ".", "-").Replace(id)
	if o.Form {
		name += "-form"
	}
	return name + "-" + strings.ToLower(o.Paper.Name)
}

// page is what is printed at once. What of it is set is written in this order.
type page struct {
	Title, Style, Stamp string
	Clears, Legend      string
	Proof               string
	Sheets              []treeSheet
	Forms               []form
	Documents           []documentSheet
	Chapters            []chapter
}

// onPage is one of the parts of a page with the page.
type onPage struct {
	Sheet any
	Page  page
}

// chapter is the documents of one kind in the whole handbook.
type chapter struct {
	Title     string
	Documents []documentSheet
}

// documentSheet is a card, caution, fault or source.
type documentSheet struct {
	view.Document
	From []string // its sources
}

// subject is what an id names: one of its fields, the whole handbook where none is set.
type subject struct {
	title    string
	tree     *faulttree.Tree
	chart    *faulttree.Step
	document view.Link
}

// find looks up what can be printed.
func find(lib *content.Library, id string) (subject, bool) {
	if t := lib.Forest.Tree(id); t != nil {
		return subject{title: t.Title, tree: t}, true
	}
	if id == Handbook {
		return subject{title: "Faultwright handbook"}, true
	}
	if s := lib.Forest.Step(faulttree.ParseRef(id, "")); s != nil && s.Kind == faulttree.KindChart {
		return subject{title: s.Title, chart: s}, true
	}
	d, ok := view.DocumentOf(lib, "", id)
	return subject{title: d.Title, document: d.Link}, ok
}

// faulty reports the first error of the walks of which something would be printed.
func (x subject) faulty(lib *content.Library) error {
	var trees []string
	switch {
	case x.tree != nil:
		trees = []string{x.tree.Own()}
	case x.chart != nil:
		trees = []string{x.chart.Tree}
	case x.document.ID == "":
		trees = lib.Forest.IDs()
	}
	for _, id := range trees {
		if wrong := lib.TreeErrors(id); len(wrong) > 0 {
			return &FaultyError{lib.Forest.Trees[id].Title, wrong[0]}
		}
	}
	return nil
}

func pageOf(lib *content.Library, id string, o Options) (page, error) {
	x, ok := find(lib, id)
	p := page{Title: x.title, Stamp: stamp(lib, o), Clears: clearsLine, Legend: legendLine, Proof: proofWords}
	switch {
	case !ok:
		return p, &UnknownError{id}
	case o.Form && x.tree == nil:
		return p, &FormError{id}
	}
	if err := x.faulty(lib); err != nil {
		return p, err
	}
	switch {
	case o.Form:
		p.Title, p.Forms = x.title+": readings", []form{formOf(lib, x.tree)}
	case x.tree != nil:
		p.Sheets = treeOf(lib, x.tree)
	case x.chart != nil:
		p.Sheets = []treeSheet{chartOf(lib, x.chart)}
	case x.document.ID != "":
		d, _ := documentOf(lib, x.document.Kind, x.document.ID)
		p.Documents = []documentSheet{d}
	default:
		for _, id := range lib.Forest.IDs() {
			p.Sheets = append(p.Sheets, treeOf(lib, lib.Forest.Trees[id])...)
		}
		p.Chapters = chapters(lib)
	}
	return p, nil
}

func documentOf(lib *content.Library, kind view.Kind, id string) (documentSheet, bool) {
	d, ok := view.DocumentOf(lib, kind, id)
	out := documentSheet{Document: d}
	for _, s := range d.Sources {
		out.From = append(out.From, view.SourceText(lib, s.ID))
	}
	return out, ok
}

// chapters are all documents of a handbook that are no walks.
func chapters(lib *content.Library) []chapter {
	var out []chapter
	for _, k := range []view.Kind{view.KindCaution, view.KindCard, view.KindFault, view.KindSource} {
		c := chapter{Title: k.Plural()}
		for _, l := range view.All(lib, k) {
			if d, ok := documentOf(lib, k, l.ID); ok {
				c.Documents = append(c.Documents, d)
			}
		}
		out = append(out, c)
	}
	return append(out, methods(lib))
}

// methods says how readings are taken, each method once, by its title.
func methods(lib *content.Library) chapter {
	c := chapter{Title: "How readings are taken"}
	met := map[*content.Method]bool{}
	for _, m := range lib.Methods {
		if met[m] {
			continue
		}
		met[m] = true
		taken := lists.Each(m.Quantities, func(id string) string { return lib.Forest.Quantities[id].Title })
		c.Documents = append(c.Documents, documentSheet{Document: view.Document{Link: view.Link{Title: m.Title}, Above: strings.Join(taken, "; "), Body: m.Body}})
	}
	slices.SortFunc(c.Documents, func(a, b documentSheet) int { return strings.Compare(a.Title, b.Title) })
	return c
}

const (
	clearsLine = "Readings alone clear nothing, and nothing here declares anything dead or free of faults. Local codes and licensed practice outrank this page."
	proofWords = " with the function, range and leads of those to come, and note it. After the last one, before anything rests on a low figure, take it again at the same source. If it differs, no reading between the two counts: treat all contacts and metal as live."
	legendLine = "≥ and more, > above, < below, ≤ and less. OL is more than any figure. Begin with the first step, and go where the arrow says (F: a finding, W: another walk); “via 3” counts if step 3 led you here. In a chart the first row that fits counts; an empty cell asks nothing. A row that asks what your vehicle does not have does not count."
)

// stamp says of which handbook a page is, and when it was printed.
func stamp(lib *content.Library, o Options) string {
	text := "Handbook " + lib.Fingerprint()
	if !o.Printed.IsZero() {
		text += ", printed " + o.Printed.Format("2 January 2006")
	}
	return text
}

// pageRule sets the paper, and what stands at the foot of every page of it: pages are
// pinned up one by one.
func pageRule(title string, lib *content.Library, o Options) string {
	foot := strings.Join([]string{title, stamp(lib, o), "Readings alone clear nothing."}, "  ·  ")
	return fmt.Sprintf("@page { size: %s; margin: %dmm %dmm %dmm; @bottom-left { content: %s; font: 6.5pt Arial, sans-serif; } "+
		"@bottom-right { content: \"page \" counter(page) \" of \" counter(pages); font: 6.5pt Arial, sans-serif; } }\n", o.Paper.Name, marginTop, marginSide, marginFoot, cssText(foot))
}

// cssText is text as a string of CSS.
func cssText(text string) string {
	var b strings.Builder
	for _, r := range text {
		if r < ' ' || strings.ContainsRune(`"\<>&`, r) {
			fmt.Fprintf(&b, "\\%x ", r)
			continue
		}
		b.WriteRune(r)
	}
	return `"` + b.String() + `"`
}

//go:embed style.css
var style string

//go:embed *.html
var files embed.FS

var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"css":     func(s string) template.CSS { return template.CSS(s) },
	"policy":  sheet.Policy,
	"short":   short,
	"top":     func(sheet any, p page) onPage { return onPage{sheet, p} },
	"prose":   func(blocks []document.Block) template.HTML { return template.HTML(sheet.Prose(blocks, figure.Grey())) },
	"drawing": func(d figure.Drawing) template.HTML { return template.HTML(figure.SVG(d, figure.Grey())) },
	"sign":    func(s faulttree.Signal) template.HTML { return template.HTML(sheet.AlertSign(s)) },
}).ParseFS(files, "*.html"))
