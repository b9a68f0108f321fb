package sheettest

import (
	"image/color"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"faultwright/content/figure"
)

var (
	rules  = regexp.MustCompile(`([^{}]+)\{([^{}]*)\}`)
	colour = regexp.MustCompile(`(?:^|;)\s*(color|background):\s*#([0-9A-Fa-f]{3,6})\b`)
)

// WantLegible reports an error for words of a style sheet that do not stand out from what
// they stand on, by the contrast that WCAG 2 asks of text, 4.5 to 1. A rule that sets no
// ground is taken to write on white. It is an error too if the style sets no colour.
func WantLegible(tb testing.TB, css string) {
	tb.Helper()
	found := 0
	for _, rule := range rules.FindAllStringSubmatch(css, -1) {
		ink, ground := color.NRGBA{A: 255}, color.NRGBA{255, 255, 255, 255}
		for _, set := range colour.FindAllStringSubmatch(rule[2], -1) {
			found++
			if set[1] == "color" {
				ink = parsed(tb, set[2])
			} else {
				ground = parsed(tb, set[2])
			}
		}
		if c := figure.Contrast(ink, ground); c < 4.5 {
			tb.Errorf("%s: words of %v on %v have a contrast of %.2f to 1", strings.TrimSpace(rule[1]), ink, ground, c)
		}
	}
	if found == 0 {
		tb.Error("the style sets no colour")
	}
}

func parsed(tb testing.TB, hex string) color.NRGBA {
	tb.Helper()
	if len(hex) == 3 {
		hex = strings.Repeat(hex[:1], 2) + strings.Repeat(hex[1:2], 2) + strings.Repeat(hex[2:], 2)
	}
	v, err := strconv.ParseUint(hex, 16, 32)
	if err != nil {
		tb.Fatal(err)
	}
	return color.NRGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}
}
