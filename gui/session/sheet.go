package session

import (
	"faultwright/content/sheet"
	"faultwright/faulttree/visit"
)

// Format is a form that the sheet of a visit can be saved in.
type Format uint8

const (
	Printed Format = iota // HTML, which any browser prints
	Plain                 // Markdown, which reads as text
)

// Ending is how the names of its files end.
func (f Format) Ending() string {
	if f == Printed {
		return ".html"
	}
	return ".md"
}

// SheetName is what the file of a visit's sheet is called, without its ending.
func (s *Session) SheetName(v visit.Visit) string {
	return sheet.FileName(sheet.FromVisit(v, s.book, s.Now()), s.book)
}

// Sheet is the sheet of a visit for whoever repairs it.
func (s *Session) Sheet(v visit.Visit, f Format) []byte {
	made := sheet.FromVisit(v, s.book, s.Now())
	if f == Printed {
		return sheet.HTML(made, s.book)
	}
	return sheet.Markdown(made, s.book)
}
