package shorthand

import (
	"regexp"
	"strings"
	"unicode"

	"faultwright/content/contact"
)

// sentence is a line that has figures, being cut into readings.
type sentence struct {
	*parser
	line
	figures []figure
	rows    []Row
	site    string // said before a pair, for those behind it that name no place
	state   words  // likewise
	told    bool   // said in a header for the whole line
	from    int    // where the next row's text begins
}

// read cuts the line and adds its rows, or one row of text if none of its
// figures belongs to a pair.
func (s *sentence) read() {
	before := len(s.list.Blocks)
	if s.figuresFirst() {
		s.readFiguresFirst()
	} else {
		s.readLabelsFirst()
	}
	if len(s.rows) == 0 {
		s.asText(before)
		return
	}
	for _, row := range s.rows {
		if s.list.Rows = append(s.list.Rows, row); len(s.list.Rows) > mostRows {
			s.list.Rows = s.list.Rows[:mostRows]
			if s.over == nil {
				s.over = &row
			}
		}
	}
}

// asText adds the whole line as text, or as the figure of the pair above it.
func (s *sentence) asText(blocks int) {
	s.list.Blocks = s.list.Blocks[:blocks]
	text, column := s.typed(0, len(s.text))
	around := s.parser.read(s.text[:s.figures[0].start] + ";" + s.text[s.figures[0].end:])
	if s.pending != nil && len(s.figures) == 1 && !around.strange && around.Contacts() == 0 {
		row := *s.pending
		s.pending = nil
		row.Text += "\n" + text
		row.take(s.figures[0], around)
		s.add(row)
		return
	}
	s.leavePending()
	s.add(Row{Line: s.number, Column: column, Text: text})
}

// take gives a row its figure, with what was said around it.
func (row *Row) take(f figure, note words) {
	row.Typed = f.text
	row.Doubtful = row.Doubtful || note.doubtful || row.said.doubtful
	row.Told = row.Told || note.told || row.said.told
	if f.symbol != "" {
		row.said.unit = f.symbol
	} else if note.unit != "" {
		row.said.unit = note.unit
	}
}

// gap is the text between the figures before and behind: gap(0) stands before
// the first.
func (s *sentence) gap(i int) (start, end int) {
	end = len(s.text)
	if i > 0 {
		start = s.figures[i-1].end
	}
	if i < len(s.figures) {
		end = s.figures[i].start
	}
	return start, end
}

// figuresFirst reports whether each figure is followed by a pair, or each by
// one point, and none stands before the first: "59 L1-N, 177 L2-N".
func (s *sentence) figuresFirst() bool {
	start, end := s.gap(0)
	if _, rest := s.cutHeader(start, end); s.parser.read(s.text[rest:end]).Contacts() > 0 {
		return false
	}
	points := 0
	for i := range s.figures {
		start, end := s.gap(i + 1)
		n := s.parser.read(s.text[start:end]).Contacts()
		if n == 0 || n > 2 || i > 0 && n != points {
			return false
		}
		points = n
	}
	return true
}

func (s *sentence) readFiguresFirst() {
	start, end := s.gap(0)
	if w := s.parser.read(s.text[s.header(start, end):end]); !w.empty {
		s.told = s.told || w.told
		s.site = w.Site
		if w.stated() {
			s.state = w
		}
	}
	for i, f := range s.figures {
		start, end := s.gap(i + 1)
		w := s.parser.read(s.text[start:end])
		s.addRow(f, w, words{}, end)
	}
}

func (s *sentence) readLabelsFirst() {
	start, end := s.gap(0)
	for i, f := range s.figures {
		labelStart := s.header(start, end)
		w := s.label(labelStart, end)
		if w.empty && labelStart > start { // "battery: 12.4"
			w.Site = s.block().said.Site
		}
		noteEnd, next := s.splitGap(i + 1)
		if to := s.otherPoint(f.end); to > noteEnd && (w.Contacts() == 1 || w.empty && len(s.rows) > 0) { // "hot 118 to neutral, 59 to ground"
			w = s.parser.read(s.text[labelStart:end] + " " + s.text[f.end:to])
			noteEnd, next = f.end, to
		}
		note := s.parser.read(s.text[f.end:noteEnd])
		if !s.belongs(&w, f) {
			_, end = s.gap(i + 1) // the figure is of something else: read on
			if next > noteEnd {
				start = next
			}
			continue
		}
		last := i == len(s.figures)-1
		if aside := s.afterMark(f.end); last && aside < noteEnd && s.notUnderstood(s.text[aside:noteEnd]) {
			s.addRow(f, w, note, aside)
			s.addRest()
			s.from = next
		} else {
			s.addRow(f, w, note, next)
		}
		if last {
			s.withoutFigures(next)
		}
		start = next
		_, end = s.gap(i + 1)
	}
	s.addRest()
}

// label reads a label. What stands before a colon is no part of the pair that
// stands behind it: "after tightening the neutral: L1-N".
func (s *sentence) label(start, end int) words {
	w := s.parser.read(s.text[start:end])
	if at := strings.LastIndexByte(s.text[start:end], ':'); at >= 0 && w.Contacts() > 0 {
		if behind := s.parser.read(s.text[start+at : end]); behind.Contacts() == 2 && !behind.Unknown {
			behind.told, behind.doubtful, behind.elsewhere = w.told, w.doubtful, w.elsewhere
			return behind
		}
	}
	return w
}

// otherPoint is where the words end that name the other point behind a figure,
// "to neutral"; 0 if none do.
func (s *sentence) otherPoint(start int) int {
	end := len(s.text)
	if at := parting.FindStringIndex(s.text[start:]); at != nil {
		end = start + at[0]
	}
	for _, f := range s.figures {
		if f.start > start {
			end = min(end, f.start)
		}
	}
	if w := s.parser.read(s.text[start:end]); w.to && w.Contacts() == 1 {
		return end
	}
	return 0
}

// belongs reports whether words are the label of a figure: they name points,
// or take up the pair of the row before.
func (s *sentence) belongs(w *words, f figure) bool {
	var last words
	if len(s.rows) > 0 {
		last = s.rows[len(s.rows)-1].said
	}
	switch {
	case w.Contacts() > 0 && !(w.to && w.Contacts() == 1), w.Unknown, w.Site == "meter":
		return true
	case w.placed() && s.size(f):
		return false
	case w.Contacts() == 0 && directPlace[w.Site] && !w.strange:
		w.Points = []contact.Point{{Contact: contact.Pos, Place: w.Site}, {Contact: contact.Neg, Place: w.Site}}
		return true
	case w.to && w.Contacts() == 1 && len(last.Points) == 2: // "hot to neutral 118, to ground 59"
		w.Points = []contact.Point{last.Points[0], w.Points[0]}
		return true
	case w.Contacts() == 0 && !w.strange && last.Contacts() > 0:
		site := w.Site
		w.Points = last.Points
		if site != "" { // "L1-N: pedestal 121, panel 59"
			w.Points = unplaced(last.Points)
		} else {
			w.Site = last.Site
		}
		return true
	}
	return w.placed() && !w.strange
}

// size reports whether a figure beside a place is its size or its number:
// "50 A pedestal", "pedestal 2: ".
func (s *sentence) size(f figure) bool {
	return ratings.MatchString(f.text) || strings.HasPrefix(s.text[f.end:], ":")
}

var ratings = regexp.MustCompile(`(?i)^(?:15|20|30|50|100|200) ?-?(?:A|amps?)$`)

// addRest adds what stands behind the last reading, where no row has it.
func (s *sentence) addRest() {
	if len(s.rows) == 0 {
		return
	}
	if text, column := s.typed(s.from, len(s.text)); text != "" {
		s.rows = append(s.rows, Row{Line: s.number, Column: column, Text: text, Block: len(s.list.Blocks) - 1})
	}
}

// unplaced is points without their places.
func unplaced(points []contact.Point) []contact.Point {
	out := make([]contact.Point, len(points))
	for i, p := range points {
		out[i].Contact = p.Contact
	}
	return out
}

var (
	mark        = regexp.MustCompile(`^ *\(?\?+\)?`)
	parenthesis = regexp.MustCompile(`^ *\([^()]*\)`)
	parting     = regexp.MustCompile(`[,;]|\. `)
)

// notUnderstood reports whether words behind the last reading stay as text, so that
// nothing that was told is lost: "lamps too bright". What has a figure, such as what
// was expected, tells nothing of the vehicle.
func (s *sentence) notUnderstood(note string) bool {
	return !strings.ContainsFunc(note, unicode.IsDigit) && s.parser.read(note).strange
}

// afterMark is where a mark of doubt and a parenthesis end that stand at start.
func (s *sentence) afterMark(start int) int {
	for _, form := range []*regexp.Regexp{mark, parenthesis} {
		if at := form.FindStringIndex(s.text[start:]); at != nil {
			start += at[1]
		}
	}
	return start
}

// splitGap parts what stands behind figure i-1 into a note on it and the label
// of the next: the note ends at a mark of doubt or a parenthesis, or, where
// something parts them, before the part with the points.
func (s *sentence) splitGap(i int) (noteEnd, next int) {
	start, end := s.gap(i)
	noteEnd = min(s.afterMark(start), end)
	rest := s.text[noteEnd:end]
	if i == len(s.figures) && s.parser.read(rest).Contacts() == 0 {
		return end, end
	}
	if at := parting.FindStringIndex(rest); at != nil && s.parser.read(rest[:at[0]]).Contacts() == 0 {
		return noteEnd + at[0], noteEnd + at[1]
	}
	return noteEnd, noteEnd
}

// withoutFigures adds rows for the pairs behind the last reading, which have
// none.
func (s *sentence) withoutFigures(start int) {
	for start < len(s.text) {
		end := len(s.text)
		next := end
		if at := parting.FindStringIndex(s.text[start:]); at != nil {
			end, next = start+at[0], start+at[1]
		}
		w := s.parser.read(s.text[start:end])
		if w.Contacts() == 2 {
			s.addRow(figure{start: end, end: end}, w, words{}, next)
		} else if last := len(s.rows) - 1; w.Contacts() == 1 {
			s.rows[last].refuse("“" + strings.TrimSpace(s.text[start:end]) + "” behind the reading is not understood. Write the two points before the reading.")
		}
		start = next
	}
}

// cutHeader finds where the label begins behind what is said before a colon.
func (s *sentence) cutHeader(start, end int) (header words, rest int) {
	rest = start
	for at := start; at < end; at++ {
		if s.text[at] != ':' {
			continue
		}
		w := s.parser.read(s.text[start:at])
		if w.Contacts() > 0 {
			break
		}
		if w.header() && !w.Unknown {
			header, rest = w, at+1
		}
	}
	return header, rest
}

// header opens a block where the text before a label says one, and gives where
// the label begins.
func (s *sentence) header(start, end int) (label int) {
	w, label := s.cutHeader(start, end)
	if label == start {
		return label
	}
	s.told = s.told || w.told
	if w.told = false; w.header() { // who read it is said for the line alone
		text, _ := s.typed(start, label)
		s.open(text, w)
		s.site, s.state = "", words{}
	}
	return label
}

// addRow adds the reading f under a label, with a note behind it. Its text ends
// before next.
func (s *sentence) addRow(f figure, w, note words, next int) {
	s.leavePending()
	text, column := s.typed(s.from, next)
	row := Row{Line: s.number, Column: column, Text: text, Block: len(s.list.Blocks) - 1, Pair: pairOf(w), said: w, Told: s.told}
	s.carry(&row, note)
	s.from = next
	row.take(f, note)
	switch {
	case row.Kind == Refused:
	case f.text == "":
		row.refuse(noReading)
	case contact.Denied(s.text[:f.start]):
		row.refuse("The words say that this was not read.")
	}
	s.rows = append(s.rows, row)
}

// carry gives a row the place and the state that were said for it: beside it,
// in the note behind it, or before a pair of the same line.
func (s *sentence) carry(row *Row, note words) {
	w := &row.said
	switch {
	case note.Contacts() > 0 || note.Unknown:
		row.refuse("It is not clear what the words behind the reading belong to. Begin a new line after each reading.")
	case note.placed() && w.placed() && note.Site != w.Site, note.stated() && w.stated():
		row.refuse("Two places or two states are said around this reading. Begin a new line after each reading.")
	case s.unclear(w):
		row.refuse("The place or the state may belong to the reading before or to this one. Put a comma or a new line between them.")
	}
	if w.placed() {
		s.site = w.Site
	} else if w.Site = s.site; note.placed() {
		w.Site = note.Site
	}
	if w.stated() {
		s.state = *w
	} else if w.Conditions, w.LoadsOff = s.state.Conditions, s.state.LoadsOff; note.stated() {
		w.Conditions, w.LoadsOff = note.Conditions, note.LoadsOff
	}
	w.elsewhere = w.elsewhere || note.elsewhere
}

// unclear reports whether a place or a state that stands between two readings,
// with nothing to part it from the first, may belong to either.
func (s *sentence) unclear(w *words) bool {
	if len(s.rows) == 0 || w.Contacts() == 0 {
		return false
	}
	before := strings.TrimRight(s.text[:s.from], " ")
	if before == "" || strings.ContainsAny(before[len(before)-1:], ",;.)") {
		return false
	}
	b := s.block()
	return w.placed() && s.site == "" && !b.said.placed() || w.stated() && !s.state.stated() && !b.said.stated()
}

// refuse says why a row is no quantity, whatever is answered.
func (row *Row) refuse(why string) { row.Kind, row.Why, row.fixed = Refused, why, true }
