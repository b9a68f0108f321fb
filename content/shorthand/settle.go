package shorthand

import (
	"cmp"
	"fmt"
	"slices"

	"faultwright/content/contact"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
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
	b.answer = Answer{cmp.Or(a.Place, b.answer.Place), cmp.Or(a.State, b.answer.State), cmp.Or(a.Unit, b.answer.Unit)}
	b.Place, b.State, b.Unit = cmp.Or(b.Place, a.Place), b.answer.State, cmp.Or(b.said.unit, b.answer.Unit)
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
	if id := row.said.quantity; id != "" {
		r.take(row, known{}, []quantity{{Quantity: r.byID[id]}})
		return
	}
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
		if b.answer.Place == "" {
			row.Kind = Asked
			count(&lacks.places, at)
			return
		}
		k.site = b.answer.Place
		if found = r.fitting(k.between, k.stands, k.measured); len(found) == 0 {
			row.Why, row.Nearest = r.explain(k)
			return
		}
	}
	if all := distinct(found, stateOf); len(all) > 1 {
		if b.State == "" {
			row.Kind, row.May = Asked, distinct(found, idOf)
			count(&lacks.states, all)
			return
		}
		if found = slices.DeleteFunc(found, func(q quantity) bool { return q.state != b.State }); len(found) == 0 {
			row.Why = "This pair is not read in that state: " + stateTitles[b.State] + "."
			return
		}
	}
	if all := distinct(found, unitSymbol); k.unit == "" && (len(all) > 1 || all[0] != "V") && !found[0].OfMeter() {
		row.Kind, row.May = Asked, distinct(found, idOf) // ohms are never taken for granted
		all = lists.With(all, "V")
		count(&lacks.units, all)
		return
	}
	r.take(row, k, found)
}

// known is what a row and its block say, but for the points.
func (row *Row) known(b Block) known {
	k := known{site: row.said.Site, words: row.said, unit: cmp.Or(row.said.unit, b.Unit)}
	k.site = cmp.Or(k.site, b.said.Site)
	vague := func(place string) bool { // a receptacle of the pedestal, or an outlet inside
		return place == "outlet" && receptacles[b.said.Site] || place == "plug" && contact.IsPart("plug", b.said.Site)
	}
	said := row.said.Points
	apart := len(said) == 2 && said[0].Place != "" && said[1].Place != "" && said[0].Place != said[1].Place // end to end
	for _, p := range said {
		if vague(p.Place) && !apart {
			p.Place = ""
		}
		k.points = append(k.points, p)
	}
	if k.site == nowhere || vague(k.site) {
		k.site = ""
	}
	k.words.elsewhere = k.words.elsewhere || b.said.elsewhere
	if !row.said.stated() {
		k.words.Conditions, k.words.LoadsOff = b.said.Conditions, b.said.LoadsOff
	}
	k.words.Said = k.words.WithRunning(k.site)
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
	row.Kind, row.Quantity, row.Reading, row.Nearest, row.May = Taken, q.ID, reading, nil, nil
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
