package look

import (
	"fmt"
	"math"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// RulerSegment is one branch of a step as a stretch of the ruler.
type RulerSegment struct {
	From, To float64 // along the bar, 0 to 1
	Label    string  // where it leads, in two or three words; may be ""
	Signal   faulttree.Signal
	Bounds   string // in words: "5 V to below 30 V"
}

// RulerTick is a limit under the bar.
type RulerTick struct {
	At   float64
	Text string
}

// RulerMarker is the reading on the bar, with its uncertainty.
type RulerMarker struct {
	At, Low, High float64 // along the bar, 0 to 1
	OverRange     bool    // the marker stands at the OL end
}

// RulerValue is a limit ruler as numbers, before anything is drawn: the
// branches of a step in order, and where the reading stands among them. It is
// linear between limits and compressed beyond the last one.
type RulerValue struct {
	Segments []RulerSegment
	Ticks    []RulerTick
	Marker   *RulerMarker // nil without a reading
	// Outlined is the segment to outline: where the uncertainty reaches over a
	// limit, the one the walk will take. -1 for none.
	Outlined int

	reading  string
	standing []int // the segments the reading may lie in
}

// RulerReading is a reading as the ruler needs it. Low and High are what the
// display showed, Span the same with the meter's uncertainty. Judged says that
// Taken is the index of the segment that the walk takes.
type RulerReading struct {
	Low, High faulttree.Amount
	Span      faulttree.Span
	OverRange bool
	Text      string // as shown to the reader, "41.5 V ±0.7"
	Judged    bool
	Taken     int
}

const (
	tailShare = 0.36 // of the bar beyond the last limit
	leastPart = 0.10 // of the bar for each segment between limits
)

// NewRulerValue lays out segments, and the reading r if it is not nil. Which of
// those touched is taken is for the engine to say: see [RulerReading]; without its
// word none is outlined.
func NewRulerValue(segments []faulttree.Segment, unit faulttree.Unit, r *RulerReading) RulerValue {
	v := RulerValue{Outlined: -1}
	s := newRulerScale(segments)
	for i, g := range segments {
		v.Segments = append(v.Segments, RulerSegment{
			From: s.edges[i], To: s.edges[i+1], Label: g.Label, Signal: g.Signal, Bounds: g.Span.Format(unit),
		})
		if g.Span.From != faulttree.Lowest {
			v.Ticks = append(v.Ticks, RulerTick{s.edges[i], tickText(g.Span.From, unit)})
		}
	}
	if n := len(segments); n > 0 {
		last := segments[n-1].Span.Below
		end := "OL"
		if last != faulttree.Highest {
			end = tickText(last, unit)
		}
		v.Ticks = append(v.Ticks, RulerTick{1, end})
	}
	if r != nil && len(segments) > 0 {
		v.mark(segments, s, *r)
	}
	return v
}

// tickText words a limit.
func tickText(a faulttree.Amount, u faulttree.Unit) string {
	if a == 0 {
		return "0"
	}
	return a.Written().With(u)
}

func (v *RulerValue) mark(segments []faulttree.Segment, s rulerScale, r RulerReading) {
	v.reading = r.Text
	if r.OverRange {
		v.Marker = &RulerMarker{At: 1, Low: 1, High: 1, OverRange: true}
		return
	}
	mid := r.Low + (r.High-r.Low)/2
	v.Marker = &RulerMarker{At: s.at(mid), Low: s.at(r.Span.From), High: s.at(r.Span.Below - 1)}
	for i, g := range segments {
		if g.Span.Overlaps(r.Span) {
			v.standing = append(v.standing, i)
		}
	}
	if len(v.standing) > 1 && r.Judged && r.Taken < len(segments) {
		v.Outlined = r.Taken
	}
}

// Words is the ruler as text: each stretch with where it leads, then the
// reading and what it touches.
func (v RulerValue) Words() string {
	parts := lists.Each(v.Segments, func(g RulerSegment) string { return g.Bounds + ": " + g.leads() })
	out := strings.Join(parts, "; ")
	if v.Marker == nil {
		return out
	}
	where := lists.Each(v.standing, func(i int) string { return v.Segments[i].Bounds })
	switch {
	case v.Marker.OverRange:
		return out + ". The meter shows OL, beyond its range."
	case len(where) == 0:
		return out
	case len(where) == 1:
		return fmt.Sprintf("%s. %s lies in %s.", out, v.reading, where[0])
	}
	taken := ""
	if v.Outlined >= 0 {
		taken = fmt.Sprintf("; %s is taken", v.Segments[v.Outlined].leads())
	}
	return fmt.Sprintf("%s. %s reaches over a limit: %s%s.", out, v.reading, strings.Join(where, " or "), taken)
}

func (g RulerSegment) leads() string {
	switch {
	case g.Label != "" && g.Signal >= faulttree.Warning:
		return g.Label + " (" + g.Signal.Word() + ")"
	case g.Label != "":
		return g.Label
	case g.Signal != faulttree.NoSignal:
		return g.Signal.Word()
	}
	return "go on"
}

// rulerScale maps amounts to the bar. Between its first and its last limit it
// is linear in each segment; beyond them it is compressed, so that the whole
// range of a meter fits.
type rulerScale struct {
	limits     []float64 // values of the inner edges, and of an outer one that is bounded
	edges      []float64 // where each segment begins, and where the last ends
	first      int       // edge index of limits[0]
	openBelow  bool
	reach      float64 // by how much beyond a limit the compressed part is half used up
	openAbove  bool
	tail, head float64 // shares of the compressed ends
}

func newRulerScale(segments []faulttree.Segment) rulerScale {
	n := len(segments)
	s := rulerScale{edges: make([]float64, n+1)}
	if n == 0 {
		return s
	}
	s.edges[n] = 1
	s.openBelow = segments[0].Span.From == faulttree.Lowest
	s.openAbove = segments[n-1].Span.Below == faulttree.Highest
	if s.openBelow {
		s.first = 1
	}
	for i := s.first; i < n; i++ {
		s.limits = append(s.limits, segments[i].Span.From.Float())
	}
	if !s.openAbove {
		s.limits = append(s.limits, segments[n-1].Span.Below.Float())
	}
	if len(s.limits) == 0 {
		s.reach = 1
		return s
	}
	for _, l := range s.limits {
		s.reach = max(s.reach, math.Abs(l))
	}
	if s.reach == 0 {
		s.reach = 1
	}
	s.divide(n)
	return s
}

// divide gives the segments between limits their shares of the bar: by size,
// but none less than leastPart.
func (s *rulerScale) divide(n int) {
	inner := len(s.limits) - 1 // segments with both edges bounded
	s.head, s.tail = 0, 0
	if s.openBelow {
		s.head = tailShare
	}
	if s.openAbove {
		s.tail = tailShare
	}
	if s.openBelow && s.openAbove {
		s.head, s.tail = tailShare*0.8, tailShare*0.8
	}
	if inner <= 0 { // only the compressed ends
		total := s.head + s.tail
		s.head, s.tail = s.head/total, s.tail/total
	}
	room := 1 - s.head - s.tail
	size := s.limits[len(s.limits)-1] - s.limits[0]
	least := min(leastPart, room/float64(max(inner, 1))*0.7)
	x := s.head
	for i := 0; i <= inner; i++ {
		s.edges[s.first+i] = x
		if i < inner {
			share := (s.limits[i+1] - s.limits[i]) / size
			x += least + share*(room-least*float64(inner))
		}
	}
	if s.openBelow {
		s.edges[0] = 0
	}
	s.edges[n] = 1
}

// at is the place of an amount on the bar, 0 to 1.
func (s rulerScale) at(a faulttree.Amount) float64 {
	if a == faulttree.Lowest {
		return 0
	}
	if a >= faulttree.Highest-1 {
		return 1
	}
	x := a.Float()
	if len(s.limits) == 0 { // signed and without limits: zero in the middle
		return 0.5 + math.Copysign(beyond(math.Abs(x), s.reach)/2, x)
	}
	if x < s.limits[0] {
		if !s.openBelow {
			return 0
		}
		return s.edges[1] * (1 - beyond(s.limits[0]-x, s.reach))
	}
	for i := 0; i+1 < len(s.limits); i++ {
		if x < s.limits[i+1] {
			from, to := s.edges[s.first+i], s.edges[s.first+i+1]
			return from + (to-from)*(x-s.limits[i])/(s.limits[i+1]-s.limits[i])
		}
	}
	last := s.edges[s.first+len(s.limits)-1]
	if !s.openAbove {
		return 1
	}
	return last + (1-last)*beyond(x-s.limits[len(s.limits)-1], s.reach)
}

// beyond goes from 0 at a limit towards 1 without end; it is one half where d
// equals reach.
func beyond(d, reach float64) float64 { return d / (d + reach) }
