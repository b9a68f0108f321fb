package view

import (
	"strings"

	"faultwright/content"
	"faultwright/faulttree/visit"
)

// VisitState words how a visit stands in the handbook in use: what its walk and
// each test after repair ended in, and how much they read. It says whether the
// last of them has ended.
func VisitState(lib *content.Library, v visit.Visit) (text string, ended bool) {
	rounds := v.Replay(lib.Forest)
	last := rounds[len(rounds)-1]
	if last.Err != nil {
		return "The handbook in use cannot go on with it: " + Sentence(last.Err.Error()), true
	}
	var said []string
	for i, p := range rounds {
		said = append(said, roundState(lib, p, i > 0))
	}
	switch n := len(last.Lapsed()); n {
	case 0:
	case 1:
		said = append(said, "1 answer no longer fits this handbook and is kept aside.")
	default:
		said = append(said, Count(n, "answer")+" no longer fit this handbook and are kept aside.")
	}
	return strings.Join(said, " "), last.Walk.Ended()
}

func roundState(lib *content.Library, p visit.Played, again bool) string {
	v, ended := FindingOf(lib, p.Walk)
	read := Capital(ReadingsTaken(p.Walk)) + "."
	switch {
	case ended && again:
		return "Test after repair: " + Sentence(v.Headline()) + " " + read
	case ended:
		return Sentence(v.Headline()) + " " + read
	case again && p.Walk.Readings() == 0:
		return "Test after repair: begun, nothing has been read again yet."
	case again:
		return "Test after repair: begun, " + ReadingsTaken(p.Walk) + " taken again."
	}
	return "Unfinished. " + read
}
