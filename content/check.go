package content

import (
	"context"

	"faultwright/faulttree/source"
)

// Check is everything wrong with the library, sorted by place.
func (l *Library) Check(ctx context.Context) source.List {
	return append(source.List(nil), l.Diagnostics...)
}
