package trial

import (
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Draws is which draws orders are found from, and which they are measured on.
func Draws(h Handbook, tree string, o Options) (learn, held map[int]bool, err error) {
	t, err := prepare(h, tree, o)
	if err != nil {
		return nil, nil, err
	}
	s := t.newDataset(learnedFrom, heldOut)
	learn, held = map[int]bool{}, map[int]bool{}
	for number, slot := range s.slots {
		switch {
		case slot >= int32(s.heldOutFrom):
			held[number] = true
		case slot >= 0:
			learn[number] = true
		}
	}
	return learn, held, nil
}

// PointedAt is the places that a finding points at, when so many vehicles with a
// fault in a place ended there.
func PointedAt(h Handbook, tree, finding string, walks map[string]map[faulttree.Place]int) ([]faulttree.Place, error) {
	t, err := prepare(h, tree, Options{Rigs: 100})
	if err != nil {
		return nil, err
	}
	at, n := t.endpointAt[faulttree.ParseRef(finding, tree)], tasks{}
	for i, group := range t.plan.groups {
		for place, some := range walks[t.plan.faults[group[0]].ID] {
			n[taskCell{i + 1, place, at}] = some
		}
	}
	out := lists.Each(t.pointedAt(n, at, placeAlone), func(k task) faulttree.Place { return k.place })
	return out, nil
}

// See makes a draw of a trial again: the same handbook, tree and options give
// the same vehicle and the same walks. It shows the way to a finding, given as
// tree#step, in whichever role reaches it.
func See(h Handbook, tree string, o Options, number int, finding string) (Seen, error) {
	t, err := prepare(h, tree, o)
	if err != nil {
		return Seen{}, err
	}
	at, ok := t.endpointAt[faulttree.ParseRef(finding, tree)]
	if !ok {
		return Seen{}, fmt.Errorf("the tree %s does not lead to %q", tree, finding)
	}
	return t.newWorker().see(number, at)
}
