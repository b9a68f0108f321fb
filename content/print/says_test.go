package print_test

import (
	"bytes"
	"context"
	"errors"
	"image/color"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/content/load"
	"faultwright/content/print"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/must"

	"golang.org/x/net/html"
)

// words is what a reader of a page sees.
func words(t *testing.T, text []byte) string {
	t.Helper()
	return textOf(must.Have(html.Parse(bytes.NewReader(text)))(t))
}

// A walk on paper leaves no finding out, nor what is to be done there and what not; it
// says every danger limit and every caution of its steps by its words. Only what a proof
// of the meter tells beyond that it is proved stands elsewhere.
func TestWalkOnPaperLeavesNothingOut(t *testing.T) {
	for _, id := range shipped.Forest.IDs() {
		tree := shipped.Forest.Trees[id]
		got := words(t, page(t, id, print.Options{Paper: print.A4}))
		want := func(what string, texts ...string) {
			for _, text := range texts {
				if text = strings.Join(strings.Fields(text), " "); !strings.Contains(got, text) {
					t.Errorf("%s: %s is not on paper: %q", id, what, text)
				}
			}
		}
		for _, s := range tree.Steps {
			ofMeter := strings.HasPrefix(s.Pos.File, "fragments/meter-proof.md")
			for _, c := range view.CautionsOf(shipped, s.Cautions).Each {
				if !ofMeter || s.Kind != faulttree.KindFinding {
					want("a caution", c.Title)
				}
			}
			if s.Kind != faulttree.KindFinding {
				continue
			}
			v := view.ResultOf(shipped, faulttree.Result{Ref: s.Ref(), Title: s.Title, For: s.For, Finding: s.Finding})
			if ofMeter && !strings.HasSuffix(s.ID, "meter-doubtful") {
				continue
			}
			want("finding "+s.ID, v.Title)
			want("what to do at "+s.ID, v.Do...)
			want("what not to do at "+s.ID, v.DoNot...)
			want("who repairs "+s.ID, v.RepairBy)
		}
		for _, q := range tree.Dangers() {
			at, _ := tree.DangerLimit(q)
			title, limit := shipped.Forest.Quantities[q].Title, at.With(shipped.Forest.Quantities[q].Unit)
			_, of, _ := strings.Cut(got, "≥ "+limit+": ")
			if of, _, _ = strings.Cut(of, " · ≥"); !strings.Contains(strings.Split(of, ". Within")[0], title) {
				t.Errorf("%s: no danger limit of %s is on paper for %q", id, limit, title)
			}
		}
		want("that it clears nothing", "Readings alone clear nothing")
		if regexp.MustCompile(`(?i)\bsafe\b`).MatchString(got) {
			t.Errorf("%s says that something is safe", id)
		}
	}
}

// Where a walk proves the meter its page says how without the program: immediately before
// and immediately after what is tested, as 29 CFR 1910.333(b)(2)(iv)(B) has it, and what to
// look at if it shows nothing, every word of it. A walk that reads nothing says none of it.
func TestPaperTellsHowTheMeterIsProved(t *testing.T) {
	proving := 0
	for _, id := range shipped.Forest.Beginnings() {
		tree := shipped.Forest.Tree(id)
		got := words(t, page(t, id, print.Options{Paper: print.Letter}))
		proves := slices.ContainsFunc(tree.Steps, func(s *faulttree.Step) bool {
			return slices.ContainsFunc(s.Measure, func(v faulttree.Variable) bool { return v.Quantity.Proves == faulttree.ProvesVoltsAC })
		})
		for _, text := range []string{"Before the first reading take R", "After the last one", "take it again at the same source", "no reading between the two counts"} {
			if strings.Contains(got, text) != proves {
				t.Errorf("%s proves the meter: %v; says %q: %v", id, proves, text, !proves)
			}
		}
		if !proves {
			continue
		}
		proving++
		checks := 0
		for _, s := range tree.Steps {
			if s.Kind == faulttree.KindFinding || s.Pos.File != "fragments/meter-proof.md" {
				continue
			}
			checks++
			texts := []string{document.Plain(shipped.Prose[s.Ref()])}
			if !strings.HasSuffix(s.ID, ".source") { // the walk's own words stand above that
				texts = append(texts, s.Title)
			}
			for _, text := range texts {
				text = strings.Join(strings.Fields(text), " ")
				if !strings.Contains(got, text) {
					t.Errorf("%s, %s: %q is not on paper", id, s.ID, text)
				}
				if times := strings.Count(got, text); times > 1 && !strings.HasSuffix(s.ID, ".source") {
					t.Errorf("%s, %s: %q is told %d times", id, s.ID, text, times)
				}
			}
		}
		if checks == 0 {
			t.Errorf("%s has no looks at the meter", id)
		}
	}
	if proving < 5 {
		t.Errorf("only %d walks prove the meter", proving)
	}
}

// What only a qualified person does says so where it stands.
func TestPaperSaysWhoMayDoAStep(t *testing.T) {
	lib := must.Have(load.Dir(context.Background(), "../../testdata/handbook"))(t)
	found := 0
	for _, id := range lib.Forest.IDs() {
		got := words(t, must.Have(print.Bytes(lib, id, print.Options{Paper: print.A4}))(t))
		for _, s := range lib.Forest.Trees[id].Steps {
			if s.For == faulttree.Qualified && s.Kind != faulttree.KindFinding {
				found++
				if !strings.Contains(got, "Qualified person only "+s.Title) {
					t.Errorf("%s does not say that %s is for a qualified person", id, s.ID)
				}
			}
		}
	}
	if found == 0 {
		t.Error("no step of the tests' handbook is for a qualified person")
	}
}

// Nothing on paper is told by colour: whatever ink there is is black or grey, and dark
// enough to be read by the contrast that WCAG 2 asks of text, 4.5 to 1.
func TestPaperIsBlackAndWhite(t *testing.T) {
	white := color.NRGBA{255, 255, 255, 255}
	css := string(must.Have(os.ReadFile("style.css"))(t))
	found := regexp.MustCompile(`#[0-9A-Fa-f]{3,6}\b`).FindAllString(css, -1)
	for _, hex := range found {
		if len(hex) == 4 {
			hex = "#" + strings.Repeat(hex[1:2], 2) + strings.Repeat(hex[2:3], 2) + strings.Repeat(hex[3:4], 2)
		}
		v := must.Have(strconv.ParseUint(hex[1:], 16, 32))(t)
		c := color.NRGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}
		if c.R != c.G || c.G != c.B {
			t.Errorf("%s is a colour", hex)
		}
		if c != white && figure.Contrast(c, white) < 4.5 {
			t.Errorf("%s is too faint on paper", hex)
		}
	}
	for _, c := range regexp.MustCompile(`(?:fill|stroke)="#([0-9A-F]{6})"`).FindAllStringSubmatch(string(page(t, print.Handbook, print.Options{Paper: print.A4})), -1) {
		if c[1][:2] != c[1][2:4] || c[1][2:4] != c[1][4:] {
			t.Errorf("a figure has the colour #%s", c[1])
		}
	}
	if len(found) == 0 || slices.ContainsFunc([]string{"red", "green", "blue", "orange", "yellow"}, func(name string) bool { return strings.Contains(css, ": "+name) }) {
		t.Error("the style names a colour, or none at all")
	}
}

// brokenHandbook is the handbook of the tests with a branch that leads to a step which is
// not there.
func brokenHandbook(t *testing.T) fs.FS {
	out, from := fstest.MapFS{}, os.DirFS("../../testdata/handbook")
	must.Do(t, fs.WalkDir(from, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(from, name)
		out[name] = &fstest.MapFile{Data: bytes.ReplaceAll(text, []byte("go: bad-meter"), []byte("go: no-such-step"))}
		return err
	}))
	return out
}

// What cannot be printed is told by name, and nothing is written.
func TestWhatCannotBePrinted(t *testing.T) {
	var out bytes.Buffer
	for id, o := range map[string]print.Options{"no-such-walk": {}, "pedestal#stop-live": {}, "ghost-voltage": {Form: true}, "nothing": {Form: true}, "": {}} {
		o.Paper = print.A4
		if err := print.Write(&out, shipped, id, o); err == nil || out.Len() > 0 {
			t.Errorf("%q was printed", id)
		}
	}
	broken := load.FS(context.Background(), brokenHandbook(t))
	for _, id := range []string{"tingle", print.Handbook} {
		var faulty *print.FaultyError
		if _, err := print.Bytes(broken, id, print.Options{Paper: print.A4}); !errors.As(err, &faulty) || !strings.Contains(err.Error(), "trees/tingle.md:") {
			t.Errorf("%s of a handbook with an error in its walk: %v", id, err)
		}
	}
	if _, err := print.ParsePaper("a5"); err == nil {
		t.Error("there is no paper a5")
	}
}
