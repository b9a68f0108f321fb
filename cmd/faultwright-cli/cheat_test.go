package main

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// doctored writes an attempt file anew as another one, with text of it replaced once,
// as somebody would who unpacks it.
func doctored(t *testing.T, from, to string, replace ...string) {
	t.Helper()
	in := must.Have(zip.OpenReader(from))(t)
	defer in.Close()
	r := must.Have(in.File[0].Open())(t)
	text := must.Have(io.ReadAll(r))(t)
	for i := 0; i < len(replace); i += 2 {
		if !strings.Contains(string(text), replace[i]) {
			t.Fatalf("%s does not say %s", from, replace[i])
		}
		text = bytes.Replace(text, []byte(replace[i]), []byte(replace[i+1]), 1)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	f := must.Have(w.Create(in.File[0].Name))(t)
	must.Have(f.Write(text))(t)
	must.Do(t, w.Close())
	must.Do(t, os.WriteFile(to, out.Bytes(), 0o600))
}
