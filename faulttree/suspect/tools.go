package suspect

import (
	"cmp"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Tools is what a reader has beside an ordinary multimeter. The zero value is
// nothing.
type Tools uint8

// The tools that quantities need.
const (
	Clamp        Tools = 1 << iota // for alternating current
	ClampDC                        // for direct current, and so for alternating
	LowImpedance                   // a meter that loads what it reads
)

// Tool is one of them.
type Tool struct {
	Is        Tools
	ID, Title string
}

// AllTools are all that a reader may say he has.
func AllTools() []Tool {
	return []Tool{
		{Clamp, "clamp", "A clamp meter for alternating current"},
		{ClampDC, "dc-clamp", "A clamp meter that reads direct current too"},
		{LowImpedance, "low-impedance", "A low-impedance setting (LoZ) on the meter"},
	}
}

// ToolIDs are the ids of all tools.
func ToolIDs() []string {
	return lists.Each(AllTools(), func(t Tool) string { return t.ID })
}

// ToolsOf is the tools of some ids; unknown is the first that is none, "" for none.
func ToolsOf(ids []string) (has Tools, unknown string) {
	all := AllTools()
	for _, id := range ids {
		i := slices.IndexFunc(all, func(t Tool) bool { return t.ID == id })
		if i < 0 {
			unknown = cmp.Or(unknown, id)
			continue
		}
		has |= all[i].Is
	}
	return has, unknown
}

// IDs are the ids of the tools.
func (t Tools) IDs() []string {
	out := []string{}
	for _, one := range AllTools() {
		if t&one.Is != 0 {
			out = append(out, one.ID)
		}
	}
	return out
}

// read reports whether q can be read with a multimeter and these.
func (t Tools) read(q faulttree.Quantity) bool {
	switch {
	case q.Unit == faulttree.AmpsAC:
		return t&(Clamp|ClampDC) != 0
	case q.Unit == faulttree.AmpsDC:
		return t&ClampDC != 0
	case q.Has(faulttree.LowZ):
		return t&LowImpedance != 0
	}
	return true
}
