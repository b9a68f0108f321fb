package scene

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// Limit is an alternating voltage between two test points at and above which it
// hurts whoever touches the first or, where it Burns, what is switched on between
// them.
type Limit struct {
	Red, Black string
	From       faulttree.Amount
	Burns      bool
}

// between reports whether the limit is of these two points, either way round.
func (l Limit) between(a, b string) bool {
	return l.Red == a && l.Black == b || l.Red == b && l.Black == a
}

// DangerBetween is the limit that a reading between two points may have reached
// on a meter; false where there is none.
func (b Book) DangerBetween(red, black string, r faulttree.Reading) (Limit, bool) {
	q := faulttree.Quantity{Unit: faulttree.VoltsAC, Red: red, Black: black}
	all := b.limits()
	return lists.Find(all, func(l Limit) bool { return l.between(red, black) && b.Meter.MayHurt(r, q, l.From) })
}

// limits are those of the book, that of the body first.
func (b Book) limits() []Limit {
	if b.BodyLimit <= 0 {
		return b.Limits
	}
	return append([]Limit{{Red: "body", Black: "earth", From: b.BodyLimit}}, b.Limits...)
}

// mayHurt reports whether a meter may read a voltage as one that reaches a limit.
func (b Book) mayHurt(l Limit, volts float64) bool {
	const most = 1e6 // far beyond any meter
	at := faulttree.Amount(math.Round(min(volts, most) * float64(faulttree.One)))
	return b.Meter.MayHurt(faulttree.Reading{Low: at, High: at}, faulttree.Quantity{Unit: faulttree.VoltsAC, Red: l.Red, Black: l.Black}, l.From)
}

// Dangers lists the nodes between which voltages may be read as reaching a limit, and
// says of each kind of them, the highest first, what it does. Volts are those of a
// drawing.
func (b Book) Dangers(volts map[string]complex128) (nodes map[string]bool, why []string) {
	type danger struct {
		limit Limit
		volts complex128
	}
	nodes = map[string]bool{}
	worst := map[string]danger{} // of those that burn and of the neutral by wire, of others that hurt by point
	for _, l := range b.limits() {
		x, okX := volts[l.Red]
		y, okY := volts[l.Black]
		okY = okY || l.Black == "earth" // a rig without a spike: remote earth
		if !okX || !okY || !b.mayHurt(l, cmplx.Abs(x-y)) {
			continue
		}
		key := l.Red
		if l.Burns || wireOf(l.Red) == "n" {
			key = "wire " + wireOf(l.Red)
		}
		if l.Burns {
			nodes[l.Red], nodes[l.Black] = true, true
		} else if cmplx.Abs(x) >= cmplx.Abs(y) { // what stands off earth, not what it was read from
			nodes[l.Red] = true
		} else {
			nodes[l.Black] = true
		}
		if d, seen := worst[key]; !seen || cmplx.Abs(x-y) > cmplx.Abs(d.volts)*1.001 {
			worst[key] = danger{l, x - y}
		}
	}
	all := []danger{}
	for _, d := range worst {
		all = append(all, d)
	}
	slices.SortFunc(all, func(a, c danger) int {
		return cmp.Or(cmp.Compare(cmplx.Abs(c.volts), cmplx.Abs(a.volts)), strings.Compare(a.limit.Red, c.limit.Red))
	})
	for _, d := range all {
		why = append(why, d.limit.Sentence(rig.FormatVolts(d.volts, false)))
	}
	return nodes, why
}

// Sentence says what a voltage that has reached the limit does.
func (l Limit) Sentence(volts string) string {
	from := l.From.With(faulttree.VoltsAC)
	switch {
	case l.Burns:
		return fmt.Sprintf("%s to neutral, %s, stands at %s: from %s on, what is switched on there burns.", wireWord(wireOf(l.Red)), rig.Group(l.Red), volts, from)
	case l.Red == "body":
		return fmt.Sprintf("The body stands %s above earth: it can kill whoever touches it while standing on the ground.", volts)
	}
	return fmt.Sprintf("%s stands %s from %s: from %s on it can hurt whoever touches it.", pointWord(l.Red), volts, strings.ToLower(pointWord(l.Black)), from)
}

func wireOf(point string) string {
	_, wire, _ := strings.Cut(point, ".")
	return wire[strings.LastIndexByte(wire, '-')+1:]
}

func pointWord(point string) string {
	group, wire, ok := strings.Cut(point, ".")
	if !ok {
		return strings.ToUpper(point[:1]) + point[1:]
	}
	return strings.ToUpper(group[:1]) + group[1:] + " " + wireWord(wire)
}
