package class

import (
	"context"

	"faultwright/content"
	"faultwright/faulttree/practice"
)

// Marker marks an attempt that was verified.
type Marker interface {
	Mark(ctx context.Context, s *content.Scenario, c practice.Case, a practice.Attempt) (*Marks, error)
}

// Marks is the marks of an attempt.
type Marks struct{}
