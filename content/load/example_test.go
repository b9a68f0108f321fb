package load_test

import (
	"context"
	"fmt"
	"testing/fstest"

	"faultwright/content/load"
)

func ExampleFS() {
	lib := load.FS(context.Background(), fstest.MapFS{
		"cards/earth-spike.md": {Data: []byte("---\ncard: earth-spike\ntitel: The earth spike\n---\nPush it into wet soil.\n")},
		"cards/bare-metal.md":  {Data: []byte("---\ncard: bare-metal\ntitle: Bare metal\n---\nPaint insulates.\n")},
	})
	fmt.Println(lib.Cards["bare-metal"].Title)
	for _, d := range lib.Diagnostics {
		fmt.Println(d)
	}
	// Output:
	// Bare metal
	// cards/earth-spike.md:2:1: error: the front matter of a card lacks the key title
	// cards/earth-spike.md:3:1: error: the front matter of a card has no key titel (did you mean title?)
	// quantities.yaml: error: the list of quantities is missing or could not be read
}
