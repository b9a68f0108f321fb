package sheet

import (
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

var (
	began   = time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC)
	printed = time.Date(2026, 5, 3, 15, 2, 0, 0, time.UTC)
)

// walk answers a shipped tree with readings by quantity and choices by step
// until it ends or asks for something not given. Acts count as done.
func walk(t testing.TB, lib *content.Library, tree string, role faulttree.Role, given map[string]string) faulttree.Walk {
	t.Helper()
	w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: tree}, role, faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	for range 100 {
		s := w.Step()
		if w.Ended() {
			return w
		}
		a := faulttree.Answer{Done: true, Choice: given[s.ID]}
		for _, v := range s.Measure {
			typed, ok := given[v.Quantity.ID]
			if !ok {
				return w
			}
			r := must.Have(faulttree.ParseReading(typed, v.Quantity))(t)
			a.Readings = append(a.Readings, r)
		}
		if s.Kind == faulttree.KindObserve && a.Choice == "" {
			return w
		}
		if w, err = w.Answer(a); err != nil {
			t.Fatal(err)
		}
	}
	t.Fatal("the walk does not end")
	return w
}

// small is a handbook of one tree, so that each word of the sheet is known.
func small(t testing.TB) *content.Library {
	t.Helper()
	doc := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	fence := "```"
	fsys := fstest.MapFS{
		"quantities.yaml": doc(`points:
  - {id: body, title: bare metal, place: vehicle}
  - {id: earth, title: a spike}
quantities:
  - {id: body-earth, title: "Body to the earth spike", unit: V AC, range: 600 V, most: 1000 V}
`),
		"synonyms.yaml": doc("- [tingle, shock]\n"),
		"openings.yaml": doc("- {title: A tingle, text: from the door, tree: tingle}\n"),
		"sources/book.md": doc(`---
source: book
title: A book of limits
status: quoted
locator: page 7
---
We take 30 V from it.
`),
		"cautions/stay-off.md": doc(`---
caution: stay-off
title: Stay off the body.
signal: danger
sources: [book]
---
Nobody touches it.
`),
		"faults/leak.md": doc(`---
fault: leak
title: Leakage to the body
hazard: danger
place: vehicle
sources: [book]
---
Insulation breaks down.
`),
		"faults/rod.md": doc(`---
fault: rod
title: A rod and nothing else
hazard: danger
place: supply
sources: [book]
---
No way back.
`),
		"trees/tingle.md": doc(`---
tree: tingle
title: A tingle
summary: From a tingle to a cause.
start: read
symptoms: [tingle]
scope: [vehicle, supply]
limits:
  touch: {value: 30 V, source: book}
danger: {body-earth: touch}
---
## Read the body {#read}

Measure.

` + fence + `yaml step
measure: {v: body-earth}
cautions: [stay-off]
branches:
  - {v: {below: touch}, go: low, signal: none, label: nothing yet}
  - {v: {from: touch}, go: live, signal: danger, label: stop}
over-range: {go: live, signal: danger}
not-possible: {go: low, signal: warning}
` + fence + `

## The body is live {#live}

Something *feeds* it.

` + fence + `yaml step
finding:
  faults: [leak]
  signal: danger
  sure: The reading is certain.
  first_action: Pull the plug.
  do_not: Do not touch it.
  repair_by: an electrician
  cannot_exclude:
    - {fault: rod, test: A loop test.}
cautions: [stay-off]
` + fence + `

## Nothing shown {#low}

A low reading shows nothing.

` + fence + `yaml step
finding:
  signal: notice
  sure: Nothing is excluded.
  first_action: Leave it unplugged.
  do_not: Do not rely on it.
  repair_by: nobody yet
` + fence + `
`),
	}
	lib := load.FS(context.Background(), fsys)
	if lib.Forest.Trees["tingle"] == nil {
		t.Fatal(lib.Diagnostics)
	}
	return lib
}

func both(in Input, lib *content.Library) map[string]string {
	return map[string]string{"HTML": string(HTML(in, lib)), "Markdown": string(Markdown(in, lib))}
}

func TestSheetSaysEverything(t *testing.T) {
	lib := small(t)
	in := Input{ID: "2026-05-03-k7fqm", Site: "Quillback Hollow, site 14", Vehicle: "travel trailer", Note: "Wet grass",
		Started: began, Printed: printed, Walk: walk(t, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": "58.0"}),
		Aside: []Aside{{began, "Body to the earth spike: 12 V", "Taken back."}}}
	for form, page := range both(in, lib) {
		for _, want := range []string{
			"A tingle", "Quillback Hollow, site 14", "travel trailer", "Wet grass", "3 May 2026, 14:30", "3 May 2026, 15:02",
			"2026-05-03-k7fqm", "ordinary 6000-count meter", "±(1.2 % + 5 counts)", "an owner",
			"DANGER", "The body is live", "Pull the plug.", "Do not touch it.", "An electrician.", "The reading is certain.",
			"Leakage to the body", "Stay off the body.", "feeds", "Body to the earth spike", "58.0 V", "±1.2 V", "30 V and more",
			"For the electrician", "A rod and nothing else", "A loop test", "30 V (touch)", "A book of limits, page 7 (published, as quoted by another publication)",
			"Taken back.", "Test after repair", "below 30 V", "Repaired by", "Signature", recordsLine, codesLine,
		} {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %q", form, want)
			}
		}
		for _, banned := range []string{"safe", "good to plug in", "quiet"} {
			if strings.Contains(strings.ToLower(page), banned) {
				t.Errorf("%s says %q", form, banned)
			}
		}
	}
	page := string(HTML(in, lib))
	if !strings.Contains(page, "<svg") || !strings.Contains(page, "Red lead") {
		t.Error("HTML has no picture of the deciding reading")
	}
}

func TestStraddlingSaysWhatWouldSettleIt(t *testing.T) {
	lib := small(t)
	in := Input{Walk: walk(t, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": "29.5"})}
	for form, page := range both(in, lib) {
		for _, want := range []string{"within the meter", "uncertainty of 30 V", "Nothing shown", "The body is live"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %q", form, want)
			}
		}
	}
}

func TestUnfinishedVisit(t *testing.T) {
	lib := small(t)
	for form, page := range both(Input{Walk: walk(t, lib, "tingle", faulttree.Qualified, nil)}, lib) {
		for _, want := range []string{"WARNING", "not finished", "Next to be answered: Read the body", "No reading was taken.", "a qualified person", recordsLine} {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %q", form, want)
			}
		}
	}
	for form, page := range both(Input{}, lib) { // a walk that could not begin
		if !strings.Contains(page, "cannot walk this visit") || !strings.Contains(page, recordsLine) {
			t.Errorf("%s of an empty walk: %s", form, page)
		}
	}
}

func TestEarlierRoundsAreKept(t *testing.T) {
	lib := small(t)
	live := walk(t, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": "58.0"})
	after := walk(t, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": "0.4"})
	in := Input{Walk: after, Again: true, Began: printed, Before: []Round{{Began: began, Walk: live}}}
	for form, page := range both(in, lib) {
		for _, want := range []string{"Before the repair, 3 May 2026, 14:30", "It ended in: DANGER: The body is live", "58.0 V", "0.4 V", "NOTICE"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %q", form, want)
			}
		}
	}
}

var hostile = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `</style><svg onload=alert(1)>`, "a\x00b\xff\x1b[31m",
	"line\n# heading\n\n- item", "| a | b |", "**bold** _it_ `code`", "[x](javascript:alert(1))", "![x](http://a.example/p.png)",
	"http://a.example www.a.example a@b.example", "&lt;b&gt; &amp; &#60;", "1. one", "1) one", "+ plus", "- minus", "\\", "~~gone~~ ==mark== $x$ H~2~ a^2^", "\u202Eevil\u2066",
}

func TestHostileTextStaysText(t *testing.T) {
	lib := small(t)
	live := walk(t, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": "58.0"})
	for _, bad := range hostile {
		in := Input{ID: bad, Site: bad, Vehicle: bad, Note: bad, Walk: live, Aside: []Aside{{What: bad, Why: bad}}}
		page := string(HTML(in, lib))
		for _, mark := range []string{"<script", "<img", "onerror=alert(1)>", "<svg onload", "\x00", "\x1b", "\u202E"} {
			if strings.Contains(page, mark) {
				t.Errorf("%q came through as mark-up in HTML", bad)
			}
		}
		balanced(t, bad, page)
		checkMarkdown(t, bad, string(Markdown(in, lib)))
	}
}

// balanced reads the body of the page as XML; the void elements of HTML are
// closed for it.
func balanced(t *testing.T, name, page string) {
	t.Helper()
	_, page, _ = strings.Cut(page, "<body>")
	page, _, _ = strings.Cut(page, "</body>")
	page = "<body>" + strings.NewReplacer("<br>", "<br/>", "<hr>", "<hr/>").Replace(page) + "</body>"
	d := xml.NewDecoder(strings.NewReader(page))
	d.Entity = xml.HTMLEntity
	for {
		_, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Errorf("%q: the page is not well formed: %v", name, err)
			return
		}
	}
}

// checkMarkdown reads the sheet as the handbook's reader does and expects the
// typed text back as plain text, in one paragraph, with no link in it.
func checkMarkdown(t *testing.T, bad, sheet string) {
	t.Helper()
	var diags source.List
	blocks := document.Markdown(source.NewFile("sheet.md", []byte(sheet)), 0, &diags)
	if len(diags) > 0 {
		t.Errorf("%q: reading the Markdown sheet complains: %v", bad, diags)
	}
	document.Links(blocks, func(l document.Link) { t.Errorf("%q became a link to %s", bad, l.Target) })
	document.Figures(blocks, func(f document.Figure) { t.Errorf("%q became the picture %s", bad, f.Name) })
	want := "Site: " + strings.Join(strings.Fields(clean(bad)), " ")
	plain := document.Plain(blocks)
	for line := range strings.Lines(plain) {
		if strings.Join(strings.Fields(line), " ") == want {
			return
		}
	}
	t.Errorf("%q did not come back as %q from:\n%s", bad, want, sheet[:min(200, len(sheet))])
}

// mostFuzzed bounds what the fuzz targets look at, in bytes.
const mostFuzzed = 1 << 10

// Whatever a reader typed, both forms of the sheet keep it as text: the page is
// well formed and has as many elements as one without it, and nothing hidden is
// in it.
func FuzzSheet(f *testing.F) {
	for _, bad := range append(hostile, "\v", "\u200f", "a\u2028b") {
		f.Add(bad)
	}
	lib := small(f)
	live := walk(f, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": "58.0"})
	sheetOf := func(typed string) map[string]string {
		return both(Input{ID: typed, Site: typed, Vehicle: typed, Note: typed, Walk: live, Aside: []Aside{{What: typed, Why: typed}}}, lib)
	}
	elements := strings.Count(sheetOf("typed")["HTML"], "<")
	f.Fuzz(func(t *testing.T, bad string) {
		if len(bad) > mostFuzzed || strings.TrimSpace(bad) == "" || strings.TrimSpace(clean(bad)) == "" {
			return
		}
		pages := sheetOf(bad)
		balanced(t, bad, pages["HTML"])
		if n := strings.Count(pages["HTML"], "<"); n != elements {
			t.Errorf("%q: the page has %d elements, %d with plain words", bad, n, elements)
		}
		for form, page := range pages {
			if strings.ContainsFunc(page, source.Hidden) {
				t.Errorf("%q: %s holds what is not shown", bad, form)
			}
		}
		checkMarkdown(t, bad, pages["Markdown"])
	})
}

func FuzzMarkdownText(f *testing.F) {
	for _, bad := range hostile {
		f.Add(bad)
	}
	f.Fuzz(func(t *testing.T, bad string) {
		if len(bad) > mostFuzzed {
			return
		}
		if strings.TrimSpace(clean(bad)) == "" {
			return
		}
		checkMarkdown(t, bad, fmt.Sprintf("- **Site:** %s\n", mark(bad)))
	})
}

// Every shipped tree gives a sheet at every step of a walk through it.
func TestShippedTreesGiveSheets(t *testing.T) {
	lib := load.Shipped()
	for _, id := range lib.Forest.IDs() {
		for _, role := range []faulttree.Role{faulttree.Owner, faulttree.Qualified} {
			w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: id}, role, faulttree.DefaultMeter())
			if err != nil {
				t.Fatal(err)
			}
			for n := 0; ; n++ {
				page := string(HTML(Input{Walk: w, Site: "Quillback Hollow", Started: began}, lib))
				balanced(t, id, page)
				if !strings.Contains(page, recordsLine) {
					t.Fatalf("%s, step %d: the sheet does not say what it is", id, n)
				}
				if w.Ended() || n > 80 {
					break
				}
				s := w.Step()
				a := faulttree.Answer{Done: true}
				if s.Kind == faulttree.KindObserve {
					a.Choice = s.Choices[n%len(s.Choices)].ID
				}
				for _, v := range s.Measure {
					r, err := faulttree.ParseReading([]string{"0.2", "119.6", "OL"}[n%3], v.Quantity)
					if err != nil {
						r = faulttree.NotTaken("fence in the way")
					}
					a.Readings = append(a.Readings, r)
				}
				if w, err = w.Answer(a); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// A chart that was known after a reading stands with it, at its graver signal, and
// is not taken for a recheck that ran out.
func TestSheetTellsWhatWasKnownByThen(t *testing.T) {
	lib := small(t)
	tree := lib.Forest.Trees["tingle"]
	read := tree.Step("read")
	exit := func(to string, s faulttree.Signal, label string) faulttree.Exit {
		return faulttree.Exit{Text: to, To: faulttree.Ref{Tree: "tingle", Step: to}, Signal: s, Label: label}
	}
	at := func(from, below faulttree.Amount, e faulttree.Exit) faulttree.Row {
		return faulttree.Row{Cells: []faulttree.Cell{{Spans: []faulttree.Span{{From: from, Below: below}}}}, Exit: e}
	}
	read.Branches[0].Exit = exit("again", faulttree.NoSignal, "")
	tree.Steps = append(tree.Steps, &faulttree.Step{
		Tree: "tingle", ID: "again", Title: "The body once more", Kind: faulttree.KindChart, Measure: read.Measure,
		Chart: &faulttree.Chart{Rows: []faulttree.Row{
			at(0, 10*faulttree.One, exit("low", faulttree.NoSignal, "next to nothing")),
			at(10*faulttree.One, faulttree.Highest, exit("low", faulttree.Warning, "")),
		}},
		NotPossible: exit("low", faulttree.Warning, ""),
	})
	tree.Index()
	tree.Limits["next-to-nothing"] = faulttree.Limit{Name: "next-to-nothing", Value: 10 * faulttree.One, Unit: faulttree.VoltsAC, Source: "book"}
	in := Input{Walk: walk(t, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": "2.0"})}
	for form, page := range both(in, lib) {
		if !strings.Contains(page, "10 V (next to nothing)") || !strings.Contains(page, "Known by then: The body once more") {
			t.Errorf("%s lacks the chart or the limit it rests on", form)
		}
	}
	for _, c := range []struct {
		typed string
		want  []string
	}{
		{"2.0", []string{"Known by then: The body once more → next to nothing."}},
		{"20.0", []string{"Known by then: The body once more → Nothing shown.", "WARNING"}},
		{"10.2", []string{"Known by then: The body once more → Nothing shown.", "10.2 V is within the meter's uncertainty of 10 V"}},
	} {
		rows := readingsTable(view.Trail(lib, walk(t, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": c.typed}))).rows
		if len(rows) != 1 || rows[0].cells[5].text != "Nothing shown" {
			t.Fatalf("%s: the rows are %+v", c.typed, rows)
		}
		told := rows[0].cells[5].signal.Word() + " " + rows[0].remark
		for _, want := range c.want {
			if !strings.Contains(told, want) {
				t.Errorf("%s: the row says %q, not %q", c.typed, told, want)
			}
		}
		if strings.Contains(told, "as often as") {
			t.Errorf("%s: taken for a recheck: %q", c.typed, told)
		}
	}
}

// The sheet says of the meter what its readings rest on: by range where that is known.
func TestTheMeterOnTheSheet(t *testing.T) {
	m := faulttree.DefaultMeter()
	m.LowImpedance, m.Proved = true, "2026-05-01"
	m.Ranges = must.Have(faulttree.NewRanges([]faulttree.Range{
		{Unit: faulttree.VoltsAC, Top: 600 * faulttree.One, Count: faulttree.One / 10, Accuracy: faulttree.Accuracy{Percent: faulttree.One, Counts: 3}},
		{Unit: faulttree.VoltsAC, Top: 1000 * faulttree.One, Count: faulttree.One, Accuracy: faulttree.Accuracy{Percent: 2 * faulttree.One, Counts: 5}},
	}))(t)
	w := must.Have(faulttree.Begin(small(t).Forest, faulttree.Ref{Tree: "tingle"}, faulttree.Owner, m))(t)
	want := "AC volts ±(1 % + 3) up to 600 V, ±(2 % + 5) up to 1000 V, display of 6000 counts, with a low-impedance setting, last proved on 2026-05-01, as is noted of it"
	if got := accuracy(w); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
