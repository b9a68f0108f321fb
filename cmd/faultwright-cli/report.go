package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"faultwright/content/sheet"
)

type reportCommand struct {
	Visit  string `arg:"" help:"The visit, as visits lists it."`
	Format string `enum:"html,markdown,auto" default:"auto" help:"html or markdown; by itself html for a file that ends in .html or .htm, else markdown."`
	Out    string `placeholder:"FILE" help:"Write the sheet to this file instead of standard output."`
	Force  bool   `help:"Replace the file if it is there."`
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
	for _, d := range v.Damage {
		fmt.Fprintln(p.err, "faultwright-cli: part of the record can not be trusted:", clean(d.String()))
	}
	in := sheet.FromVisit(v, lib, p.now())
	text := sheet.Markdown(in, lib)
	if c.html() {
		text = sheet.HTML(in, lib)
	}
	if c.Out == "" || c.Out == "-" {
		_, err := p.out.Write(text)
		return err
	}
	if err := c.write(text); err != nil {
		return bad("the sheet can not be written: %v", err)
	}
	fmt.Fprintln(p.err, "The sheet is in", c.Out)
	return nil
}

// html reports whether the sheet is to be HTML.
func (c reportCommand) html() bool {
	switch strings.ToLower(filepath.Ext(c.Out)) {
	case ".html", ".htm":
		return c.Format != "markdown"
	}
	return c.Format == "html"
}

// write makes the file whole or not at all.
func (c reportCommand) write(text []byte) (err error) {
	if !c.Force {
		f, err := os.OpenFile(c.Out, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if os.IsExist(err) {
			return fmt.Errorf("%s is there already; --force replaces it", c.Out)
		}
		if err != nil {
			return err
		}
		return finish(f, text)
	}
	draft, err := os.CreateTemp(filepath.Dir(c.Out), ".sheet-*")
	if err != nil {
		return err
	}
	if err := finish(draft, text); err != nil {
		return err
	}
	return os.Rename(draft.Name(), c.Out)
}

// finish writes and closes f, or takes it away again.
func finish(f *os.File, text []byte) error {
	_, err := f.Write(text)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}
