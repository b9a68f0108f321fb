package print_test

import (
	"bytes"
	"encoding/xml"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"faultwright/content/load"
	"faultwright/content/print"
	"faultwright/content/sheet/sheettest"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
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
	sheettest.WantStill(t, name, text)
	for _, picture := range strings.Split(string(text), "<svg")[1:] {
		picture, _, _ = strings.Cut(picture, "</svg>")
		d := xml.NewDecoder(strings.NewReader("<svg" + picture + "</svg>"))
		for {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: a picture is no XML: %v", name, err)
			}
		}
	}
	for _, want := range []string{"@page { size: " + p.Name, shipped.Fingerprint(), "29 November 2026", "Readings alone clear nothing"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s does not say %q", name, want)
		}
	}
}
