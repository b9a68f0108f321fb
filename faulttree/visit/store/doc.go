// Package store keeps visits on disk, one journal file each, and is the only
// code of the program that writes them.
//
// Every record is appended and synced before [File.Append] returns. A journal
// comes into being under another name, is synced, and is then renamed, so that
// there is never half a header. No byte of a record that was confirmed is ever
// taken away, nor are damaged bytes: they stay where they are in the file, and
// [visit.Read] tells of them. A lock on the open file tells a second window
// that the visit is in use; it may still look, with [Store.Read].
package store
