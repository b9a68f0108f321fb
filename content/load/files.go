package load

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"faultwright/faulttree/source"
)

// Bounds on a content folder. A folder beyond the number of files or the
// total size is refused as a whole; a file beyond its size is left out.
const (
	mostFiles     = 5000
	mostFileBytes = 1 << 20
	mostBytes     = 12 << 20
	mostLines     = 50_000 // of a file

	// The text of the shipped handbook takes shippedWork to read, in the
	// measure of package document.
	shippedWork    = 11_000_000
	mostFolderWork = 100 * shippedWork
)

// The folders and lists of a handbook.
var (
	folders = []string{"cards", "cautions", "faults", "fragments", "methods", "remaining", "rigs", "scenarios", "sources", "trees"}
	listed  = []string{"evidence.yaml", "facts.yaml", "openings.yaml", OrdersFile, "quantities.yaml", rubricFile, sampleFile, "synonyms.yaml", vehiclesFile}
)

// folderReader reads the files of a folder.
type folderReader struct {
	ctx   context.Context
	fsys  fs.FS
	diags *source.List
	seen  int // directory entries looked at
	bytes int
	files []*source.File
	stop  bool
}

// readFiles reads every file of the handbook in fsys, in order of path. What
// does not belong there, or cannot be read within the bounds, is reported.
func readFiles(ctx context.Context, fsys fs.FS, diags *source.List) []*source.File {
	g := &folderReader{ctx: ctx, fsys: fsys, diags: diags}
	for _, name := range g.list(".") {
		switch {
		case g.stop:
		case slices.Contains(folders, name):
			g.folder(name)
		case slices.Contains(listed, name):
			g.read(name)
		case ignored(name):
		default:
			g.report(name, RuleUnknownFile, source.DidYouMean(name, slices.Concat(folders, listed)),
				"nothing of this name belongs into a content folder; expected the folders %s and the files %s", strings.Join(folders, ", "), strings.Join(listed, ", "))
		}
	}
	if g.stop {
		return nil
	}
	return g.files
}

func (g *folderReader) report(name, rule, hint, format string, args ...any) {
	g.diags.AddHint(source.Pos{File: name}, rule, hint, format, args...)
}

// ending is how the names of a folder's files end.
func ending(dir string) string {
	if dir == "rigs" || dir == "remaining" {
		return ".yaml"
	}
	return ".md"
}

// folder reads the documents of one folder.
func (g *folderReader) folder(dir string) {
	read := 0
	for _, name := range g.list(dir) {
		if g.stop {
			return
		}
		full := path.Join(dir, name)
		switch {
		case ignored(name):
		case strings.HasSuffix(name, ending(dir)) && dir == "rigs" && read == mostRigs:
			g.report(full, RuleTooMany, "", "the folder holds more than %d rigs; from this one on none is read", mostRigs)
			return
		case strings.HasSuffix(name, ending(dir)):
			g.read(full)
			read++
		default:
			g.report(full, RuleUnknownFile, "", "only documents belong here; expected a name that ends in %s", ending(dir))
		}
	}
}

// ignored names may lie in any folder: hidden files and a README.
func ignored(name string) bool { return strings.HasPrefix(name, ".") || name == "README.md" }

// list is the sorted names of a directory. It reads the directory piece by
// piece, so that a folder with far too many files costs little.
func (g *folderReader) list(dir string) []string {
	info, err := fs.Stat(g.fsys, dir)
	if err != nil {
		g.unreadable(dir, err)
		return nil
	}
	if !info.IsDir() {
		g.report(dir, RuleUnreadable, "", "this is not a folder")
		return nil
	}
	f, err := g.fsys.Open(dir)
	if err != nil {
		g.unreadable(dir, err)
		return nil
	}
	defer f.Close()
	d, ok := f.(fs.ReadDirFile)
	if !ok {
		g.report(dir, RuleUnreadable, "", "this folder cannot be listed")
		return nil
	}
	var names []string
	for !g.canceled() {
		entries, err := d.ReadDir(256)
		g.seen += len(entries)
		if g.seen > mostFiles {
			g.stop = true
			g.report(dir, RuleTooMany, "", "the content folder holds more than %d files; nothing of it is loaded", mostFiles)
			return nil
		}
		for _, e := range entries {
			names = append(names, e.Name())
		}
		if errors.Is(err, io.EOF) || (err == nil && len(entries) == 0) {
			break
		}
		if err != nil {
			g.unreadable(dir, err)
			break
		}
	}
	slices.Sort(names)
	return names
}

// canceled stops the reading once the context is done.
func (g *folderReader) canceled() bool {
	if err := g.ctx.Err(); err != nil && !g.stop {
		g.stop = true
		g.report("", RuleCanceled, "", "loading was stopped before its end: %v", err)
	}
	return g.stop
}

// read adds one file, with its line ends made plain newlines.
func (g *folderReader) read(name string) {
	if g.canceled() {
		return
	}
	text, ok := g.text(name)
	if !ok {
		return
	}
	g.bytes += len(text)
	if g.bytes > mostBytes {
		g.stop = true
		g.report(name, RuleTooLarge, "", "the content folder holds more than %d MiB; nothing of it is loaded", mostBytes>>20)
		return
	}
	if f, ok := fileOf(name, text, g.diags); ok {
		g.files = append(g.files, f)
	}
}

// text is the bytes of a plain file within the bound on size.
func (g *folderReader) text(name string) ([]byte, bool) {
	info, err := fs.Stat(g.fsys, name)
	if err != nil {
		g.unreadable(name, err)
		return nil, false
	}
	if !info.Mode().IsRegular() {
		g.report(name, RuleUnreadable, "", "this is not a plain file")
		return nil, false
	}
	f, err := g.fsys.Open(name)
	if err != nil {
		g.unreadable(name, err)
		return nil, false
	}
	defer f.Close()
	var text bytes.Buffer
	text.Grow(int(min(max(info.Size(), 0), mostFileBytes)) + bytes.MinRead)
	n, err := text.ReadFrom(io.LimitReader(f, mostFileBytes+1))
	switch {
	case err != nil:
		g.unreadable(name, err)
		return nil, false
	case n > mostFileBytes:
		g.report(name, RuleTooLarge, "", "the file is larger than %d KiB; it is not read", mostFileBytes>>10)
		return nil, false
	}
	return text.Bytes(), true
}

// unreadable reports an error of the file system without the path of the
// machine it names.
func (g *folderReader) unreadable(name string, err error) {
	var pathError *fs.PathError
	if errors.As(err, &pathError) {
		err = pathError.Err
	}
	g.report(name, RuleUnreadable, "", "this cannot be read: %v", err)
}

func firstInvalid(text []byte) int {
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return len(text)
}

// fileOf is a file from outside as the readers take it: its line ends plain
// newlines, without a byte order mark, and without characters that are not
// shown, which are reported. A file that is too long or not UTF-8 is reported
// and not read: ok is false.
func fileOf(name string, text []byte, diags *source.List) (f *source.File, ok bool) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if bytes.Contains(text, []byte("\r\n")) {
		text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	}
	if bytes.Count(text, []byte("\n")) > mostLines {
		diags.Add(source.Pos{File: name}, RuleTooLarge, "the file has more than %d lines; it is not read", mostLines)
		return nil, false
	}
	f = source.NewFile(name, text)
	if !utf8.Valid(text) {
		diags.Add(f.Pos(firstInvalid(text)), RuleEncoding, "this byte is not UTF-8; save the file as UTF-8")
		return nil, false
	}
	at := bytes.IndexFunc(text, source.Hidden)
	if at < 0 {
		return f, true
	}
	shown := bytes.Map(func(r rune) rune {
		if source.Hidden(r) {
			return -1
		}
		return r
	}, text)
	hidden, _ := utf8.DecodeRune(text[at:])
	diags.AddHint(f.Pos(at), RuleHidden, "take it out", "a character that is not shown stands here, %U; with it this file has %d of them",
		hidden, utf8.RuneCount(text)-utf8.RuneCount(shown))
	return source.NewFile(name, shown), true
}
