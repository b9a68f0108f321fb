package flow

import (
	"encoding/xml"
	"io"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"gonum.org/v1/gonum/graph/formats/dot"
	"gonum.org/v1/gonum/graph/formats/dot/ast"

	"faultwright/content/figure"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// hostile is a graph whose words mean something in every language it is written in.
func hostile() Graph {
	words := []string{
		`"]; x -> y; n0 [label="`, "a\nb\r\n  n9 --> n0", `back\slash\`, "</TD></TABLE>>];}", "<script>alert(1)</script>", "]] --> n7{{\"x\"}}",
		"%%{init: {}}%%", "end", "- list", "1. list", "`**bold**`", "#quot; &amp; &#34;", "\u202Eright to left", "\x00\x07", "ünïcødé Ω",
	}
	g := Graph{Tree: `t"; }`, Title: `"quoted" <title>`}
	for i, w := range words {
		g.Nodes = append(g.Nodes, Node{Ref: faulttree.Ref{Tree: w, Step: w}, Kind: Measure, Number: i + 1, Title: w, Asks: []string{w}, Columns: []string{w, w},
			Rows: []Row{{Cells: []string{w, ""}, Label: w, Signal: faulttree.Danger, To: len(words)}, {Words: w, To: (i + 1) % len(words)}}})
	}
	g.Nodes = append(g.Nodes, Node{Kind: Finding, Title: words[0], Signal: faulttree.Warning}, Node{Kind: Door, Title: words[3], Walk: words[1]})
	return g
}

// eachGraph gives every tree of the handbook, and the hostile graph.
func eachGraph(t *testing.T, do func(name string, g Graph)) {
	lib := load.Shipped()
	for _, id := range lib.Forest.IDs() {
		do(id, graphOf(t, lib, id))
	}
	do("hostile", hostile())
}

func edges(g Graph) int {
	n := 0
	for _, node := range g.Nodes {
		n += len(node.Rows)
	}
	return n
}

// The DOT language is read by another library, which finds every node and edge.
func TestDOTIsReadByAnotherLibrary(t *testing.T) {
	eachGraph(t, func(name string, g Graph) {
		file, err := dot.ParseString(DOT(g))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		nodes, ways := 0, 0
		for _, s := range file.Graphs[0].Stmts {
			switch s.(type) {
			case *ast.NodeStmt:
				nodes++
			case *ast.EdgeStmt:
				ways++
			}
		}
		if len(file.Graphs) != 1 || nodes != len(g.Nodes) || ways != edges(g) {
			t.Errorf("%s: %d graphs, %d nodes, %d edges; want 1, %d, %d", name, len(file.Graphs), nodes, ways, len(g.Nodes), edges(g))
		}
	})
}

// The labels of DOT that are tables are markup that an XML parser reads.
func TestTablesOfDOTAreMarkup(t *testing.T) {
	eachGraph(t, func(name string, g Graph) {
		for _, n := range g.Nodes {
			if n.Step() {
				wellFormed(t, name, g.table(n))
			}
		}
	})
}

func wellFormed(t *testing.T, name, markup string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(markup))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
	}
}

// Every line is one of the flowchart grammar of Mermaid (its flow.jison): a direction,
// a vertex with a quoted text in a pair of brackets, an edge with a quoted text, what a
// click opens, a class.
// Inside quotation marks anything may stand but these; entities are #NUMBER;.
func TestMermaidKeepsToItsGrammar(t *testing.T) {
	text := `"(?:[^"#&<>\x60\\*_|\[\]{}]|#[0-9]+;|<br/>)*"`
	forms := []*regexp.Regexp{
		regexp.MustCompile(`^flowchart TD$`),
		regexp.MustCompile(`^  n\d+(?:\[` + text + `\]|\[\[` + text + `\]\]|\(\[` + text + `\]\)|\{\{` + text + `\}\}|\[/` + text + `\\\]|\[\\` + text + `/\])$`),
		regexp.MustCompile(`^  n\d+ (?:-->|==>)\|` + text + `\| n\d+$`),
		regexp.MustCompile(`^  click n\d+ href "step:[A-Za-z0-9%$&+=:@~._-]*#[A-Za-z0-9%$&+=:@~._-]*"$`),
		regexp.MustCompile(`^  classDef [a-z]+ [a-zA-Z0-9:#,-]+$`),
		regexp.MustCompile(`^  class n\d+ [a-z]+$`),
	}
	eachGraph(t, func(name string, g Graph) {
		counts := make([]int, len(forms))
		for i, line := range strings.Split(strings.TrimSuffix(Mermaid(g), "\n"), "\n") {
			k := 0
			for k < len(forms) && !forms[k].MatchString(line) {
				k++
			}
			if k == len(forms) {
				t.Errorf("%s: line %d is none of the grammar: %q", name, i+1, line)
				continue
			}
			counts[k]++
		}
		if counts[0] != 1 || counts[1] != len(g.Nodes) || counts[2] != edges(g) || counts[3] != len(g.Nodes) {
			t.Errorf("%s: %v, want %d nodes, all of them links, and %d edges", name, counts, len(g.Nodes), edges(g))
		}
	})
}

// Every box links to what the window opens for it, in DOT and in Mermaid alike: a step
// or finding by its name in the handbook's own links, whatever characters that holds.
func TestBoxesLinkToWhatTheyStandFor(t *testing.T) {
	forest := load.Shipped().Forest
	clicks := regexp.MustCompile(`(?m)^  click n(\d+) href "step:(.*)"$`)
	eachGraph(t, func(name string, g Graph) {
		links := map[string]string{} // by node
		for _, click := range clicks.FindAllStringSubmatch(Mermaid(g), -1) {
			links["n"+click[1]] = click[2]
		}
		file := must.Have(dot.ParseString(DOT(g)))(t)
		for _, s := range file.Graphs[0].Stmts {
			node, ok := s.(*ast.NodeStmt)
			if !ok {
				continue
			}
			url := ""
			for _, a := range node.Attrs {
				if a.Key == "URL" {
					url = a.Val
				}
			}
			if want := `"step:` + links[node.Node.ID] + `"`; url != want {
				t.Errorf("%s: %s links to %s in DOT, and to %s in Mermaid", name, node.Node.ID, url, want)
			}
		}
		for i, n := range g.Nodes {
			tree, step, _ := strings.Cut(links["n"+number(i)], "#")
			at := faulttree.Ref{Tree: must.Have(url.PathUnescape(tree))(t), Step: must.Have(url.PathUnescape(step))(t)}
			if at != n.Ref {
				t.Errorf("%s: %q links to %v", name, n.Title, at)
			}
			if name != "hostile" && forest.Step(at) == nil {
				t.Errorf("%s: %q links to %v, which is not there", name, n.Title, at)
			}
		}
	})
}

// The drawing is an SVG that an XML parser reads. Every plate of a step links to the
// box of that step, and a finding's signal word stands in words.
func TestSVGLinksPlatesToTheirSteps(t *testing.T) {
	eachGraph(t, func(name string, g Graph) {
		svg := figure.SVG(Lay(g, Options{}).Draw(NoMarks()), figure.Light())
		wellFormed(t, name, svg)
		var picture struct {
			Rects []struct {
				ID string `xml:"id,attr"`
			} `xml:"rect"`
			Links []struct {
				To string `xml:"href,attr"`
			} `xml:"a"`
		}
		if err := xml.Unmarshal([]byte(svg), &picture); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		steps := map[string]bool{}
		for _, r := range picture.Rects {
			if r.ID != "" && steps[r.ID] {
				t.Errorf("%s: two boxes are named %s", name, r.ID)
			}
			steps[r.ID] = true
		}
		for _, a := range picture.Links {
			if !steps[strings.TrimPrefix(a.To, "#")] {
				t.Errorf("%s: a link leads to %q, which is not there", name, a.To)
			}
		}
		if len(picture.Links) == 0 && edges(g) > 0 {
			t.Errorf("%s: nothing links to a step", name)
		}
		for _, n := range g.Nodes {
			if word := n.Signal.Word(); word != "" && !strings.Contains(svg, ">"+word+"</text>") {
				t.Errorf("%s: %s stands nowhere", name, word)
			}
		}
	})
}

// A signal is told by its shape as well: no two have the same.
func TestSignalsHaveShapesOfTheirOwn(t *testing.T) {
	box := figure.Box{Right: 90, Bottom: signHeight}
	for a := faulttree.Notice; a <= faulttree.Danger; a++ {
		for b := faulttree.Notice; b < a; b++ {
			if same(signShape(sign{box, a}), signShape(sign{box, b})) {
				t.Errorf("%s and %s have one shape", a, b)
			}
		}
	}
}

func same(a, b []figure.Point) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// Every word stands out from what is under it: a panel, or a signal's own colour (WCAG
// 2.1, 1.4.3: 4.5 to 1).
func TestWordsStandOut(t *testing.T) {
	under := map[figure.Role]figure.Role{
		figure.Ink: figure.Panel, figure.Soft: figure.Panel, figure.Accent: figure.Panel, figure.OnDanger: figure.DangerFill,
		figure.OnWarning: figure.WarningFill, figure.OnCaution: figure.CautionFill, figure.OnNotice: figure.NoticeFill,
	}
	eachGraph(t, func(name string, g Graph) {
		for i := range g.Nodes {
			g.Nodes[i].Walked = i%2 == 0
			for r := range g.Nodes[i].Rows {
				g.Nodes[i].Rows[r].Walked = r == 0
			}
		}
		for _, item := range Lay(g, Options{}).Draw(NoMarks()).Items {
			text, ok := item.(figure.Text)
			if !ok {
				continue
			}
			for _, p := range []figure.Palette{figure.Light(), figure.Dark(), figure.HighContrast(), figure.Grey()} {
				if c := figure.Contrast(p.Color(text.Ink), p.Color(under[text.Ink])); c < 4.5 {
					t.Errorf("%s, %s: %q has a contrast of %.2f", name, p.Name, text.Value, c)
				}
			}
		}
	})
}
