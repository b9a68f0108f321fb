package shorthand

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"faultwright/content/contact"
	"faultwright/faulttree"
)

// Answer is what somebody says about a block. An empty part says nothing.
type Answer struct {
	Place string // the id of one of its Places
	State State  // that of one of its States
	Unit  string // that of one of its Units
}

// Resolve is the list with an answer for one block: rows that asked for what it
// says become quantities, or ask for what is still lacking. What the rows or
// their header say themselves is kept. The list given stays as it is.
func (r *Reader) Resolve(list *List, block int, a Answer) *List {
	out := &List{Rows: slices.Clone(list.Rows), Blocks: slices.Clone(list.Blocks)}
	if block < 0 || block >= len(out.Blocks) {
		return out
	}
	b := &out.Blocks[block]
	b.Place, b.State, b.Unit = cmp.Or(a.Place, b.Place), cmp.Or(a.State, b.State), cmp.Or(a.Unit, b.Unit)
	r.settle(out)
	return out
}

// open counts, for what a block lacks, the rows that each choice suits.
type open struct {
	places map[string]int
	states map[State]int
	units  map[string]int
}

// settle gives every row its quantity, what it lacks, or why it is none.
func (r *Reader) settle(list *List) {
	lacks := make([]open, len(list.Blocks))
	for i := range list.Rows {
		row := &list.Rows[i]
		if row.Typed == "" || row.fixed {
			continue
		}
		r.settleRow(row, list.Blocks[row.Block], &lacks[row.Block])
	}
	for i := range list.Blocks {
		list.Blocks[i].choose(lacks[i])
	}
}

// settleRow gives one row its quantity.
func (r *Reader) settleRow(row *Row, b Block, lacks *open) {
	row.Kind, row.Quantity, row.Reading, row.Why, row.Nearest = Refused, "", faulttree.Reading{}, "", nil
	row.Told = row.Told || b.said.told
	row.Doubtful = row.Doubtful || b.said.doubtful
	k := row.known(b)
	if !r.points(row, &k) {
		return
	}
	found := r.fitting(k.between, k.stands, k.measured)
	if len(found) == 0 {
		row.Why, row.Nearest = r.explain(k)
		return
	}
	if at := distinct(found, placeOf); len(at) > 1 || at[0] != "" && !k.placed() {
		if b.Place == "" || b.Place == k.site {
			row.Kind = Asked
			count(&lacks.places, at)
			return
		}
		k.site = b.Place
		if found = r.fitting(k.between, k.stands, k.measured); len(found) == 0 {
			row.Why, row.Nearest = r.explain(k)
			return
		}
	}
	if all := distinct(found, stateOf); len(all) > 1 {
		if b.State == "" {
			row.Kind = Asked
			count(&lacks.states, all)
			return
		}
		if found = slices.DeleteFunc(found, func(q quantity) bool { return q.state != b.State }); len(found) == 0 {
			row.Why = "This pair is not read in that state: " + stateTitles[b.State] + "."
			return
		}
	}
	if all := distinct(found, unitSymbol); k.unit == "" && (len(all) > 1 || all[0] != "V") && !found[0].OfMeter() {
		row.Kind = Asked // ohms are never taken for granted
		if !slices.Contains(all, "V") {
			all = append(all, "V")
		}
		count(&lacks.units, all)
		return
	}
	r.take(row, k, found)
}

// known is what a row and its block say, but for the points.
func (row *Row) known(b Block) known {
	k := known{site: row.said.Site, words: row.said, unit: cmp.Or(row.said.unit, b.Unit)}
	if k.site == "" && b.said.Site != nowhere {
		k.site = b.said.Site
	}
	k.words.elsewhere = k.words.elsewhere || b.said.elsewhere
	if !row.said.stated() {
		k.words.Conditions, k.words.Light = b.said.Conditions, b.said.Light
	}
	return k
}

// Suits reports whether a row of a list is, or may be once what is asked is
// answered, a reading of a quantity.
func (r *Reader) Suits(list *List, row Row, id string) bool {
	if row.Kind != Asked {
		return row.Kind == Taken && row.Quantity == id
	}
	k := row.known(list.Blocks[row.Block])
	if !r.points(&row, &k) {
		return false
	}
	is := func(q quantity) bool { return q.ID == id }
	return len(r.fitting(is, k.between, k.stands, k.measured)) > 0
}

// take makes a row the reading of the one quantity that fits.
func (r *Reader) take(row *Row, k known, found []quantity) {
	for _, q := range found {
		row.Nearest = append(row.Nearest, q.ID)
	}
	q := found[0]
	if len(found) > 1 {
		row.Nearest = row.Nearest[:min(len(row.Nearest), mostNearest)]
		row.Why = "This can be more than one reading of the handbook: " + titles(found) + "."
		return
	}
	if _, reversed := k.pair(q); reversed && q.Unit.Signed() && !q.SizeOnly {
		row.Why = fmt.Sprintf("The probes were the other way round, and the sign tells: %s has red on the first. Turn the sign, and the points.", q.Title)
		return
	}
	reading, err := faulttree.ParseReading(row.Typed, q.Quantity)
	if err != nil {
		row.Why = err.Error()
		return
	}
	row.Kind, row.Quantity, row.Reading, row.Nearest = Taken, q.ID, reading, nil
}

// directPlace holds where a voltage is between two posts unless something else
// is said; usualPlace where nobody who gives one figure says of what.
var (
	directPlace = contact.Set("battery dc converter tow")
	usualPlace  = contact.Set("pedestal outlet panel generator inverter")
)

// points gives k the points of a row; false where they are none that a meter
// can stand between, which the row then says.
func (r *Reader) points(row *Row, k *known) bool {
	var points []contact.Point
	for _, p := range row.said.Points {
		if p.Contact == contact.GroundWord {
			if k.unit != "Ω" {
				row.Why = "The ground beside the body may be the spike in the soil or a grounding contact. Say which."
				row.Nearest = []string{"body-earth"}
				return false
			}
			p.Contact = contact.G
		}
		points = append(points, p)
	}
	switch {
	case k.words.elsewhere:
		row.Why = "This was read at another supply than the one in question."
		return false
	case row.said.Unknown || len(points) > 2:
		row.Why = "One of the points is none that the handbook has, or there are more than two."
		return false
	case len(points) == 2:
		k.a, k.b = points[0], points[1]
		return true
	case len(points) == 0 && k.site == "meter":
		k.a = contact.Point{Place: "meter"}
		return true
	case len(points) == 0:
		points = []contact.Point{{Place: k.site}}
	}
	p := points[0]
	place := cmp.Or(p.Place, k.site)
	switch {
	case k.unit == "A" && p.Contact != "", p.Contact == contact.Leads, p.Contact == contact.Tips:
		k.a = p
		return true
	case directPlace[place] && (p.Contact == "" || p.Contact == contact.Pos):
		k.a, k.b = contact.Point{Contact: contact.Pos, Place: place}, contact.Point{Contact: contact.Neg, Place: place}
		return true
	}
	row.Why = "Only one point is said. Where was the other probe?"
	other := contact.Point{Contact: contact.N}
	switch p.Contact {
	case "":
		p.Contact = contact.Hot
	case contact.Body:
		other.Contact = contact.Soil
	case contact.N:
		other.Contact = contact.G
	}
	near := *k
	near.a, near.b = p, other
	row.Nearest = ids(r.fitting(near.between, near.stands, near.measured))
	return false
}

// count adds one to each of the choices.
func count[T comparable](in *map[T]int, choices []T) {
	if *in == nil {
		*in = map[T]int{}
	}
	for _, c := range choices {
		(*in)[c]++
	}
}

// choose lists what is to be asked of a block.
func (b *Block) choose(lacks open) {
	b.Places, b.States, b.Units = nil, nil, nil
	for _, p := range places {
		if lacks.places[p.ID] > 0 {
			b.Places = append(b.Places, p)
		}
	}
	slices.SortStableFunc(b.Places, func(p, q Choice) int { return lacks.places[q.ID] - lacks.places[p.ID] })
	for _, s := range states {
		if lacks.states[s] > 0 {
			b.States = append(b.States, Choice{string(s), stateTitles[s]})
		}
	}
	for _, u := range []string{"V", "Ω", "A"} {
		if lacks.units[u] > 0 {
			b.Units = append(b.Units, Choice{u, unitTitles[u]})
		}
	}
}

const mostNearest = 3

// ids are those of the quantities that come nearest.
func ids(list []quantity) []string {
	out := distinct(list, func(q quantity) string { return q.ID })
	return out[:min(len(out), mostNearest)]
}

func titles(list []quantity) string {
	out := distinct(list, func(q quantity) string { return "“" + q.Title + "”" })
	return strings.Join(out[:min(len(out), mostNearest)], ", ")
}

// explain says why no quantity fits, and which come nearest: those in another
// state, in another unit, or at another place.
func (r *Reader) explain(k known) (why string, nearest []string) {
	off := func(a contact.Atom) bool { c, _ := a.Condition(); return slices.Contains(k.words.Conditions, c) }
	if near := r.fitting(k.between, k.measured); len(near) > 0 {
		why = "This pair is read in another state than the one that is said: " + statesOf(near) + "."
		if off(contact.Off) || off(contact.Dead) {
			why = "With the supply off this reading says nothing of it: the pair is read with the power on."
		}
		return why, ids(near)
	}
	if near := r.fitting(k.between, k.stands); len(near) > 0 {
		return "This pair is read there in " + unitTitles[near[0].Unit.Symbol()] + ", not in " + unitTitles[k.unit] + ".", ids(near)
	}
	elsewhere := k
	elsewhere.site, elsewhere.a.Place, elsewhere.b.Place = "", "", ""
	if near := r.fitting(elsewhere.between, k.stands, k.measured); len(near) > 0 {
		return "The handbook has no such reading there. The nearest: " + titles(near) + ".", ids(near)
	}
	return "The handbook has no reading of " + named(k.a, k.b) + " in that unit.", nil
}

// statesOf words the states of quantities: "with nothing plugged in, or loads on".
func statesOf(list []quantity) string {
	var out []string
	for _, s := range distinct(list, stateOf) {
		out = append(out, stateTitles[s])
	}
	return strings.Join(out, "; or ")
}

var shortNames = map[contact.Atom]string{
	contact.Hot: "hot", contact.L1: "L1", contact.L2: "L2", contact.N: "neutral", contact.G: "ground", contact.GroundWord: "ground",
	contact.Pos: "positive", contact.Neg: "negative", contact.Body: "body", contact.Soil: "earth spike",
	contact.Cover: "cover", contact.Leads: "the tips together", contact.Tips: "the tips apart",
}

// named are two points in words; places are told where they are two.
func named(a, b contact.Point) string {
	of := func(p contact.Point) string {
		name := cmp.Or(shortNames[p.Contact], p.Place)
		if a.Place != b.Place && a.Place != "" && b.Place != "" && p.Contact != "" {
			name += " of the " + p.Place
		}
		return name
	}
	if b == (contact.Point{}) {
		return of(a)
	}
	return of(a) + " to " + of(b)
}

// pairOf are the points of a label in words.
func pairOf(w words) string {
	switch len(w.Points) {
	case 0:
		return w.Site
	case 1:
		return named(w.Points[0], contact.Point{})
	}
	return named(w.Points[0], w.Points[1])
}
