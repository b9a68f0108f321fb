// Package document reads the files of a handbook: Markdown with a YAML front
// matter and fenced YAML blocks, every part with its place in the file.
//
// [Parse] turns a [source.File] into a [Document]: the front matter as a
// [Value] and the text as a list of [Block] values, which the window draws,
// the search indexes and the sheet prints. A [Value] is YAML read strictly:
// each accessor says what it expects, and what does not fit becomes a
// diagnostic at its line and column instead of an error that ends the reading.
//
// The package knows nothing of trees or cards, and no file system.
package document
