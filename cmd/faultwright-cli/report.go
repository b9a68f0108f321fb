package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"faultwright/content/sheet"
)

type reportCommand struct {
	Visit  string `arg:"" help:"The visit, as visits lists it."`
	Format string `enum:"html,markdown,auto" default:"auto" help:"html or markdown; by itself html for a file that ends in .html or .htm, else markdown."`
	Out    string `placeholder:"FILE" help:"Write the sheet to this file instead of standard output; in a folder it is named by vehicle, date and finding."`
	Force  bool   `help:"Replace the file if it is there."`

	BeforeRepair bool `help:"Make the sheet as it was before the last test after repair."`
}

func (c reportCommand) Help() string {
	return "The HTML sheet is one file without anything from elsewhere; any browser prints it. A visit that is open in another window can be reported too."
}

func (c reportCommand) Run(p *program) error {
	records, err := p.records()
	if err != nil {
		return err
	}
	defer records.Close()
	v, err := records.Read(c.Visit)
	if err != nil {
		return noVisit(records, c.Visit, err)
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	if c.BeforeRepair {
		if len(v.Rounds()) == 1 {
			return bad("visit %s has no test after repair; leave off --before-repair", c.Visit)
		}
		v = v.Until(len(v.Rounds()) - 2)
	}
	for _, d := range v.Doubts() {
		fmt.Fprintln(p.err, "faultwright-cli:", clean(d.String()))
	}
	in := sheet.FromVisit(v, lib, p.now())
	if in.Fits, err = p.reasoning(lib, in.Walk.Meter()).Fits(p.ctx, in.Walk, len(in.Before)); err != nil {
		p.note("what fits the readings is not on the sheet: " + err.Error())
	}
	if info, err := os.Stat(c.Out); err == nil && info.IsDir() {
		c.Out = filepath.Join(c.Out, sheet.FileName(in, lib)+c.ending())
	}
	text := sheet.Markdown(in, lib)
	if c.html() {
		text = sheet.HTML(in, lib)
	}
	return p.put(cmp.Or(c.Out, "-"), c.Force, "The sheet", func(w io.Writer) error { _, err := w.Write(text); return err })
}

// ending is how a file is called that the program names itself.
func (c reportCommand) ending() string {
	if c.html() {
		return ".html"
	}
	return ".md"
}

// html reports whether the sheet is to be HTML.
func (c reportCommand) html() bool {
	switch strings.ToLower(filepath.Ext(c.Out)) {
	case ".html", ".htm":
		return c.Format != "markdown"
	}
	return c.Format == "html"
}
