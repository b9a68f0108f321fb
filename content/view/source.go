package view

import "faultwright/content"

// SourceText is the title of a source, where in it, and how far it can be trusted.
func SourceText(lib *content.Library, id string) string {
	s := lib.Sources[id]
	if s == nil {
		return id
	}
	words := s.Title
	if s.Locator != "" {
		words += ", " + s.Locator
	}
	if status := statusWords(s.Status); status != "" {
		words += " (" + status + ")"
	}
	return words
}

func statusWords(status string) string {
	switch status {
	case "quoted":
		return "published, as quoted by another publication"
	case "derived":
		return "computed"
	case "memory":
		return "from memory, not verified"
	case "common":
		return "common practice, no source"
	}
	return status
}
