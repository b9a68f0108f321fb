package class

import (
	"context"
	"time"

	"faultwright/content"
	"faultwright/faulttree/practice"
)

// Marker marks an attempt that was verified.
type Marker interface {
	Mark(ctx context.Context, s *content.Scenario, c practice.Case, a practice.Attempt) (*Marks, error)
}

// Marks is the marks of an attempt.
type Marks struct {
	Total int // of 100
	Word  string
	Caps  []Cap
	Parts []Part
	Early bool // concluded before the readings held it
}

// Cap is an unsafe act.
type Cap struct {
	Rule string
	Act  int
	At   time.Duration
	Text string
	Card string
}

// Part is a part of the marks.
type Part struct {
	ID, Title  string
	Points, Of int
	Reason     string
	Acts       []int
	Card       string
}

// Missed lists the cards of the concepts that were missed.
func (m Marks) Missed() []string {
	var out []string
	for _, p := range m.Parts {
		if p.Card != "" && p.Points < p.Of {
			out = append(out, p.Card)
		}
	}
	return out
}

// NewMarker marks by the rubric of a handbook.
func NewMarker(lib *content.Library) Marker { return nil }
