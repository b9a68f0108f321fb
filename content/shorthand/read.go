package shorthand

import (
	"cmp"
	"errors"
	"regexp"
	"strings"
	"unicode/utf8"

	"faultwright/content"
	"faultwright/content/contact"
	"faultwright/faulttree"
)

const (
	mostBytes = 64 << 10
	mostRows  = 500
	mostLine  = 1000 // bytes
)

// ErrTooLong is the error of a text beyond the bound. Its words are for the
// reader.
var ErrTooLong = errors.New("The list is longer than 64 kB. Give it in parts.")

// Reader reads lists with the words and quantities of one handbook. It does
// not change.
type Reader struct {
	atoms      contact.Phrases[contact.Atom]
	vocabulary []string // the words that a slip of the pen is mended to
	quantities []quantity
	byID       faulttree.Quantities
	byTitle    map[string]string // ids, by title and by id in lower case
	longest    int               // bytes of the longest of them
}

// New makes a reader of lists for a handbook.
func New(lib *content.Library) *Reader {
	r := &Reader{atoms: contact.NewWords(lib.Synonyms, cut), byID: lib.Forest.Quantities, byTitle: map[string]string{}}
	for _, w := range r.atoms.Words() {
		if utf8.RuneCountInString(w) >= shortestTypo-1 {
			r.vocabulary = append(r.vocabulary, w)
		}
	}
	for _, id := range r.byID.IDs() {
		r.quantities = append(r.quantities, newQuantity(r.byID[id], lib.Points))
		for _, name := range []string{id, r.byID[id].Title} {
			r.byTitle[strings.ToLower(name)] = id
			r.longest = max(r.longest, len(name))
		}
	}
	return r
}

// Read reads a list of at most 64 kB; the error of a longer one is
// [ErrTooLong]. What stands behind 500 rows is one row of text, and so is a
// line of more than 1000 bytes.
func (r *Reader) Read(text string) (*List, error) {
	if len(text) > mostBytes {
		return nil, ErrTooLong
	}
	p := parser{Reader: r, list: &List{Blocks: []Block{{}}}}
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n")
	for i, raw := range lines {
		if p.line(i+1, raw); p.over != nil {
			break
		}
	}
	p.leavePending()
	if o := p.over; o != nil {
		rest := string([]rune(lines[o.Line-1])[o.Column-1:]) + "\n" + strings.Join(lines[o.Line:], "\n")
		p.list.Rows = append(p.list.Rows, Row{Line: o.Line, Column: o.Column, Text: strings.TrimSpace(rest), Block: o.Block, Why: "There are more than 500 rows. Give the rest as a list of its own."})
	}
	p.dropEmptyBlocks()
	r.settle(p.list)
	return p.list, nil
}

// parser is where the reading of a list stands.
type parser struct {
	*Reader
	list    *List
	heads   []words // of the columns of a table, under way
	pending *Row    // a pair on a line of its own: its figure may follow
	over    *Row    // the first row beyond the bound
}

// line is one line, its characters as typed and as they are read: one for one,
// the cells of a table parted by semicolons.
type line struct {
	number int
	raw    []rune
	text   string // tidy
}

var bullet = regexp.MustCompile(`^[ ;]*(?:[-*•·–] |\(?\d{1,2}[.)] +\pL)`)

func newLine(number int, raw string) line {
	tidy := faulttree.Tidy(strings.Map(func(c rune) rune {
		if c == '\t' || c == '|' {
			return ';'
		}
		return c
	}, raw))
	if at := bullet.FindStringIndex(tidy); at != nil {
		end := at[1]
		if last, size := utf8.DecodeLastRuneInString(tidy[:end]); last != ' ' {
			end -= size
		}
		tidy = strings.Map(func(rune) rune { return ' ' }, tidy[:end]) + tidy[end:]
	}
	return line{number, []rune(raw), tidy}
}

// typed is what stands from one byte of the text to another, as typed, and its
// column.
func (l line) typed(start, end int) (text string, column int) {
	from, to := utf8.RuneCountInString(l.text[:start]), utf8.RuneCountInString(l.text[:end])
	text = string(l.raw[from:to])
	lead := len(text) - len(strings.TrimLeft(text, " \t|;,.\u00a0"))
	return strings.Trim(text, " \t|;,\u00a0"), from + utf8.RuneCountInString(text[:lead]) + 1
}

func (p *parser) block() *Block { return &p.list.Blocks[len(p.list.Blocks)-1] }

// open begins a block under a header. A place that is said ends what the
// header above said; a state alone keeps the place.
func (p *parser) open(header string, w words) {
	b := Block{Header: header, said: w, Place: w.Site}
	if w.Site == nowhere {
		b.Place = ""
	}
	if last := p.block(); !w.placed() {
		b.Place, b.said.Site = last.Place, last.said.Site
		b.said.elsewhere = w.elsewhere || last.said.elsewhere
		b.said.unit = cmp.Or(b.said.unit, last.said.unit)
		if !w.stated() {
			b.said.Conditions, b.said.LoadsOff = last.said.Conditions, last.said.LoadsOff
		}
	}
	b.Unit = b.said.unit
	p.list.Blocks = append(p.list.Blocks, b)
}

func (p *parser) add(row Row) {
	row.Block = len(p.list.Blocks) - 1
	if len(p.list.Rows) >= mostRows {
		if p.over == nil {
			p.over = &row
		}
		return
	}
	p.list.Rows = append(p.list.Rows, row)
}

// line reads one line.
func (p *parser) line(number int, raw string) {
	l := newLine(number, raw)
	if !strings.ContainsFunc(l.text, func(c rune) bool { return c > ' ' && !strings.ContainsRune(";:-=_*", c) }) {
		return
	}
	if len(l.text) > mostLine {
		text, column := l.typed(0, len(l.text))
		p.add(Row{Line: number, Column: column, Text: text, Why: "This line is too long to be read. Begin a new line after a few readings."})
		return
	}
	if p.titled(l) {
		return
	}
	figures := p.figures(l)
	if p.table(l, figures) {
		return
	}
	if len(figures) == 0 {
		p.withoutFigure(l)
		return
	}
	s := sentence{parser: p, line: l, figures: figures}
	s.read()
}

// figures finds the figures of a line that may be readings.
func (p *parser) figures(l line) []figure {
	tokens := p.tokens(l.text)
	var out []figure
	for _, f := range figuresIn(l.text) {
		from := 0
		if len(out) > 0 {
			from = out[len(out)-1].end
		}
		switch {
		case p.named(f, tokens), f.otherThing(l.text):
		case contact.Denied(l.text[:f.start]) && p.read(l.text[from:f.start]).Contacts() == 0:
		default:
			out = append(out, f)
		}
	}
	return out
}

const mostHeaderWords = 8

// withoutFigure takes a line that has no figure: a header, the pair of a
// figure to come, or text.
func (p *parser) withoutFigure(l line) {
	w := p.read(l.text)
	text, column := l.typed(0, len(l.text))
	colon := strings.HasSuffix(strings.TrimSpace(l.text), ":")
	short := len(p.tokens(l.text)) <= mostHeaderWords
	switch {
	case w.header() && !w.Unknown && (colon || short && !w.strange):
		p.leavePending()
		p.open(text, w)
	case w.Contacts() == 2 && !w.Unknown && short:
		p.leavePending()
		p.pending = &Row{Line: l.number, Column: column, Text: text, said: w, Pair: pairOf(w)}
	default:
		p.leavePending()
		if w.placed() || w.stated() { // what stands above may hold no longer
			p.open("", words{Said: contact.Said{Site: nowhere}})
		}
		p.add(Row{Line: l.number, Column: column, Text: text})
	}
}

// nowhere is the site of words that make the place unclear, and of a block whose
// place is not known any more.
const nowhere = "?"

// leavePending gives up on the figure of a pair.
func (p *parser) leavePending() {
	if p.pending != nil {
		row := *p.pending
		p.pending = nil
		row.refuse(noReading)
		p.add(row)
	}
}

const noReading = "There is no reading beside these points."

// dropEmptyBlocks leaves out the blocks that have neither rows nor a header.
func (p *parser) dropEmptyBlocks() {
	used := make([]int, len(p.list.Blocks))
	for _, r := range p.list.Rows {
		used[r.Block]++
	}
	var kept []Block
	at := make([]int, len(used))
	for i, b := range p.list.Blocks {
		at[i] = len(kept)
		if used[i] > 0 || b.Header != "" {
			kept = append(kept, b)
		}
	}
	for i := range p.list.Rows {
		p.list.Rows[i].Block = at[p.list.Rows[i].Block]
	}
	p.list.Blocks = kept
}
