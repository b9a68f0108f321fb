// Package archive reads and writes files that leave the program and come from outside:
// a ZIP with JSON in it, whose format and version come first. What comes in is bounded by
// what it unpacks to, and refused whole, in one sentence, where it is not as ours are.
package archive

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"faultwright/faulttree/source"
)

// Bounds is how large a file of one kind may be.
type Bounds struct {
	File     int64 // bytes of the file
	Unpacked int64 // bytes of what it unpacks to
	Entries  int
}

const (
	mostRatio   = 150     // unpacked bytes to packed ones; text of attempts has some 20
	freeOfRatio = 1 << 20 // bytes up to which the ratio does not matter
)

// ErrNone means that a file is no ZIP at all.
var ErrNone = errors.New("it is not a ZIP file")

// Entry is a file in an archive.
type Entry struct {
	Name string
	Text []byte
}

// Pack makes an archive. The same entries give the same bytes.
func Pack(entries []Entry, at time.Time) ([]byte, error) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, e := range entries {
		f, err := w.CreateHeader(&zip.FileHeader{Name: e.Name, Method: zip.Deflate, Modified: at.UTC()})
		if err != nil {
			return nil, err
		}
		if _, err := f.Write(e.Text); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return out.Bytes(), err
}

// Read reads a file whole, and no further than its bound.
func (b Bounds) Read(r io.Reader) ([]byte, error) {
	raw, err := io.ReadAll(io.LimitReader(r, b.File+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("it cannot be read: %w", err)
	case int64(len(raw)) > b.File:
		return nil, fmt.Errorf("it is larger than %d MiB; it is not read", b.File>>20)
	}
	return raw, nil
}

// Unpack is the plain files of an archive by name. It refuses the whole archive
// where an entry leads out of it, is a link, stands twice, or unpacks to more than
// a file of ours would.
func (b Bounds) Unpack(raw []byte) (map[string][]byte, error) {
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	switch {
	case errors.Is(err, zip.ErrFormat) && !bytes.HasPrefix(raw, []byte("PK")):
		return nil, ErrNone
	case err != nil && !errors.Is(err, zip.ErrInsecurePath):
		return nil, fmt.Errorf("the ZIP file is cut off or damaged: %w", err)
	case len(z.File) > b.Entries:
		return nil, fmt.Errorf("the ZIP file has %d entries; at most %d are read", len(z.File), b.Entries)
	}
	out, seen, left := map[string][]byte{}, map[string]bool{}, b.Unpacked
	for _, f := range z.File {
		name, err := entryName(f)
		if err != nil {
			return nil, err
		}
		if name == "" { // a folder
			continue
		}
		if key := strings.ToLower(name); seen[key] {
			return nil, fmt.Errorf("the ZIP file has the entry %q twice; it is not read", name)
		} else {
			seen[key] = true
		}
		text, err := b.unpackOne(f, left)
		if err != nil {
			return nil, err
		}
		left -= int64(len(text))
		out[name] = text
	}
	return out, nil
}

// entryName is the name of an entry that is a plain file, "" for a folder.
func entryName(f *zip.File) (string, error) {
	name := strings.TrimSuffix(f.Name, "/")
	switch {
	case !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, `\:`) || strings.ContainsFunc(name, source.Hidden) || path.Clean(name) != name:
		return "", fmt.Errorf("the ZIP file has an entry that leads out of it, %q; it is not read", f.Name)
	case f.FileInfo().IsDir():
		return "", nil
	case !f.Mode().IsRegular():
		return "", fmt.Errorf("the ZIP file has an entry that is no plain file, %q; it is not read", f.Name)
	}
	return name, nil
}

// unpackOne unpacks an entry of at most so many bytes, whatever its header says.
func (b Bounds) unpackOne(f *zip.File, most int64) ([]byte, error) {
	tooMuch := fmt.Errorf("the ZIP file unpacks to more than %d MiB, or to more than %d times its size; it is not read", b.Unpacked>>20, mostRatio)
	if f.UncompressedSize64 > uint64(most) {
		return nil, tooMuch
	}
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("the entry %q of the ZIP file cannot be unpacked: %w", f.Name, err)
	}
	defer r.Close()
	most = min(most, max(freeOfRatio, mostRatio*int64(min(f.CompressedSize64, uint64(b.File)))))
	text, err := io.ReadAll(io.LimitReader(r, most+1))
	switch {
	case int64(len(text)) > most:
		return nil, tooMuch
	case err != nil:
		return nil, fmt.Errorf("the entry %q of the ZIP file is damaged: %w", f.Name, err)
	}
	return text, nil
}

// Names lists the entries of an archive, sorted.
func Names(files map[string][]byte) []string {
	var out []string
	for name := range files {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
