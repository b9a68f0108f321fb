package main

import (
	"bytes"
	"cmp"
	"errors"
	"io"
	"os"
	"path/filepath"

	"faultwright/content/print"
)

type printCommand struct {
	ID    string `arg:"" name:"id" help:"A walk by its id or name, a chart as walk#step, a card, caution, fault or source, or handbook for all of it."`
	Paper string `enum:"a4,letter" default:"a4" help:"a4 or letter."`
	Form  bool   `help:"Of a walk, the blank form for its readings, in the names that walk --readings takes."`
	Out   string `placeholder:"FILE" help:"Write the page to this file instead of standard output; in a folder it is named by what it shows."`
	Force bool   `help:"Replace the file if it is there."`
}

func (c printCommand) Help() string {
	return "The page is one HTML file without anything from elsewhere; any browser prints it. A walk takes one or two pages, and a long procedure that it shares with other walks as many again, with the same numbers."
}

func (c printCommand) Run(p *program) error {
	lib, err := p.library()
	if err != nil {
		return err
	}
	paper, err := print.ParsePaper(c.Paper)
	if err != nil {
		return bad("%v", err)
	}
	id, o := withoutScheme(c.ID), print.Options{Paper: paper, Printed: p.now(), Form: c.Form}
	var page bytes.Buffer
	var unknownID *print.UnknownError
	switch err := print.Write(&page, lib, id, o); {
	case errors.As(err, &unknownID):
		return unknown("walk, chart, card, caution, fault or source", id, append(names(lib), print.Handbook))
	case err != nil:
		return bad("%v", err)
	}
	if info, err := os.Stat(c.Out); err == nil && info.IsDir() {
		c.Out = filepath.Join(c.Out, print.FileName(id, o)+".html")
	}
	return p.put(cmp.Or(c.Out, "-"), c.Force, "The page", func(w io.Writer) error { _, err := w.Write(page.Bytes()); return err })
}
