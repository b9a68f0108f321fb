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

// Each calls look with every journal, the newest first by name. The error says why
// a list should not look into it.
func (d *Folder) Each(look func(id string, err error)) error {
	names, err := d.names()
	if err != nil {
		return err
	}
	var ids []string
	for _, name := range names {
		if id, ok := strings.CutSuffix(name, d.kind.Ending); ok && journal.ValidID(id) {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	slices.Reverse(ids)
	left := int64(mostRead)
	for _, id := range ids[:min(len(ids), MostListed)] {
		if info, err := d.root.Lstat(id + d.kind.Ending); err == nil {
			left -= min(info.Size(), d.kind.Most)
		}
		var over error
		if left < 0 {
			over = fmt.Errorf("%s %s is not looked into: the folder holds more than %d MiB; open it by its name", d.kind.One, id, mostRead>>20)
		}
		look(id, over)
	}
	return nil
}
