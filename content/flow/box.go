package flow

import (
	"slices"
	"strings"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Sizes of type and of what is drawn, in units of the drawing; at 100 % a unit is a
// pixel of an ordinary screen.
const (
	body, small, lead = 14.0, 13.0, 16.0
	pad               = 8.0
	badge             = 13.0 // radius of a number's ring
	signHeight        = 24.0
	cellChars         = 16 // a cell is broken beyond so many characters
)

// widths are those of boxes, at least, and of plates.
type widths struct{ box, plate float64 }

// Of a strip both together are no wider than the smallest window: signal words stand over
// what they are of, and the rows of a table are in words.
var ordinary, slim = widths{340, 310}, widths{222, 160}

// Box is where a node stands: a step with its rows, or a plate beside one.
type Box struct {
	figure.Box
	Node   int
	Beside int    // of a plate: the index of the box whose rows lead to it; -1 for a step
	Rows   []Band // of a step: where each row lies

	texts []figure.Text
	signs []sign
	rules []rule
	rings []figure.Point // numbers stand in them
}

// Band is a stretch of height.
type Band struct{ Top, Bottom float64 }

// middle is where a line leaves a row.
func (b Band) middle() float64 { return (b.Top + b.Bottom) / 2 }

// sign is a signal word in its shape.
type sign struct {
	figure.Box
	signal faulttree.Signal
}

// rule is a faint line across a box, or down it.
type rule struct{ from, to figure.Point }

func lineHeight(size float64) float64 { return size * 1.35 }

// chars is how many characters of a size are sure to fit into a width.
func chars(width, size float64, bold bool) int {
	return max(1, int(width/(perChar(bold)*size)))
}

// perChar is the width of a character in parts of the size, as [figure.Text.Bounds] has it.
func perChar(bold bool) float64 {
	if bold {
		return 0.68
	}
	return 0.6
}

// wide is the room that so many characters take.
func wide(n int, size float64, bold bool) float64 {
	return figure.Text{Value: strings.Repeat("n", n), Size: size, Bold: bold}.Bounds().Right
}

// setter writes into a box from the top down.
type setter struct {
	Box
	y    float64
	slim bool
}

// write sets words between two edges and returns how high they are.
func (s *setter) write(words string, left, right, top, size float64, bold bool, ink figure.Role) float64 {
	return s.lines(wrap(source.Shown(words), chars(right-left, size, bold)), left, top, size, bold, ink)
}

// balanced writes words in as few lines as there can be, all of about one length.
func (s *setter) balanced(words string, left, right, top, size float64, bold bool, ink figure.Role) float64 {
	shown := source.Shown(words)
	width := chars(right-left, size, bold)
	best := wrap(shown, width)
	for ; width > 1 && !splits(shown, width-1); width-- {
		narrower := wrap(shown, width-1)
		if len(narrower) > len(best) {
			break
		}
		best = narrower
	}
	return s.lines(best, left, top, size, bold, ink)
}

// lines sets lines under one another and returns how high they are.
func (s *setter) lines(lines []string, left, top, size float64, bold bool, ink figure.Role) float64 {
	y := top
	for _, line := range lines {
		s.texts = append(s.texts, figure.Text{At: figure.Point{X: left, Y: y + size}, Value: line, Size: size, Bold: bold, Ink: ink})
		y += lineHeight(size)
	}
	return y - top
}

// wrap breaks words into lines; a word longer than a line is broken as well. A figure
// keeps its unit.
func wrap(words string, width int) []string {
	var out []string
	line := []rune{}
	for _, word := range kept(words) {
		r := []rune(word)
		if len(line) > 0 && len(line)+1+len(r) > width {
			out, line = append(out, string(line)), nil
		}
		if len(line) > 0 {
			line = append(line, ' ')
		}
		for len(r) > width {
			out, r = append(out, string(r[:width])), r[width:]
		}
		line = append(line, r...)
	}
	if len(line) > 0 {
		out = append(out, string(line))
	}
	return out
}

// kept are the words, a figure together with what follows it.
func kept(words string) []string {
	var out []string
	for word := range strings.FieldsSeq(words) {
		if n := len(out) - 1; n >= 0 && strings.Trim(out[n], "-−.0123456789") == "" {
			out[n] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// splits reports whether a word is longer than a line.
func splits(words string, width int) bool {
	return slices.ContainsFunc(kept(words), func(word string) bool { return len([]rune(word)) > width })
}

// sign puts a signal word at a place and returns its width.
func (s *setter) sign(signal faulttree.Signal, left, top float64) float64 {
	w := signWidth(signal)
	box := figure.Box{Left: left, Top: top, Right: left + w, Bottom: top + signHeight}
	s.signs = append(s.signs, sign{box, signal})
	_, ink := signInks(signal)
	s.texts = append(s.texts, figure.Text{
		At: figure.Point{X: left + w/2, Y: top + signHeight/2 + 0.36*small}, Value: signal.Word(), Size: small, Bold: true, Anchor: figure.Middle, Ink: ink,
	})
	return w
}

func signWidth(signal faulttree.Signal) float64 {
	return wide(len(signal.Word()), small, true) + 24
}

// ring puts a number in a ring, its middle at a place.
func (s *setter) ring(n int, at figure.Point) {
	s.rings = append(s.rings, at)
	s.texts = append(s.texts, figure.Text{At: at.Add(0, 0.36*small), Value: number(n), Size: small, Bold: true, Anchor: figure.Middle, Ink: figure.Ink})
}

// stepBox is the box of a step, its corner at 0, 0.
func (g Graph) stepBox(i int, w widths) Box {
	n := g.Nodes[i]
	if w == slim {
		n.inWords()
	}
	cols := columnWidths(n)
	signs := 0.0
	for _, r := range n.Rows {
		if g.differs(r) && w != slim {
			signs = max(signs, signWidth(r.Signal)+pad)
		}
	}
	width := signs
	for _, c := range cols {
		width += c
	}
	width = max(width, w.box)
	s := setter{Box: Box{Node: i, Beside: -1}, y: pad, slim: w == slim}
	s.head(n, width)
	if n.Columns != nil {
		s.columns(n, cols, width)
	}
	for _, r := range n.Rows {
		s.row(n, r, cols, width, signs, g.differs(r))
	}
	s.Box.Box = figure.Box{Right: width, Bottom: s.y}
	return s.Box
}

// differs reports whether a row has a signal of its own to tell, which what it leads to
// does not show.
func (g Graph) differs(r Row) bool {
	return r.Signal != faulttree.NoSignal && r.Signal != g.Nodes[r.To].Signal
}

// inWords makes the table of n words.
func (n *Node) inWords() {
	n.Rows = slices.Clone(n.Rows)
	for i, r := range n.Rows {
		n.Rows[i].Words, n.Rows[i].Cells = n.Limit(r), nil
	}
	n.Columns = nil
}

// columnWidths is the room for each column of a table.
func columnWidths(n Node) []float64 {
	var out []float64
	for c, head := range n.Columns {
		most := wide(longest(head), small, true)
		for _, r := range n.Rows {
			if r.Cells != nil {
				most = max(most, wide(longest(r.Cells[c]), body, false))
			}
		}
		out = append(out, most+2*pad)
	}
	return out
}

// longest is the longest line of words broken as in a cell.
func longest(words string) int {
	most := 0
	for _, line := range wrap(words, cellChars) {
		most = max(most, len([]rune(line)))
	}
	return most
}

// head writes what stands above the rows: number, kind, title, what is measured.
func (s *setter) head(n Node, width float64) {
	left := 2*badge + 2*pad
	s.ring(n.Number, figure.Point{X: pad + badge, Y: pad + badge})
	kind := n.Kind.String()
	if n.For == faulttree.Qualified {
		kind += " · " + qualifiedOnly
	}
	if n.First {
		kind += " · the walk begins here"
	}
	switch {
	case n.Here:
		kind += " · you are here"
	case n.Walked:
		kind += " · on your way"
	case !n.Owner && n.For == faulttree.Owner:
		kind += " · " + qualifiedReach
	case n.Lone:
		kind += " · for a reading at hand"
	}
	marked := n.Here || n.Walked || n.For == faulttree.Qualified
	right := width - pad
	switch {
	case n.Signal == faulttree.NoSignal:
	case s.slim:
		s.sign(n.Signal, left, s.y)
		s.y += signHeight + 4
	default:
		right -= s.sign(n.Signal, right-signWidth(n.Signal), s.y) + pad
	}
	s.y += s.write(kind, left, right, s.y, small, marked, kindInk(marked))
	s.y = max(s.y, pad+signHeight*float64(len(s.signs)))
	if s.slim { // under the ring
		left, s.y = pad, max(s.y, pad+2*badge+2)
	}
	s.y += s.balanced(n.Title, left, width-pad, s.y, lead, true, figure.Ink)
	for _, ask := range n.Asks {
		s.y += s.write(ask, left, width-pad, s.y, small, false, figure.Soft)
	}
	s.y = max(s.y, 2*pad+2*badge) + pad
}

func kindInk(marked bool) figure.Role {
	if marked {
		return figure.Ink
	}
	return figure.Soft
}

// columns writes the heads of a table.
func (s *setter) columns(n Node, cols []float64, width float64) {
	s.across(width)
	x, high := 0.0, 0.0
	for c, head := range n.Columns {
		high = max(high, s.write(head, x+pad, x+cols[c]-pad+1, s.y+4, small, true, figure.Ink))
		x += cols[c]
	}
	s.y += high + 8
}

// across draws a faint line where the box stands.
func (s *setter) across(width float64) {
	s.rules = append(s.rules, rule{figure.Point{X: 0, Y: s.y}, figure.Point{X: width, Y: s.y}})
}

// row writes one exit.
func (s *setter) row(n Node, r Row, cols []float64, width, signs float64, differs bool) {
	s.across(width)
	top, high := s.y, signHeight-4
	ink := figure.Ink
	if r.Walked {
		ink = figure.Accent
	}
	if differs && s.slim {
		s.sign(r.Signal, pad, top+4)
		top, differs = top+signHeight+2, false
	}
	if r.Cells == nil {
		words := r.Words
		if r.Label != "" {
			words += ": " + r.Label
		}
		right := width - pad
		if differs {
			right -= signs
		}
		high = max(high, s.balanced(words, pad, right, top+4, body, r.Walked, ink))
	}
	x := 0.0
	for c, cell := range r.Cells {
		high = max(high, s.write(cell, x+pad, x+cols[c]-pad+1, top+4, body, r.Walked, ink))
		x += cols[c]
	}
	if differs {
		s.sign(r.Signal, width-signWidth(r.Signal)-pad/2, top+4)
		high = max(high, signHeight)
	}
	begin := s.y
	s.y = top + high + 8
	s.Rows = append(s.Rows, Band{begin, s.y})
}

// plate is what rows lead to, its corner at 0, 0.
func (g Graph) plate(i int, w widths) Box {
	n := g.Nodes[i]
	s := setter{Box: Box{Node: i}, y: 6}
	left, top, right := pad, s.y, w.plate-pad
	switch {
	case n.Number > 0:
		s.ring(n.Number, figure.Point{X: pad + badge, Y: 6 + badge})
		left += 2*badge + pad
	case n.Signal != faulttree.NoSignal && w == slim:
		s.sign(n.Signal, pad, top)
		s.y += signHeight + 3
	case n.Signal != faulttree.NoSignal:
		left += s.sign(n.Signal, pad, top) + pad
	}
	if n.Kind == Door {
		s.y += s.write("Walk: "+n.Walk, left, right, s.y, small, false, figure.Soft)
	}
	s.y += s.balanced(n.Title, left, right, s.y, body, n.Walked, figure.Ink)
	if !n.Owner {
		s.y += s.write(view.Capital(qualifiedReach), left, right, s.y, small, false, figure.Soft)
	}
	s.y = max(s.y, top+signHeight) + 6
	s.Box.Box = figure.Box{Right: w.plate, Bottom: s.y}
	return s.Box
}

// moved is b with its corner elsewhere.
func (b Box) moved(x, y float64) Box {
	move := func(o figure.Box) figure.Box {
		return figure.Box{Left: o.Left + x, Top: o.Top + y, Right: o.Right + x, Bottom: o.Bottom + y}
	}
	b.Box = move(b.Box)
	b.Rows, b.texts, b.signs, b.rules, b.rings = slices.Clone(b.Rows), slices.Clone(b.texts), slices.Clone(b.signs), slices.Clone(b.rules), slices.Clone(b.rings)
	for i := range b.Rows {
		b.Rows[i].Top, b.Rows[i].Bottom = b.Rows[i].Top+y, b.Rows[i].Bottom+y
	}
	for i := range b.texts {
		b.texts[i].At = b.texts[i].At.Add(x, y)
	}
	for i := range b.signs {
		b.signs[i].Box = move(b.signs[i].Box)
	}
	for i := range b.rules {
		b.rules[i] = rule{b.rules[i].from.Add(x, y), b.rules[i].to.Add(x, y)}
	}
	for i := range b.rings {
		b.rings[i] = b.rings[i].Add(x, y)
	}
	return b
}

// center is the middle of a box.
func (b Box) center() figure.Point {
	return figure.Point{X: (b.Left + b.Right) / 2, Y: (b.Top + b.Bottom) / 2}
}
