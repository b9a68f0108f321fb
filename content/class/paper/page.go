package paper

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"html/template"
	"io"

	"faultwright/content/document"
	"faultwright/content/sheet"
)

//go:embed style.css
var style string

//go:embed *.html
var files embed.FS

// policy lets a browser load nothing but the page's own style.
var policy = func() string {
	sum := sha256.Sum256([]byte(style))
	return "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}()

var pages = template.Must(template.New("").Funcs(template.FuncMap{
	"style":  func() template.CSS { return template.CSS(style) },
	"policy": func() string { return policy },
	"prose":  func(blocks []document.Block) template.HTML { return template.HTML(sheet.Prose(blocks)) },
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
