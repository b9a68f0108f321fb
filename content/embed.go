package content

import (
	"context"
	"embed"
	"io/fs"
)

//go:embed handbook
var shipped embed.FS

// ShippedFiles is the folder of the handbook inside the program.
func ShippedFiles() fs.FS {
	sub, err := fs.Sub(shipped, "handbook")
	if err != nil {
		return shipped // can not be: the name is a valid path
	}
	return sub
}

// Shipped loads the handbook inside the program.
func Shipped() *Library { return Load(context.Background(), ShippedFiles()) }
