package view

import "faultwright/content/document"

// Sentences is [document.Sentences].
func Sentences(text string) []string { return document.Sentences(text) }

// Sentence is [document.Sentence].
func Sentence(text string) string { return document.Sentence(text) }

// Capital is [document.Capital].
func Capital(text string) string { return document.Capital(text) }
