package figure

import (
	"fmt"
	"math"
	"strconv"
)

// Course is how one quantity read from time to time.
type Course struct {
	Title  string
	Unit   string // symbol
	Signed bool   // it can be below 0
	Points []CoursePoint
}

// CoursePoint is one reading of a course.
type CoursePoint struct {
	Label string  // when, in a few letters
	Value float64 // what was read, in the unit
	Off   float64 // by how much it can be off, to either side
	Text  string  // as it was read
	Over  bool    // over the meter's range: it has no value
}

// The measures of a course.
const (
	courseStep  = 108.0 // from one reading to the next
	courseLeft  = 70.0
	courseTop   = 34.0
	coursePlot  = 150.0 // height of the plot
	courseMost  = 6     // readings with words below them; of more every so many have them
	courseTicks = 4
	courseType  = 12.0
)

// Drawing draws a course: a dot for each reading with a bar for what it can be off by, and
// below it when and what was read. What is over the range stands at the upper edge as a
// cross. The line between dots says only in which order they were read.
func (c Course) Drawing() Drawing {
	n := len(c.Points)
	slots := min(max(n, 3), courseMost)
	wide := courseStep * float64(slots)
	d := Drawing{
		Width: courseLeft + wide + 14, Height: courseTop + coursePlot + 58,
		Title: c.Title, Description: c.words(),
	}
	p := pen{&d}
	low, high, tick := c.scale()
	y := func(v float64) float64 { return courseTop + coursePlot*(high-v)/(high-low) }
	x := func(i int) float64 {
		if n <= slots {
			return courseLeft + wide*(float64(i)+0.5)/float64(n)
		}
		return courseLeft + courseStep/2 + (wide-courseStep)*float64(i)/float64(n-1) // room for the words of the outer ones
	}
	for i := 0; ; i++ {
		v := low + float64(i)*tick
		if v > high+tick/100 {
			break
		}
		p.line(Line, 1, Point{courseLeft, y(v)}, Point{courseLeft + wide, y(v)})
		p.text(Point{courseLeft - 8, y(v) + 4}, End, courseType, Soft, amount(v, tick))
	}
	p.text(Point{8, courseTop - 16}, Start, courseType, Soft, c.Unit)
	var way []Point
	for i, point := range c.Points {
		if point.Over {
			p.line(Ink, 2, Point{x(i) - 5, courseTop - 5}, Point{x(i) + 5, courseTop + 5})
			p.line(Ink, 2, Point{x(i) - 5, courseTop + 5}, Point{x(i) + 5, courseTop - 5})
			continue
		}
		way = append(way, Point{x(i), y(point.Value)})
	}
	if len(way) > 1 {
		p.line(Soft, 1.5, way...)
	}
	every := (n + courseMost - 1) / courseMost
	for i, point := range c.Points {
		if !point.Over {
			p.line(Ink, 2, Point{x(i), y(point.Value + point.Off)}, Point{x(i), y(c.least(point))})
			p.disc(Point{x(i), y(point.Value)}, 4.5, Ink, Ink, 1)
		}
		if (n-1-i)%every == 0 { // the last always has its words
			below := courseTop + coursePlot
			p.bold(Point{x(i), below + 22}, Middle, courseType, Ink, point.Text)
			p.text(Point{x(i), below + 42}, Middle, courseType, Soft, point.Label)
		}
	}
	return d
}

// least is the least that a reading can mean.
func (c Course) least(p CoursePoint) float64 {
	if c.Signed {
		return p.Value - p.Off
	}
	return max(p.Value-p.Off, 0)
}

// words is a course in one sentence.
func (c Course) words() string {
	said := c.Title + ":"
	for i, p := range c.Points {
		if i > 0 {
			said += ","
		}
		said += " " + p.Label + " " + p.Text
	}
	return said + "."
}

// scale is the ends of the upright axis and the way between two of its marks. It holds
// every reading with what it can be off by, and 0 where that is not far.
func (c Course) scale() (low, high, tick float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range c.Points {
		if !p.Over {
			low, high = min(low, c.least(p)), max(high, p.Value+p.Off)
		}
	}
	if low > high { // nothing but OL
		low, high = 0, 1
	}
	if low > 0 && low < high/2 {
		low = 0
	}
	span := max(high-low, 1e-9, math.Abs(high)/1000)
	tick = math.Pow(10, math.Floor(math.Log10(span/courseTicks)))
	for _, m := range []float64{2, 2.5, 2} { // 1, 2, 5, 10
		if span/tick > courseTicks {
			tick *= m
		}
	}
	low, high = math.Floor(low/tick)*tick, math.Ceil(high/tick)*tick
	if high <= low {
		high = low + tick
	}
	return low, high, tick
}

// amount writes a mark of an axis with as many decimals as the way between two needs.
func amount(v, tick float64) string {
	decimals := max(0, int(math.Ceil(-math.Log10(tick)-1e-9)))
	if math.Abs(v) < tick/2 {
		v = 0
	}
	switch a := math.Abs(v); {
	case a >= 1e6:
		return fmt.Sprintf("%g M", v/1e6)
	case a >= 1e4:
		return fmt.Sprintf("%g k", v/1e3)
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}
