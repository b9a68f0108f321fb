package print_test

import (
	"bytes"
	"flag"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/content/load"
	"faultwright/content/print"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/must"

	"golang.org/x/net/html"
)

var pagesTo = flag.String("pages", "", "write every page into this folder, to be looked at and printed by a browser")

var (
	shipped = load.Shipped()
	printed = time.Date(2026, 11, 29, 0, 0, 0, 0, time.UTC)
)

// everything lists what can be printed, by what it is called.
func everything() []string {
	ids := append(shipped.Forest.Beginnings(), print.Handbook)
	for _, k := range []view.Kind{view.KindCard, view.KindCaution, view.KindFault, view.KindSource} {
		for _, l := range view.All(shipped, k) {
			ids = append(ids, l.ID)
		}
	}
	for _, t := range shipped.Forest.Trees {
		for _, s := range t.Steps {
			if s.Kind == faulttree.KindChart {
				ids = append(ids, s.Ref().String())
			}
		}
	}
	return ids
}

// page prints one thing.
func page(t *testing.T, id string, o print.Options) []byte {
	t.Helper()
	var out bytes.Buffer
	o.Printed = printed
	must.Do(t, print.Write(&out, shipped, id, o))
	if *pagesTo != "" {
		must.Do(t, os.WriteFile(filepath.Join(*pagesTo, print.FileName(id, o)+".html"), out.Bytes(), 0o644))
	}
	return out.Bytes()
}

// Every page is HTML whose elements all close, which runs nothing and loads nothing, and
// names its paper, its handbook and its day.
func TestPagesAreHTMLThatRunsNothing(t *testing.T) {
	for _, id := range everything() {
		for _, p := range []print.Paper{print.A4, print.Letter} {
			checkPage(t, id, page(t, id, print.Options{Paper: p}), p)
		}
	}
	for _, id := range shipped.Forest.Beginnings() {
		for _, p := range []print.Paper{print.A4, print.Letter} {
			checkPage(t, id+" form", page(t, id, print.Options{Paper: p, Form: true}), p)
		}
	}
}

func checkPage(t *testing.T, name string, text []byte, p print.Paper) {
	t.Helper()
	z := html.NewTokenizer(bytes.NewReader(text))
	var open []string
	svg := 0
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
				t.Fatalf("%s: </%s> closes %v", name, tok.Data, open)
			}
			open = open[:len(open)-1]
		}
		if slices.Contains([]string{"script", "img", "link", "iframe", "object", "form", "a", "base"}, tok.Data) && kind != html.TextToken {
			t.Errorf("%s has an element %s", name, tok.Data)
		}
		for _, at := range tok.Attr {
			if strings.HasPrefix(at.Key, "on") || at.Key == "src" || at.Key == "href" || at.Key == "style" {
				t.Errorf("%s: %s has an attribute %s", name, tok.Data, at.Key)
			}
		}
		if tok.Data == "svg" && kind == html.StartTagToken {
			svg++
		}
	}
	if z.Err() != io.EOF || len(open) > 0 {
		t.Errorf("%s: %v, open at the end: %v", name, z.Err(), open)
	}
	for _, want := range []string{"@page { size: " + p.Name, shipped.Fingerprint(), "29 November 2026", "Readings alone clear nothing"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s does not say %q", name, want)
		}
	}
	if strings.Contains(string(text), "ZgotmplZ") {
		t.Errorf("%s: something in it was not safe to write where it stands", name)
	}
}
