// Package store keeps attempts at practice on disk, one journal file each, apart
// from visits; see [faultwright/faulttree/journal/files] for how.
package store
