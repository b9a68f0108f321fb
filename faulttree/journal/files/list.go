package files

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/faulttree/journal"
)

const (
	// MostListed is how many journals are listed, the newest by name.
	MostListed = 2000
	// mostNames is how many names of a folder are looked at.
	mostNames = 100_000
	// mostRead is how many bytes of journals a list looks into.
	mostRead = 128 << 20
)

// Entry is a journal of a folder, by its name.
type Entry struct {
	ID  string
	Err error // why a list should not look into it
}

// List names the journals, the newest first by name.
func (d *Folder) List() ([]Entry, error) {
	names, err := d.names()
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, name := range names {
		if id, ok := strings.CutSuffix(name, d.kind.Ending); ok && journal.ValidID(id) {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	slices.Reverse(ids)
	out := make([]Entry, min(len(ids), MostListed))
	left := int64(mostRead)
	for i := range out {
		out[i].ID = ids[i]
		if info, err := d.root.Lstat(ids[i] + d.kind.Ending); err == nil {
			left -= min(info.Size(), d.kind.Most)
		}
		if left < 0 {
			out[i].Err = fmt.Errorf("%s %s is not looked into: the folder holds more than %d MiB; open it by its name", d.kind.One, ids[i], mostRead>>20)
		}
	}
	return out, nil
}
