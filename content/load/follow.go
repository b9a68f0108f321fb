package load

import (
	"context"
	"fmt"
	"hash/fnv"
	"io/fs"
	"path"
	"slices"

	"faultwright/content/plainfile"
	"faultwright/faulttree/source"
)

// Follower tells when the files of a content folder have changed. It looks at their
// names, sizes and times and reads none of them, so that it also follows files that are renamed
// over one another, a folder that is taken away and put back, and a folder on another machine.
// Use it from one goroutine at a time.
type Follower struct {
	dir  string
	seen uint64
}

// Follow looks at a folder for the first time. Do so before the folder is read, so
// that no change is missed.
func Follow(dir string) *Follower {
	return &Follower{dir: dir, seen: stands(context.Background(), dir)}
}

// Changed waits until the folder is not as it was when this was last told, and stands still:
// two looks in a row are alike, so that a file that is still being written is waited for.
// A folder that has gone is a change, and so is its coming back. Before each look it calls
// pause; the error is the one that pause ends with.
func (f *Follower) Changed(ctx context.Context, pause func(context.Context) error) error {
	before := f.seen
	for {
		if err := pause(ctx); err != nil {
			return err
		}
		now := stands(ctx, f.dir)
		if now != f.seen && now == before {
			f.seen = now
			return nil
		}
		before = now
	}
}

// stands is a number for how the files of a folder stand; 0 where there is no folder.
func stands(ctx context.Context, dir string) uint64 {
	root, err := plainfile.Folder(dir)
	if err != nil {
		return 0
	}
	defer root.Close()
	fsys := plainfile.FS(root)
	g := &folderReader{ctx: ctx, fsys: fsys, diags: &source.List{}}
	sum := fnv.New64a()
	note := func(name string) {
		if info, err := fs.Stat(fsys, name); err == nil {
			fmt.Fprintf(sum, "%q %d %d %v\n", name, info.Size(), info.ModTime().UnixNano(), info.Mode())
		}
	}
	for _, name := range g.list(".") {
		switch {
		case ignored(name):
			continue
		case !slices.Contains(folders, name):
			note(name)
			continue
		}
		fmt.Fprintf(sum, "%q\n", name)
		for _, inner := range g.list(name) {
			if !ignored(inner) { // such as what an editor keeps beside a file
				note(path.Join(name, inner))
			}
		}
	}
	return sum.Sum64()
}
