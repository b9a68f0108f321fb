//go:build unix

package plainfile

import "syscall"

// withoutWaiting makes opening a pipe return at once.
const withoutWaiting = syscall.O_NONBLOCK
