package document

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/yuin/goldmark/ast"
	strike "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// blocksOf reads Markdown that has nothing wrong in it.
func blocksOf(t *testing.T, markdown string) []Block {
	t.Helper()
	var diags source.List
	blocks := Markdown(source.NewFile("x.md", []byte(markdown)), 0, &diags)
	for _, d := range diags {
		t.Error(d)
	}
	return blocks
}

func plainText(s string) []Inline { return []Inline{Text{Value: s}} }

// The block model holds what an author writes.
func TestMarkdownBecomesBlocks(t *testing.T) {
	for _, test := range []struct {
		name, markdown string
		want           []Block
	}{
		{"heading with an id", "## Body to *earth* {#body-earth}", []Block{
			Heading{Level: 2, ID: "body-earth", Text: []Inline{Text{Value: "Body to "}, Text{Value: "earth", Italic: true}}},
		}},
		{"soft and hard breaks", "one\ntwo\\\nthree", []Block{
			Paragraph{Text: []Inline{Text{Value: "one two"}, Break{}, Text{Value: "three"}}},
		}},
		{"faces and links", "**a *b*** `c` [d **e**](card:f)", []Block{
			Paragraph{Text: []Inline{
				Text{Value: "a ", Bold: true}, Text{Value: "b", Bold: true, Italic: true}, Text{Value: " "},
				Text{Value: "c", Code: true}, Text{Value: " "},
				Link{Target: "card:f", Text: []Inline{Text{Value: "d "}, Text{Value: "e", Bold: true}}},
			}},
		}},
		{"escapes and references", `2 \* 3 &lt; 7 &#937;`, []Block{Paragraph{Text: plainText("2 * 3 < 7 Ω")}}},
		{"lists", "3. a\n4. b\n   - c\n", []Block{
			List{Ordered: true, Start: 3, Tight: true, Items: [][]Block{
				{Paragraph{Text: plainText("a")}},
				{Paragraph{Text: plainText("b")}, List{Tight: true, Items: [][]Block{{Paragraph{Text: plainText("c")}}}}},
			}},
		}},
		{"table", "| a | b |\n| :-- | --: |\n| 1 | `x\\|y` |\n", []Block{
			Table{Align: []Align{AlignLeft, AlignRight}, Header: [][]Inline{plainText("a"), plainText("b")},
				Rows: [][][]Inline{{plainText("1"), {Text{Value: "x|y", Code: true}}}}},
		}},
		{"callout", "> **DANGER** Stand off.\n>\n> Now.", []Block{
			Callout{Signal: faulttree.Danger, Body: []Block{Paragraph{Text: plainText("Stand off.")}, Paragraph{Text: plainText("Now.")}}},
		}},
		{"callout with a colon", "> **NOTICE:** Look.", []Block{
			Callout{Signal: faulttree.Notice, Body: []Block{Paragraph{Text: plainText("Look.")}}},
		}},
		{"callout of one word", "> **CAUTION**", []Block{Callout{Signal: faulttree.Caution, Body: []Block{}}}},
		{"a quote that begins in bold", "> **Danger** is a word.", []Block{
			Quote{Body: []Block{Paragraph{Text: []Inline{Text{Value: "Danger", Bold: true}, Text{Value: " is a word."}}}}},
		}},
		{"figure", "![the two probes](figure:body-earth)", []Block{Figure{Name: "body-earth", Alt: "the two probes"}}},
		{"code", "```yaml step\ngo: a\n```\n\n    indented\n", []Block{
			Code{Info: "yaml step", Text: "go: a\n"}, Code{Text: "indented\n"},
		}},
		{"rule", "a\n\n---\n", []Block{Paragraph{Text: plainText("a")}, Rule{}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := blocksOf(t, test.markdown)
			if diff := cmp.Diff(test.want, got, cmpopts.IgnoreTypes(source.Pos{}), cmpopts.IgnoreUnexported(Code{})); diff != "" {
				t.Errorf("want (-) and got (+) differ:\n%s", diff)
			}
		})
	}
}

// Blocks and links know where they stand, also behind front matter.
func TestBlocksKnowTheirPlace(t *testing.T) {
	file := "---\ncard: a\n---\n# Title\n\nText with [a link](card:b).\n\n- item\n- [in it](card:c)\n\n> **DANGER** [x](card:d)\n\n| a |\n| - |\n| Ω [y](card:e) |\n"
	var diags source.List
	doc := Parse(source.NewFile("x.md", []byte(file)), &diags)
	var got []string
	for _, b := range doc.Body {
		switch x := b.(type) {
		case Heading:
			got = append(got, fmt.Sprint("heading ", x.Pos))
		case Paragraph:
			got = append(got, fmt.Sprint("paragraph ", x.Pos))
		case Callout:
			got = append(got, fmt.Sprint("callout ", x.Pos))
		case Table:
			got = append(got, fmt.Sprint("table ", x.Pos))
		}
	}
	Links(doc.Body, func(l Link) { got = append(got, fmt.Sprint(l.Target, " ", l.Pos)) })
	want := []string{
		"heading x.md:4:1", "paragraph x.md:6:1", "callout x.md:11:1", "table x.md:13:1",
		"card:b x.md:6:11", "card:c x.md:9:3", "card:d x.md:11:14", "card:e x.md:15:5",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
}

// A node the block model has no form for is reported, and its text is kept.
func TestUnknownNodesKeepTheirText(t *testing.T) {
	words := "struck out"
	f := source.NewFile("x.md", []byte(words))
	var diags source.List
	c := &converter{file: f, text: f.Text, diags: &diags}
	node := strike.NewStrikethrough()
	node.AppendChild(node, ast.NewTextSegment(text.NewSegment(0, len(words))))
	paragraph := ast.NewParagraph()
	paragraph.AppendChild(paragraph, node)
	root := ast.NewDocument()
	root.AppendChild(root, paragraph)
	block := strike.NewDefinitionTerm()
	block.Lines().Append(text.NewSegment(0, len(words)))
	root.AppendChild(root, block)
	if got := Plain(c.blocks(root, 0)); got != words+"\n"+words {
		t.Errorf("the text is %q, expected %q twice", got, words)
	}
	if len(diags) != 2 || diags[0].Rule != RuleUnknownMarkdown || diags[1].Rule != RuleUnknownMarkdown {
		t.Errorf("%v, expected two of rule %s", diags, RuleUnknownMarkdown)
	}
}

func ExampleParse() {
	f := source.NewFile("cards/earth-spike.md", []byte("---\ncard: earth-spike\ntitle: The earth spike\n---\nPush it into **wet** soil.\n"))
	var diags source.List
	doc := Parse(f, &diags)
	front := doc.Front.Map("the front matter", "card", "title")
	fmt.Println(front.NeedText("title"))
	fmt.Println(Plain(doc.Body))
	fmt.Println(strings.TrimSpace(fmt.Sprint(len(diags), " errors")))
	// Output:
	// The earth spike
	// Push it into wet soil.
	// 0 errors
}
