package document

import (
	"bytes"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"faultwright/faulttree/source"
)

// Bounds on one piece of YAML.
const (
	mostYAMLBytes  = 512 << 10
	mostYAMLValues = 100_000
	mostYAMLDepth  = 32
	mostYAMLLine   = 16 << 10 // bytes
	mostText       = 10_000   // bytes of one text
	mostSearched   = 20       // errors of a file before the place of a syntax error is no longer searched for
)

// reader is what the values of one piece of YAML share.
type reader struct {
	file  *source.File
	lines []int // offset in file of each line of the YAML text
	diags *source.List
}

// pos turns a line and a column of the YAML text, both from 1, into a
// position in the file.
func (r *reader) pos(line, column int) source.Pos {
	line = max(1, min(line, len(r.lines)))
	at := r.lines[line-1]
	for ; column > 1 && at < len(r.file.Text) && r.file.Text[at] != '\n'; column-- {
		_, size := utf8.DecodeRune(r.file.Text[at:])
		at += size
	}
	return r.file.Pos(at)
}

// readYAML reads one YAML document strictly. It returns the zero Value when
// the text cannot be used at all.
func readYAML(f *source.File, text []byte, lines []int, diags *source.List) Value {
	r := &reader{file: f, lines: lines, diags: diags}
	if len(text) > mostYAMLBytes {
		diags.Add(r.pos(1, 1), RuleYAMLSize, "this YAML is %d bytes long; at most %d are read", len(text), mostYAMLBytes)
		return Value{}
	}
	for i := range lines {
		if end := bytes.IndexByte(f.Text[lines[i]:], '\n'); end > mostYAMLLine || (end < 0 && len(f.Text)-lines[i] > mostYAMLLine) {
			diags.Add(r.pos(i+1, 1), RuleYAMLSize, "this line of YAML is longer than %d KiB", mostYAMLLine>>10)
			return Value{}
		}
	}
	var root, more yaml.Node
	decoder := yaml.NewDecoder(bytes.NewReader(text))
	err := decoder.Decode(&root)
	if errors.Is(err, io.EOF) || (err == nil && len(root.Content) == 0) {
		diags.Add(r.pos(1, 1), RuleYAMLSyntax, "there is nothing here; expected keys and values")
		return Value{}
	}
	if err != nil {
		line, why := yamlFault(text, err, len(*diags) < mostSearched)
		hint := ""
		if strings.HasPrefix(why, "mapping values are not allowed") {
			hint = "quote a text that contains a colon"
		}
		diags.AddHint(r.firstOf(line), RuleYAMLSyntax, hint, "this is not well-formed YAML: %s", why)
		return Value{}
	}
	if err := decoder.Decode(&more); !errors.Is(err, io.EOF) {
		line := more.Line
		if err != nil || line == 0 {
			line, _ = yamlFault(text, err, false)
		}
		diags.Add(r.firstOf(line), RuleYAMLFeature, "a second YAML document begins here; only one is read")
	}
	values := 0
	if !r.plain(root.Content[0], 0, &values) {
		return Value{}
	}
	return Value{node: root.Content[0], in: r}
}

// report adds an error at a node.
func (r *reader) report(n *yaml.Node, rule, format string, args ...any) {
	if len(*r.diags) < mostReports {
		r.diags.Add(r.pos(n.Line, n.Column), rule, format, args...)
	}
}

// firstOf is the first character of a line that is not a space.
func (r *reader) firstOf(line int) source.Pos {
	p := r.pos(line, 1)
	text := r.file.LineText(p.Line)
	for i, c := range []rune(text) {
		if c != ' ' && c != '\t' {
			p.Column = max(p.Column, i+1)
			break
		}
	}
	return p
}

// plain reports whether a node is free of what the format leaves out, and
// within the bounds. It looks at the whole tree and reports everything.
func (r *reader) plain(n *yaml.Node, depth int, values *int) bool {
	*values++
	switch {
	case *values == mostYAMLValues+1:
		r.report(n, RuleYAMLSize, "more than %d values in one piece of YAML", mostYAMLValues)
		return false
	case *values > mostYAMLValues:
		return false
	case depth > mostYAMLDepth:
		r.report(n, RuleYAMLSize, "values are nested more than %d deep", mostYAMLDepth)
		return false
	}
	ok := true
	refuse := func(what string) {
		r.report(n, RuleYAMLFeature, "%s; write the value out instead", what)
		ok = false
	}
	switch {
	case n.Kind == yaml.AliasNode:
		refuse("an alias (*" + n.Value + ") stands here")
		return false
	case n.Anchor != "":
		refuse("an anchor (&" + n.Anchor + ") stands here")
	case n.Tag == "!!merge":
		refuse("a merge key (<<) stands here")
	case n.Style&yaml.TaggedStyle != 0 || n.Tag == "!":
		refuse("a tag (" + n.Tag + ") stands here")
	}
	for _, child := range n.Content {
		if !r.plain(child, depth+1, values) {
			ok = false
		}
	}
	return ok
}

var yamlErrorText = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)

// yamlFault is the line a syntax error stands on, from 1, and what it is. The
// library's own line is that of some surrounding construct; the first line
// that no longer parses is nearer to the slip, so it is searched for where that
// is cheap and asked for.
func yamlFault(text []byte, err error, search bool) (line int, why string) {
	line, why = 1, "it ends too early"
	if err != nil {
		why = err.Error()
		if m := yamlErrorText.FindStringSubmatch(why); m != nil {
			why = m[2]
			if n, err := strconv.Atoi(m[1]); err == nil {
				line = n
			}
		}
	}
	lines := bytes.SplitAfter(text, []byte("\n"))
	if !search || len(lines)*len(text) > 1<<20 {
		return min(line, len(lines)), why
	}
	end, good := 0, 0
	for i, l := range lines {
		end += len(l)
		var n yaml.Node
		if yaml.Unmarshal(text[:end], &n) == nil {
			good = i + 1
		}
	}
	if good < len(lines) {
		return good + 1, why
	}
	return min(line, len(lines)), why
}
