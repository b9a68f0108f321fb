package figure

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"faultwright/faulttree"
)

func TestSVGIsWellFormed(t *testing.T) {
	every(t, func(name string, q faulttree.Quantity, d Drawing) { wellFormed(t, name, SVG(d, Light())) })
	hostile := Drawing{Width: 10, Height: 10, Title: "\"><script>alert(1)</script>", Description: "a\x00b\xff & ]]>",
		Items: []Item{Text{Value: "</text><script>", Size: 12}}}
	svg := SVG(hostile, Dark())
	wellFormed(t, "hostile", svg)
	if strings.Contains(svg, "<script") {
		t.Errorf("markup in a text came through: %s", svg)
	}
}

func wellFormed(t *testing.T, name, svg string) {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(svg))
	for {
		_, err := dec.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
	}
}
