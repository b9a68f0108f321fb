package class

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

// MostFile is how many bytes a file that was handed out or in may have.
const MostFile = 8 << 20

// Bounds on what a file unpacks to.
const (
	mostUnpacked = 24 << 20 // bytes, together
	mostEntries  = 200
	mostRatio    = 150     // unpacked bytes to packed ones; text of attempts has some 20
	freeOfRatio  = 1 << 20 // bytes up to which the ratio does not matter
)

// ErrNoArchive means that a file is no ZIP at all.
var ErrNoArchive = errors.New("this is no assignment and no attempt: it is not a ZIP file")

// entry is a file in an archive.
type entry struct {
	name string
	text []byte
}

// pack makes an archive. The same entries give the same bytes.
func pack(entries []entry, at time.Time) ([]byte, error) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, e := range entries {
		f, err := w.CreateHeader(&zip.FileHeader{Name: e.name, Method: zip.Deflate, Modified: at.UTC()})
		if err != nil {
			return nil, err
		}
		if _, err := f.Write(e.text); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return out.Bytes(), err
}

// readBounded reads a file whole, up to [MostFile].
func readBounded(r io.Reader) ([]byte, error) {
	raw, err := io.ReadAll(io.LimitReader(r, MostFile+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("it cannot be read: %w", err)
	case len(raw) > MostFile:
		return nil, fmt.Errorf("it is larger than %d MiB; it is not read", MostFile>>20)
	}
	return raw, nil
}

// unpack is the plain files of an archive by name. It refuses the whole archive
// where an entry leads out of it, is a link, stands twice, or unpacks to more than
// a file of ours would.
func unpack(raw []byte) (map[string][]byte, error) {
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	switch {
	case errors.Is(err, zip.ErrFormat) && !bytes.HasPrefix(raw, []byte("PK")):
		return nil, ErrNoArchive
	case err != nil && !errors.Is(err, zip.ErrInsecurePath):
		return nil, fmt.Errorf("the ZIP file is cut off or damaged: %w", err)
	case len(z.File) > mostEntries:
		return nil, fmt.Errorf("the ZIP file has %d entries; at most %d are read", len(z.File), mostEntries)
	}
	out, seen, left := map[string][]byte{}, map[string]bool{}, int64(mostUnpacked)
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
		text, err := unpackOne(f, left)
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
func unpackOne(f *zip.File, most int64) ([]byte, error) {
	tooMuch := fmt.Errorf("the ZIP file unpacks to more than %d MiB, or to more than %d times its size; it is not read", mostUnpacked>>20, mostRatio)
	if f.UncompressedSize64 > uint64(most) {
		return nil, tooMuch
	}
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("the entry %q of the ZIP file cannot be unpacked: %w", f.Name, err)
	}
	defer r.Close()
	most = min(most, max(freeOfRatio, mostRatio*int64(min(f.CompressedSize64, MostFile))))
	text, err := io.ReadAll(io.LimitReader(r, most+1))
	switch {
	case int64(len(text)) > most:
		return nil, tooMuch
	case err != nil:
		return nil, fmt.Errorf("the entry %q of the ZIP file is damaged: %w", f.Name, err)
	}
	return text, nil
}

// names lists the entries of an archive, sorted.
func names(files map[string][]byte) []string {
	var out []string
	for name := range files {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
