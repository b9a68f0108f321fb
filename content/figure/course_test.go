package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

func course(values ...float64) Course {
	c := Course{Title: "Pedestal: neutral to ground", Unit: "V", Signed: slices.Min(values) < 0}
	for i, v := range values {
		c.Points = append(c.Points, CoursePoint{Label: fmt.Sprintf("%d Sep 26", i+11), Value: v, Off: 0.02*math.Abs(v) + 0.01, Text: fmt.Sprintf("%g V", v)})
	}
	return c
}

// Courses of all sizes are legible, and every dot and bar lies between the ends of the axis.
func TestCoursesAreLegible(t *testing.T) {
	many := make([]float64, 60)
	for i := range many {
		many[i] = float64(i * i)
	}
	over := course(1.5e6, 0, 2e6)
	over.Points[1].Over, over.Points[1].Text = true, "OL"
	nothing := over
	nothing.Points = over.Points[1:2]
	for name, c := range map[string]Course{
		"rising": course(0.4, 0.5, 1.9), "one": course(0.4), "same": course(120, 120, 120), "zero": course(0, 0),
		"minus": course(-12.6, 12.6), "many": course(many...), "close": course(119.8, 119.9, 120.1), "small": course(0.001, 0.002),
		"over": over, "nothing but over": nothing, "none": {Title: "None", Unit: "V"},
	} {
		d := c.Drawing()
		legible(t, name, d)
		for _, item := range d.Items {
			if dot, ok := item.(Circle); ok && (dot.Center.Y < courseTop-1 || dot.Center.Y > courseTop+coursePlot+1) {
				t.Errorf("%s: a dot at %v is outside of the plot", name, dot.Center)
			}
		}
		low, high, tick := c.scale()
		if low < 0 && !c.Signed {
			t.Errorf("%s: the axis begins at %v, and nothing can be below 0", name, low)
		}
		if marks := (high - low) / tick; marks < 1 || marks > 2*courseTicks || math.IsNaN(marks) {
			t.Errorf("%s: from %v to %v by %v", name, low, high, tick)
		}
	}
}

// A higher reading stands higher, and the words say them all in order.
func TestCourseRises(t *testing.T) {
	d := course(0.4, 0.5, 1.9).Drawing()
	var heights []float64
	for _, item := range d.Items {
		if dot, ok := item.(Circle); ok {
			heights = append(heights, dot.Center.Y)
		}
	}
	if len(heights) != 3 || heights[0] <= heights[1] || heights[1] <= heights[2] {
		t.Errorf("the dots stand at %v", heights)
	}
	if want := "Pedestal: neutral to ground: 11 Sep 26 0.4 V, 12 Sep 26 0.5 V, 13 Sep 26 1.9 V."; d.Description != want {
		t.Errorf("in words it is %q", d.Description)
	}
	if svg := SVG(d, Light()); !strings.Contains(svg, "1.9 V") {
		t.Error("the picture lacks the last reading")
	}
}
