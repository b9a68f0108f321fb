package store

import "faultwright/faulttree/journal/files"

// Folder is where visits are kept: faultwright/visits in the user's data
// folder; see [files.Place]. Env looks up a variable.
func Folder(env func(string) string) (string, error) { return files.Place(env, "visits") }
