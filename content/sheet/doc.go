// Package sheet writes what a visit found onto paper: one page of HTML that
// any browser prints, or Markdown, for whoever repairs it.
//
// A sheet is a function from values to bytes: an [Input] says what was walked,
// a content library supplies the words. Everything a person typed is shown as
// text, whatever it holds. A sheet records readings; it declares nothing dead
// and nothing free of faults, and it says so.
package sheet
