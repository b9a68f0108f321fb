// Package files keeps journals on disk, one file each in a folder of one kind.
//
// Every line is appended and synced before [File.Append] returns. A journal
// comes into being under another name, is synced, and is then renamed, so that
// there is never half a header. No byte of a record that was confirmed is ever
// taken away, nor are damaged bytes: they stay where they are in the file. A lock
// on the open file tells a second window that the journal is in use; it may still
// look, with [Folder.Read].
package files
