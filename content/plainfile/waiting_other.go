//go:build !unix

package plainfile

// withoutWaiting is nothing where no name of a folder can be a pipe.
const withoutWaiting = 0
