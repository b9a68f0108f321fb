// Package store keeps visits on disk, one journal file each; see
// [faultwright/faulttree/journal/files] for how.
package store
