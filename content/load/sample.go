package load

import (
	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// sampleFile holds the visit that a reader can look at before his own: a walk, and its
// readings as in a file of readings.
const sampleFile = "sample.yaml"

// readSample reads the sample visit of a handbook whose trees were read; nil where there is
// none, or anything is wrong with it.
func readSample(l *content.Library) *content.Sample {
	file := l.Files[sampleFile]
	if file == nil {
		return nil
	}
	in := readings{forest: l.Forest}
	in.out.Choices = map[faulttree.Ref]string{}
	m := document.ParseYAML(file, &in.diags).Map("the sample visit", "tree", "readings")
	tree := m.NeedText("tree")
	if tree != "" && l.Forest.Tree(tree) == nil {
		in.diags.AddHint(m.Get("tree").Pos(), RuleUnknownTree, source.DidYouMean(tree, l.Forest.Beginnings()), "there is no tree %s", tree)
	}
	in.fields(m.Need("readings").Fields("the readings of the sample visit"))
	l.Diagnostics = append(l.Diagnostics, in.diags...)
	if in.diags.HasErrors() {
		return nil
	}
	return &content.Sample{Tree: tree, Given: in.out.supplied()}
}
