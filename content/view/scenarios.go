package view

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
)

// Scenarios lists the scenarios of a handbook by rig, then by title.
func Scenarios(lib *content.Library) []*content.Scenario {
	return slices.SortedFunc(maps.Values(lib.Scenarios), func(a, b *content.Scenario) int {
		return cmp.Or(cmp.Compare(a.Rig.Title, b.Rig.Title), cmp.Compare(a.Title, b.Title), cmp.Compare(a.ID, b.ID))
	})
}

// Teaser is the beginning of a scenario's story, a sentence or so.
func Teaser(s *content.Scenario) string {
	const most = 110
	text := strings.Join(strings.Fields(document.Plain(s.Body)), " ")
	if i := strings.IndexAny(text, ".?"); i >= 0 && i < most {
		return text[:i+1]
	}
	if len(text) <= most {
		return text
	}
	cut := strings.LastIndexByte(text[:most], ' ')
	if cut < 0 {
		return ""
	}
	return strings.TrimRight(text[:cut], ",;:") + "…"
}
