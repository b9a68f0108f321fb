package look

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

func volts(s string) faulttree.Amount {
	a, err := faulttree.ParseAmount(s)
	if err != nil {
		panic(err)
	}
	return a
}

// body is a step with the limits 5 V and 30 V; the numbers only test drawing.
func body() []faulttree.Segment {
	return []faulttree.Segment{
		{Span: faulttree.Span{From: 0, Below: volts("5")}, Label: "nothing yet"},
		{Span: faulttree.Span{From: volts("5"), Below: volts("30")}, Signal: faulttree.Warning, Label: "look further"},
		{Span: faulttree.Span{From: volts("30"), Below: faulttree.Highest}, Signal: faulttree.Danger, Label: "stop, unplug"},
	}
}

func reading(low, high, err string) *RulerReading {
	l, h, e := volts(low), volts(high), volts(err)
	return &RulerReading{Low: l, High: h, Span: faulttree.Only(max(l-e, 0), h+e), Text: low + " V ±" + err}
}

func TestRulerStandsInOneSegment(t *testing.T) {
	v := NewRulerValue(body(), faulttree.VoltsAC, reading("41.5", "41.5", "1"))
	if v.Outlined != -1 {
		t.Errorf("outlined %d, want none: the reading is clear of every limit", v.Outlined)
	}
	if g := v.Segments[2]; v.Marker.Low <= g.From || v.Marker.High >= g.To {
		t.Errorf("whisker %v is not within %v", v.Marker, g)
	}
	if got, want := v.Words(), "41.5 V ±1 lies in 30 V and more."; !strings.HasSuffix(got, want) {
		t.Errorf("words %q, want the end %q", got, want)
	}
	ticks := lists.Each(v.Ticks, func(k RulerTick) string { return k.Text })
	if got := strings.Join(ticks, " "); got != "0 5 V 30 V OL" {
		t.Errorf("ticks %q", got)
	}
}

// Which side is taken is the engine's word; nothing is outlined without it.
func TestRulerOutlinesTheSideTaken(t *testing.T) {
	for _, c := range []struct {
		low  string
		want int
	}{{"29.6", 2}, {"30.0", 2}, {"4.6", 0}, {"4.6", 1}, {"5.4", 1}} {
		r := reading(c.low, c.low, "0.9")
		r.Judged, r.Taken = true, c.want
		v := NewRulerValue(body(), faulttree.VoltsAC, r)
		if v.Outlined != c.want {
			t.Errorf("%s V: outlined %d, want %d", c.low, v.Outlined, c.want)
		}
		if !strings.Contains(v.Words(), "reaches over a limit") {
			t.Errorf("%s V: words %q do not say so", c.low, v.Words())
		}
	}
	if v := NewRulerValue(body(), faulttree.VoltsAC, reading("29.6", "29.6", "0.9")); v.Outlined != -1 {
		t.Errorf("outlined %d without the engine's word", v.Outlined)
	}
}

func TestRulerOverRangeStandsAtTheEnd(t *testing.T) {
	v := NewRulerValue(body(), faulttree.VoltsAC, &RulerReading{OverRange: true, Text: "OL"})
	if v.Marker == nil || v.Marker.At != 1 || !strings.Contains(v.Words(), "OL") {
		t.Errorf("marker %+v, words %q", v.Marker, v.Words())
	}
}

func TestRulerWithoutSegmentsIsEmpty(t *testing.T) {
	if v := NewRulerValue(nil, faulttree.Ohms, reading("1", "1", "0.1")); v.Marker != nil || v.Words() != "" {
		t.Errorf("%+v", v)
	}
}

func TestRulerInclusiveLimitIsWordedWhole(t *testing.T) {
	v := NewRulerValue([]faulttree.Segment{
		{Span: faulttree.Only(0, volts("0.3")), Label: "continuous"},
		{Span: faulttree.Span{From: volts("0.3") + 1, Below: faulttree.Highest}, Signal: faulttree.Danger},
	}, faulttree.Ohms, nil)
	if v.Ticks[1].Text != "0.3 Ω" {
		t.Errorf("tick %q", v.Ticks[1].Text)
	}
}

// The bar is covered from end to end without gaps, every segment can be seen,
// and a larger reading never stands further left.
func TestRulerScaleIsMonotonous(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "segments")
		signed := rapid.Bool().Draw(t, "signed")
		cut := faulttree.Amount(0)
		if signed {
			cut = faulttree.Lowest
		}
		var segments []faulttree.Segment
		limit := faulttree.Amount(0)
		for i := range n {
			limit += faulttree.Amount(rapid.Int64Range(1, 300).Draw(t, "step")) * faulttree.One / 10
			to := limit
			if i == n-1 {
				to = faulttree.Highest
			}
			segments = append(segments, faulttree.Segment{Span: faulttree.Span{From: cut, Below: to}})
			cut = to
		}
		v := NewRulerValue(segments, faulttree.VoltsDC, nil)
		x := 0.0
		for i, g := range v.Segments {
			if math.Abs(g.From-x) > 1e-9 || g.To-g.From < 0.03 {
				t.Fatalf("segment %d from %v to %v, after %v", i, g.From, g.To, x)
			}
			x = g.To
		}
		if math.Abs(x-1) > 1e-9 {
			t.Fatalf("bar ends at %v", x)
		}
		s := newRulerScale(segments)
		a := faulttree.Amount(rapid.Int64Range(-500, 4000).Draw(t, "a")) * faulttree.One / 10
		b := a + faulttree.Amount(rapid.Int64Range(0, 4000).Draw(t, "more"))*faulttree.One/10
		if p, q := s.at(a), s.at(b); p > q+1e-9 || p < 0 || q > 1 {
			t.Fatalf("%v at %v, %v at %v", a, p, b, q)
		}
		for i, g := range segments { // a reading is drawn in the segment that holds it
			if at := s.at(a); g.Span.Contains(a) && (at < v.Segments[i].From-1e-9 || at > v.Segments[i].To+1e-9) {
				t.Fatalf("%v drawn at %v, outside %+v", a, at, v.Segments[i])
			}
		}
	})
}

func TestTagsNeverOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := float32(rapid.IntRange(50, 900).Draw(t, "length"))
		var tags []tag
		for range rapid.IntRange(0, 9).Draw(t, "n") {
			tags = append(tags, tag{
				centre: float32(rapid.IntRange(0, int(length)).Draw(t, "centre")),
				width:  float32(rapid.IntRange(0, 200).Draw(t, "width")),
				rank:   rapid.IntRange(0, 3).Draw(t, "rank"),
			})
		}
		spots := placeTags(tags, length, 6)
		for i, a := range spots {
			if a.shown && (a.x < 0 || a.x+tags[i].width > length) {
				t.Fatalf("tag %d sticks out: %+v", i, a)
			}
			for j, b := range spots[:i] {
				if a.shown && b.shown && a.row == b.row && a.x < b.x+tags[j].width && b.x < a.x+tags[i].width {
					t.Fatalf("tags %d and %d overlap", i, j)
				}
			}
		}
	})
}
