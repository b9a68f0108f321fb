package figure

import (
	"math"
	"slices"
	"strings"

	"faultwright/faulttree/rig"
)

// touched reports whether a column has test points.
func (pl *planner) touched(c int) bool {
	for node := range pl.present {
		if pl.column(node) == c && pl.points(node) {
			return true
		}
	}
	return false
}

// labelRoom is the room a column keeps free of parts at its left, for the
// voltages of its test points.
func (pl *planner) labelRoom(c int) float64 {
	if pl.touched(c) && len(pl.lanes[c]) > 0 {
		return olLabel
	}
	return 12
}

// columnWidth is how wide a column is.
func (pl *planner) columnWidth(c int) float64 {
	if len(pl.lanes[c]) == 0 {
		if !pl.touched(c) {
			return 0
		}
		return olBus
	}
	sum := pl.labelRoom(c)
	for _, w := range pl.lanes[c] {
		sum += w
	}
	return sum
}

// gapAfter is the room behind a column: enough for the symbols in it, for the
// voltages that reach into it, and for the title.
func (pl *planner) gapAfter(c int) float64 {
	gap := olClose
	for _, p := range pl.parts {
		a, b := pl.column(p.A), pl.column(p.B)
		if a >= 0 && b >= 0 && a != b && max(a, b) == c+1 && (p.Kind != rig.Conductor && (p.Kind != rig.Joint || p.Switch != "")) {
			gap = olGap
		}
	}
	if pl.touched(c) && len(pl.lanes[c]) == 0 {
		gap = max(gap, olLabel-olBus+2)
	}
	title := Text{Value: pl.titleOf(c), Size: 12}.Bounds()
	return max(gap, (title.Right-title.Left)*0.95-pl.columnWidth(c)+8)
}

// titleOf words a column: "adapter.out" is "adapter out". Groups that are no
// column of the rig have no title.
func (pl *planner) titleOf(c int) string {
	g := pl.groups[c]
	if g == "body" || !pl.touched(c) && (!slices.Contains(pl.listed, g) || strings.Contains(g, "-")) {
		return ""
	}
	return strings.ReplaceAll(GroupWord(g), ".", " ")
}

// dealBands deals the columns out to bands that fit into a width, and
// stretches each to fill it.
func (pl *planner) dealBands(width float64) {
	all := olLeft + 14
	for c := range pl.groups {
		all += pl.columnWidth(c) + pl.gapAfter(c)
	}
	room := width * 1.08
	if all <= width*pl.rows.shrink {
		room = all
	}
	var bands [][]int
	x := math.Inf(1)
	for c := range pl.groups {
		w := pl.columnWidth(c)
		if x+w > room {
			bands = append(bands, nil)
			x = olLeft + 28
		}
		bands[len(bands)-1] = append(bands[len(bands)-1], c)
		x += w + pl.gapAfter(c)
	}
	top := 0.0
	for _, columns := range bands {
		b := pl.band(columns, top, min(width, room))
		pl.o.bands = append(pl.o.bands, b)
		pl.o.width = max(pl.o.width, b.right+12)
		top = pl.footOf(b) + 26
	}
	pl.o.height = top - 14
}

func (pl *planner) footOf(b olBand) float64 {
	foot := b.rows[len(b.rows)-1].y + 36
	for _, bar := range b.bars {
		foot = max(foot, bar.y+24)
	}
	return foot
}

// band sets one line of columns.
func (pl *planner) band(columns []int, top, width float64) olBand {
	b := olBand{top: top, left: olLeft}
	first, last := len(pl.o.bands) == 0, columns[len(columns)-1] == len(pl.groups)-1
	natural := olLeft + 24
	if !first {
		natural += olClose
	}
	for _, c := range columns {
		natural += pl.columnWidth(c) + pl.gapAfter(c)
	}
	more := min(max(width-natural, 0)/float64(len(columns)), 26)
	x := olLeft + 14
	if !first {
		x += olClose + more
	}
	for _, c := range columns {
		w := pl.columnWidth(c)
		column := olColumn{index: c, title: pl.titleOf(c), x0: x, x1: x + w}
		lane := x + pl.labelRoom(c)
		for _, l := range pl.lanes[c] {
			column.lanes = append(column.lanes, lane+min(l/2, 16))
			lane += l
		}
		b.columns = append(b.columns, column)
		x += w + pl.gapAfter(c) + more
	}
	b.right = x - 10
	if last {
		c := b.columns[len(b.columns)-1]
		b.right = max(c.x1+10, c.x0+olLabel)
	}
	y, step := top+pl.rows.head, pl.rows.tight
	if slices.ContainsFunc(pl.hung, func(h hanging) bool { return slices.Contains(columns, h.column) && h.upper < len(pl.wires) }) {
		step = pl.rows.wire
	}
	if !slices.ContainsFunc(columns, func(c int) bool { return pl.grouped(pl.groups[c]) }) {
		step, y = pl.rows.ground, top+20
	}
	for row, wire := range pl.wires {
		used := pl.rowIn(row, columns)
		b.rows = append(b.rows, olRow{wire: wire, y: y, used: used})
		if used {
			y += step
		}
	}
	pl.setBars(&b, columns, y+pl.rows.ground-step)
	return b
}

// rowIn reports whether anything stands on a row in these columns, or passes.
func (pl *planner) rowIn(row int, columns []int) bool {
	first, last := columns[0], columns[len(columns)-1]
	for _, c := range columns {
		if len(pl.inColumn(c, row)) > 0 {
			return true
		}
	}
	return slices.ContainsFunc(pl.parts, func(p rig.Part) bool {
		a, b := pl.column(p.A), pl.column(p.B)
		from := pl.row(p.A)
		if a > b {
			from = pl.row(p.B)
		}
		return a >= 0 && b >= 0 && a != b && from == row && min(a, b) < first && max(a, b) >= first && max(a, b) <= last
	})
}

// setBars sets the bars of a band from a height on; bars that do not meet
// share a height, and the soil lies lowest.
func (pl *planner) setBars(b *olBand, columns []int, y float64) {
	depth := 0
	for _, node := range pl.bars {
		if !pl.barIn(node, columns) {
			continue
		}
		bar := olBar{node: node, x0: math.Inf(1), x1: math.Inf(-1)}
		for _, h := range pl.hung {
			for _, c := range b.columns {
				if c.index == h.column && (h.part.A == node || h.part.B == node) {
					x := c.lanes[h.lane]
					bar.x0, bar.x1 = min(bar.x0, x-22), max(bar.x1, x+22)
				}
			}
		}
		level := 0
		if node == "0" {
			level = depth
		}
		for slices.ContainsFunc(b.bars, func(o olBar) bool {
			return o.level == level && o.x0 < bar.x1+60 && bar.x0 < o.x1+60
		}) {
			level++
		}
		bar.level, bar.y = level, y+pl.rows.ground*float64(level)
		depth = max(depth, level+1)
		b.bars = append(b.bars, bar)
	}
}

// barIn reports whether a part hangs on a bar in one of these columns.
func (pl *planner) barIn(bar string, columns []int) bool {
	return slices.ContainsFunc(pl.hung, func(h hanging) bool {
		return (h.part.A == bar || h.part.B == bar) && slices.Contains(columns, h.column)
	})
}

// find is the band and the column in it of a group.
func (pl *planner) find(column int) (band, place int) {
	for i, b := range pl.o.bands {
		for k, c := range b.columns {
			if c.index == column {
				return i, k
			}
		}
	}
	return 0, 0
}

// yOf is the height of a row or bar in a band.
func (pl *planner) yOf(b olBand, row int) float64 {
	if row < len(pl.wires) {
		return b.rows[row].y
	}
	for _, bar := range b.bars {
		if bar.node == pl.bars[row-len(pl.wires)] {
			return bar.y
		}
	}
	return b.top
}

// placeNodes gives every node its spot, from the supply to the vehicle and
// downwards; bars come last.
func (pl *planner) placeNodes() {
	for i := range pl.o.bands {
		b := &pl.o.bands[i]
		for j := range b.bars { // room for its name
			pl.o.width = max(pl.o.width, b.bars[j].x1+56)
		}
		for _, c := range b.columns {
			for row := range b.rows {
				r := b.rows[row]
				for _, node := range pl.inColumn(c.index, row) {
					_, wire := splitNode(node)
					pl.add(olNode{name: node, at: Point{c.x0, r.y}, x1: c.x1, wire: wire, probe: pl.points(node)})
				}
			}
		}
	}
	for _, b := range pl.o.bands {
		for _, bar := range b.bars {
			pl.add(olNode{name: bar.node, at: Point{bar.x0, bar.y}, x1: bar.x1, bar: true, probe: pl.points(bar.node)})
		}
	}
}

func (pl *planner) add(n olNode) {
	if _, there := pl.o.at[n.name]; !there {
		pl.o.at[n.name] = len(pl.o.nodes)
	}
	pl.o.nodes = append(pl.o.nodes, n)
}

// inColumn lists the nodes of a column on a row; there is one, as a rule.
func (pl *planner) inColumn(column, row int) []string {
	var out []string
	for node := range pl.present {
		if pl.column(node) == column && pl.row(node) == row {
			out = append(out, node)
		}
	}
	slices.Sort(out)
	return out
}

// placeParts draws every part's way between its nodes.
func (pl *planner) placeParts() {
	for _, h := range pl.hung {
		i, k := pl.find(h.column)
		b := pl.o.bands[i]
		x := b.columns[k].lanes[h.lane]
		u := olUpright{part: h.part, down: h.down, ink: Ink}
		u.top, u.foot = Point{x, pl.yOf(b, h.upper)}, Point{x, pl.yOf(b, h.foot)}
		if h.part.Kind == rig.Joint || h.part.Kind == rig.Conductor {
			u.ink = Ground
		}
		pl.o.upright = append(pl.o.upright, u)
	}
	for _, p := range pl.parts {
		a, b := pl.column(p.A), pl.column(p.B)
		if a < 0 || b < 0 || a == b {
			continue
		}
		pl.o.level = append(pl.o.level, pl.levelPart(p, a, b))
	}
	slices.SortStableFunc(pl.o.level, func(a, b olLevel) int {
		if a.row != b.row {
			return a.row - b.row
		}
		ax, bx := a.mid.X+10000*math.Floor(a.mid.Y/400), b.mid.X+10000*math.Floor(b.mid.Y/400)
		return int(ax - bx)
	})
}

// levelPart leads a part along its row, below the columns in between that have
// a node of their own on that row.
func (pl *planner) levelPart(p rig.Part, a, b int) olLevel {
	_, wire := splitNode(p.A)
	l := olLevel{part: p, forward: a < b, ink: rowInk(wire), row: pl.row(p.A)}
	from, to, rowFrom, rowTo := a, b, pl.row(p.A), pl.row(p.B)
	if !l.forward {
		from, to, rowFrom, rowTo = b, a, rowTo, rowFrom
	}
	i, k := pl.find(from)
	j, m := pl.find(to)
	if i == j {
		band := pl.o.bands[i]
		way, mid := pl.along(band, k, m, rowFrom, rowTo)
		l.pieces, l.mid = [][]Point{way}, mid
		return l
	}
	first, second := pl.o.bands[i], pl.o.bands[j]
	out, mid := pl.along(first, k, len(first.columns), rowFrom, rowFrom)
	in, _ := pl.along(second, -1, m, rowFrom, rowTo)
	l.pieces, l.mid = [][]Point{out, in}, mid
	return l
}

// along is the way from column k to column m of a band, and the middle of its
// last gap, where a symbol stands; k may be -1, the left edge, and m the number
// of columns, the right edge.
func (pl *planner) along(b olBand, k, m, rowFrom, rowTo int) (way []Point, mid Point) {
	x0, x1 := b.left, b.right
	if k >= 0 {
		x0 = b.columns[k].x1
	}
	if m < len(b.columns) {
		x1 = b.columns[m].x0
	}
	gap := x0
	if m-1 > k {
		gap = b.columns[m-1].x1
	}
	y0, y1 := pl.yOf(b, rowFrom), pl.yOf(b, rowTo)
	way = []Point{{x0, y0}}
	first, last := -1, -1 // columns in the way
	for c := k + 1; c < m; c++ {
		if len(pl.inColumn(b.columns[c].index, rowFrom)) > 0 {
			if first < 0 {
				first = c
			}
			last = c
		}
	}
	if first >= 0 {
		const below, slope = 24.0, 10.0
		in, out := b.columns[first].x0-6, b.columns[last].x1+6
		way = append(way, Point{in - slope, y0}, Point{in, y0 + below}, Point{out, y0 + below}, Point{out + slope, y0})
		gap = max(gap, out+slope)
	}
	if y0 != y1 { // across in the last gap
		way = append(way, Point{gap + 6, y0}, Point{x1 - 6, y1})
	}
	return append(way, Point{x1, y1}), Point{(gap + x1) / 2, (y0 + y1) / 2}
}
