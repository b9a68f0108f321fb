// Command faultwright-cli is the handbook in a terminal: it walks fault trees
// reading by reading, checks content, searches, shows cards and makes the
// sheet of a visit. It needs no display and is built without cgo.
package main

import (
	"context"
	"os"
)

func main() {
	os.Exit(run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr, os.Getenv))
}
