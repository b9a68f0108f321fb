//go:build !(darwin || dragonfly || freebsd || illumos || linux || netbsd || openbsd)

package files

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// lock makes a second file beside the journal, which only one can make. A
// program that is killed leaves it behind; the error says how to go on.
func lock(root *os.Root, _ *os.File, name string) (unlock func() error, err error) {
	beside := name + ".lock"
	f, err := root.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	switch {
	case errors.Is(err, fs.ErrExist):
		return nil, fmt.Errorf("%w. If no window has it open, delete the file %s", ErrElsewhere, beside)
	case err != nil:
		return nil, fmt.Errorf("it cannot be locked: %w", err)
	}
	f.Close()
	return func() error { return root.Remove(beside) }, nil
}

// syncFolder does nothing: folders cannot be synced here.
func syncFolder(*os.File) error { return nil }
