package main

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"strings"
	"testing"
)

// doctored writes an attempt file anew as another one, with text of it replaced once,
// as somebody would who unpacks it.
func doctored(t *testing.T, from, to string, replace ...string) {
	t.Helper()
	in, err := zip.OpenReader(from)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	r, err := in.File[0].Open()
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(replace); i += 2 {
		if !strings.Contains(string(text), replace[i]) {
			t.Fatalf("%s does not say %s", from, replace[i])
		}
		text = bytes.Replace(text, []byte(replace[i]), []byte(replace[i+1]), 1)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	f, err := w.Create(in.File[0].Name)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Write(text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
}
