package document

import (
	"bytes"
	"fmt"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"faultwright/faulttree/source"
)

// The Markdown parser's time grows with the marks of a piece of text times its
// length, and its memory with the marks and with the cells of a table. That is
// the work of a piece. A hundred times the longest file of the shipped handbook
// is within these bounds; what is beyond them is kept as it is written.
const (
	mostPieceWork = 40_000_000  // of one paragraph, heading or table
	mostWork      = 100_000_000 // of one file
	markWork      = 400         // of a mark, beside the length of the text
	cellWork      = 1000        // of a cell of a table

	mostBlocks = 50_000 // of one file, entries of lists counted
	blockWork  = 500    // of a block that is kept, for the work of a folder
)

// work follows what the text of one file costs to read.
type work struct {
	file  *source.File
	base  int // offset of the Markdown in the file
	diags *source.List
	spent int
	over  bool // the bound of the file was met; nothing more is read
}

var workKey = parser.NewContextKey()

// piece is what one paragraph, heading or table costs.
type piece struct{ bytes, marks, cells int }

func (p piece) work() int { return p.marks*(p.bytes+markWork) + p.cells*cellWork }

// pieceOf looks at lines, of which any may be the line below a table's head.
func pieceOf(lines *text.Segments, all []byte) piece {
	var p piece
	for i := range lines.Len() {
		at := lines.At(i)
		line := at.Value(all)
		p.bytes += len(line)
		bars, ruled := 0, i > 0
		for _, b := range line {
			switch b {
			case '[', ']', '!', '*', '_', '`', '<', '\\', '&', '\n':
				p.marks++
			case '|':
				p.marks, bars = p.marks+1, bars+1
				continue
			}
			ruled = ruled && (b == '-' || b == ':' || util.IsSpace(b))
		}
		if ruled {
			bare := bytes.TrimSpace(line)
			outer := len(bare) - len(bytes.Trim(bare, "|"))
			p.cells = max(p.cells, (bars+1-min(outer, 2))*(lines.Len()-i))
		}
	}
	return p
}

// may spends what a piece costs, or reports that it is too much.
func (w *work) may(p piece, at int) bool {
	pos := w.file.Pos(w.base + at)
	switch {
	case w.over: // reported before
		return false
	case p.work() > mostPieceWork && p.cells*cellWork > p.work()/2:
		add(w.diags, source.Diagnostic{Pos: pos, Rule: RuleWork, Message: fmt.Sprintf(
			"this table has %d cells, counted with those that its rows leave out; it is not read as a table", p.cells), Hint: "divide the table"})
		return false
	case p.work() > mostPieceWork:
		add(w.diags, source.Diagnostic{Pos: pos, Rule: RuleWork, Message: fmt.Sprintf(
			"this text takes too long to read, with %d marks (brackets, stars, bars, ends of lines and the like) in %d bytes; it is kept as it is written", p.marks, p.bytes), Hint: "divide it by blank lines"})
		return false
	case w.spent+p.work() > mostWork:
		w.over = true
		add(w.diags, source.Diagnostic{Pos: pos, Rule: RuleWork, Message: "the text of this file takes too long to read; from here on it is kept as it is written",
			Hint: "divide the file, or its long paragraphs and tables"})
		return false
	}
	w.spent += p.work()
	return true
}

// costlyParagraph makes verbatim text of a paragraph that costs too much, before
// anything looks into it.
type costlyParagraph struct{}

func (costlyParagraph) Transform(p *ast.Paragraph, r text.Reader, pc parser.Context) {
	w, ok := pc.Get(workKey).(*work)
	if !ok || p.Lines().Len() == 0 || w.may(pieceOf(p.Lines(), r.Source()), p.Lines().At(0).Start) {
		return
	}
	verbatim := ast.NewCodeBlock()
	verbatim.SetLines(p.Lines())
	p.Parent().ReplaceChild(p.Parent(), p, verbatim)
}

// costlyHeading leaves a heading that costs too much to be a paragraph, which
// is then found to cost too much.
type costlyHeading struct{ parser.BlockParser }

func (h costlyHeading) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	_, segment := r.PeekLine()
	var lines text.Segments
	lines.Append(segment)
	p := pieceOf(&lines, r.Source())
	w, ok := pc.Get(workKey).(*work)
	if ok && (w.over || p.work() > mostPieceWork || w.spent+p.work() > mostWork) {
		return nil, parser.NoChildren
	}
	node, state := h.BlockParser.Open(parent, r, pc)
	if ok && node != nil {
		w.spent += p.work()
	}
	return node, state
}

// boundedParser reads Markdown as CommonMark has it, within the bounds on work.
func boundedParser() parser.Parser {
	blocks := parser.DefaultBlockParsers()
	for i, b := range blocks {
		if p, ok := b.Value.(parser.BlockParser); ok && bytes.Equal(p.Trigger(), []byte("#")) {
			blocks[i].Value = costlyHeading{parser.NewATXHeadingParser(parser.WithHeadingAttribute())}
		}
	}
	return parser.NewParser(
		parser.WithBlockParsers(blocks...),
		parser.WithInlineParsers(parser.DefaultInlineParsers()...),
		parser.WithParagraphTransformers(append(parser.DefaultParagraphTransformers(), util.Prioritized(costlyParagraph{}, 1))...),
		parser.WithAttribute(),
	)
}
