package content

import (
	"embed"
	"io/fs"
)

//go:embed handbook
var shipped embed.FS

// ShippedFiles is the folder of the handbook inside the program.
func ShippedFiles() fs.FS {
	sub, err := fs.Sub(shipped, "handbook")
	if err != nil {
		return shipped // cannot be: the name is a valid path
	}
	return sub
}
