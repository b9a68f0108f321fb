package content_test

import (
	"sync"

	"faultwright/content/load"
)

// shipped is the handbook inside the program, loaded once for all tests. None of
// them changes it.
var shipped = sync.OnceValue(load.Shipped)
