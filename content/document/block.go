package document

import (
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Block is a paragraph or another upright part of a document.
type Block interface{ isBlock() }

// Heading is a section title. ID is what `{#id}` behind it says, or "".
type Heading struct {
	Level int
	ID    string
	Text  []Inline
	Pos   source.Pos
}

// Paragraph is running text.
type Paragraph struct {
	Text []Inline
	Pos  source.Pos
}

// List is a list of items, each a list of blocks. Start is the first number
// of an ordered list. A tight list has no blank lines between its items.
type List struct {
	Ordered bool
	Start   int
	Tight   bool
	Items   [][]Block
}

// Align says how the cells of a table column are set.
type Align uint8

const (
	AlignNone Align = iota
	AlignLeft
	AlignCenter
	AlignRight
)

// Table has one header row; each row has as many cells as Align has entries.
type Table struct {
	Align  []Align
	Header [][]Inline
	Rows   [][][]Inline
	Pos    source.Pos
}

// Callout is a block quote that begins with a bold signal word. The word
// itself is not part of Body.
type Callout struct {
	Signal faulttree.Signal
	Body   []Block
	Pos    source.Pos
}

// Quote is any other block quote.
type Quote struct{ Body []Block }

// Figure is a drawing, named by an image link figure:NAME alone in its
// paragraph. Alt says in words what it shows.
type Figure struct {
	Name, Alt string
	Pos       source.Pos
}

// Code is a fenced or indented block of verbatim text.
type Code struct {
	Info, Text string
	Pos        source.Pos

	lines []int // offset in the file of each line of Text
}

// Rule is a line across the page.
type Rule struct{}

func (Heading) isBlock()   {}
func (Paragraph) isBlock() {}
func (List) isBlock()      {}
func (Table) isBlock()     {}
func (Callout) isBlock()   {}
func (Quote) isBlock()     {}
func (Figure) isBlock()    {}
func (Code) isBlock()      {}
func (Rule) isBlock()      {}

// Inline is a piece of running text.
type Inline interface{ isInline() }

// Text is a run of characters in one face.
type Text struct {
	Value              string
	Bold, Italic, Code bool
}

// Link leads to Target when Text is chosen. Title is a further remark, or "".
type Link struct {
	Target string
	Text   []Inline
	Title  string
	Pos    source.Pos
}

// Break is a hard line break.
type Break struct{}

func (Text) isInline()  {}
func (Link) isInline()  {}
func (Break) isInline() {}
