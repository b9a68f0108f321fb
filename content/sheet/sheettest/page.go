// Package sheettest checks, in tests, pages that are written as HTML to be printed.
package sheettest

import (
	"bytes"
	"io"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// WantStill reports an error for a page that is not well-formed HTML, every element but the
// empty ones closed as a parser of HTML reads it; that runs or loads anything; that has no
// print style; or of which the template refused a part.
func WantStill(tb testing.TB, name string, page []byte) {
	tb.Helper()
	z := html.NewTokenizer(bytes.NewReader(page))
	var open []string
	for {
		kind := z.Next()
		if kind == html.ErrorToken {
			break
		}
		tok := z.Token()
		switch {
		case kind == html.StartTagToken && !slices.Contains([]string{"meta", "br", "hr"}, tok.Data):
			open = append(open, tok.Data)
		case kind == html.EndTagToken:
			if len(open) == 0 || open[len(open)-1] != tok.Data {
				tb.Fatalf("%s: </%s> closes %v", name, tok.Data, open)
			}
			open = open[:len(open)-1]
		}
		if slices.Contains([]string{"script", "img", "link", "iframe", "object", "form", "a", "base"}, tok.Data) && kind != html.TextToken {
			tb.Errorf("%s has an element %s", name, tok.Data)
		}
		for _, at := range tok.Attr {
			if strings.HasPrefix(at.Key, "on") || at.Key == "src" || at.Key == "href" || at.Key == "style" {
				tb.Errorf("%s: %s has an attribute %s", name, tok.Data, at.Key)
			}
		}
	}
	if z.Err() != io.EOF || len(open) > 0 {
		tb.Errorf("%s: %v, open at the end: %v", name, z.Err(), open)
	}
	if text := string(page); !strings.Contains(text, "@page") || strings.Contains(text, "ZgotmplZ") {
		tb.Errorf("%s has no print style, or something in it was not fit for where it stands", name)
	}
}
