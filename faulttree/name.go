package faulttree

import (
	"cmp"
	"maps"
	"slices"

	"faultwright/faulttree/source"
)

// Name is another id of a tree, for readers of whom some facts are known: a walk
// that begins under it does not ask them.
type Name struct {
	ID, Title, Summary string
	Facts              map[string]string // fact id -> the choice that holds
	Pos                source.Pos
}

// AddName makes the tree t known under a name too. Call it once t is complete.
func (f *Forest) AddName(t *Tree, n Name) {
	named := *t
	named.ID, named.Title, named.Summary, named.Pos, named.nameOf = n.ID, n.Title, n.Summary, n.Pos, t.ID
	named.Facts = map[string]string{}
	maps.Copy(named.Facts, n.Facts)
	maps.Copy(named.Facts, t.Facts)
	if f.Names == nil {
		f.Names = map[string]*Tree{}
	}
	f.Names[n.ID] = &named
}

// Tree is the tree of this id or name; nil if there is none. Under a name it has
// that name as its id, and the name's title, summary and facts; its steps are
// those of the tree, and named after it.
func (f *Forest) Tree(id string) *Tree {
	if t := f.Trees[id]; t != nil {
		return t
	}
	return f.Names[id]
}

// Own is the id that the steps of t name it by: its id, or where that is a name,
// that of the tree.
func (t *Tree) Own() string { return cmp.Or(t.nameOf, t.ID) }

// NamedFor reports whether names of a tree are for choices of a fact: in a walk of it the
// fact is of what the tree is about, such as a receptacle, and need not be of the vehicle.
func (f *Forest) NamedFor(tree, fact string) bool {
	t := f.Tree(tree)
	if t == nil || t.Facts[fact] != "" {
		return t != nil
	}
	for _, n := range f.Names {
		if n.Own() == t.Own() && n.Facts[fact] != "" {
			return true
		}
	}
	return false
}

// Beginnings lists the ids and names of the trees, in order: all that a walk can
// begin with.
func (f *Forest) Beginnings() []string {
	return slices.Sorted(func(yield func(string) bool) {
		for id := range f.Trees {
			if !yield(id) {
				return
			}
		}
		for id := range f.Names {
			if f.Trees[id] == nil && !yield(id) {
				return
			}
		}
	})
}
