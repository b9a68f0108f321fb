package paper

import (
	"bytes"
	"embed"
	"errors"
	"html/template"
	"io"

	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/content/sheet"
)

//go:embed style.css
var style string

//go:embed *.html
var files embed.FS

var pages = template.Must(template.New("").Funcs(template.FuncMap{
	"style":  func() template.CSS { return template.CSS(style) },
	"policy": func() string { return sheet.Policy(style) },
	"prose":  func(blocks []document.Block) template.HTML { return template.HTML(sheet.Prose(blocks, figure.Light())) },
}).ParseFS(files, "*.html"))

// frame is what every page has around what is its own.
type frame struct {
	Kind, Title string
	Page        any
}

// write writes a page, whole or not at all.
func write(w io.Writer, name, kind, title string, page any) error {
	var out bytes.Buffer
	if err := pages.ExecuteTemplate(&out, name, frame{kind, title, page}); err != nil {
		return err
	}
	_, err := w.Write(out.Bytes())
	return err
}

// errForeign means that a page is none of this package.
var errForeign = errors.New("this page was not made by this version of the program; if you know who made it, open it in a web browser")

// CheckPage reports an error for a page that does not begin as those of this package do:
// with the rule that lets a browser load and run nothing, whatever comes after it.
func CheckPage(r io.Reader) error {
	var ours bytes.Buffer
	if err := pages.ExecuteTemplate(&ours, "head", frame{}); err != nil {
		return err
	}
	want, _, _ := bytes.Cut(ours.Bytes(), []byte("<title>"))
	got := make([]byte, len(want))
	if _, err := io.ReadFull(r, got); err != nil || !bytes.Equal(got, want) {
		return errForeign
	}
	return nil
}
