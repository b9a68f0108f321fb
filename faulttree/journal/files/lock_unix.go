//go:build darwin || dragonfly || freebsd || illumos || linux || netbsd || openbsd

package files

import (
	"errors"
	"fmt"
	"os"
	"syscall"
)

// lock takes the advisory lock of an open journal. The system lets go of it
// when the file is closed or its program ends, however it ends.
func lock(_ *os.Root, file *os.File, _ string) (unlock func() error, err error) {
	for {
		err = syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if err != syscall.EINTR {
			break
		}
	}
	switch {
	case errors.Is(err, syscall.EWOULDBLOCK):
		return nil, ErrElsewhere
	case err != nil:
		return nil, fmt.Errorf("it cannot be locked: %w", err)
	}
	// Closing alone would leave the lock to a program being started at this
	// moment, which shares the open file until it runs.
	return func() error { return syscall.Flock(int(file.Fd()), syscall.LOCK_UN) }, nil
}

func syncFolder(d *os.File) error {
	if err := d.Sync(); err != nil {
		return fmt.Errorf("the folder cannot be put on disk: %w", err)
	}
	return nil
}
