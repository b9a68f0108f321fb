package session

import (
	"faultwright/content/sheet"
	"faultwright/content/view"
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

// SheetAccount is what the readings of a visit's sheet tell of the vehicle.
func (s *Session) SheetAccount(v visit.Visit) view.Account {
	in := sheet.FromVisit(v, s.book, s.Now())
	a := view.AccountOf(in.Walk, len(in.Before))
	if rec, err := visit.Resume(unkept[visit.Visit]{record: v}, v, s.book.Forest); err == nil {
		a.Facts = rec.Known()
	}
	return a
}

// Sheet is the sheet of a visit for whoever repairs it. Fits is what fits its
// readings; nil where that was not worked out.
func (s *Session) Sheet(v visit.Visit, f Format, fits *view.Suspects) []byte {
	made := sheet.FromVisit(v, s.book, s.Now())
	made.Fits = fits
	if f == Printed {
		return sheet.HTML(made, s.book)
	}
	return sheet.Markdown(made, s.book)
}
