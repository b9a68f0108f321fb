// Package cachelife tells the window library, before that starts, to keep what it
// has drawn only for a few seconds. Its own rule is a minute, and each line of
// text is a picture in memory: a reader who opens one card after another would
// fill hundreds of megabytes with pages long left.
//
// The library reads the variable FYNE_CACHE when its packages are initialised.
// Go initialises packages in the order of their import paths as soon as what
// they import is ready; this package imports os alone and sorts before
// fyne.io, so it comes first.
package cachelife

import "os"

// Keep is how long drawn things are kept after their last use.
const Keep = "3s"

func init() {
	if os.Getenv("FYNE_CACHE") == "" {
		os.Setenv("FYNE_CACHE", Keep)
	}
}
