package load

import (
	"errors"
	"maps"
	"regexp"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// measurables is the list of test points and quantities. Broken holds the ids
// of entries that could not be read, so that their use is not reported again.
type measurables struct {
	points     map[string]faulttree.Point
	quantities faulttree.Quantities
	broken     map[string]bool
	offVehicle map[string]bool // by what stands before the dot in the id of a point
	facts      []faulttree.Fact
	factsLost  bool                       // the list of facts is at fault: what it lacks is not reported
	methods    map[string]*content.Method // by quantity
	methodAt   map[string]source.Pos      // where a method names the quantity
	weights    faulttree.Weights
	touch      faulttree.Touch
	heat       rig.Heat
	states     []rig.StateRule
}

var pointForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9]+(-[a-z0-9]+)*)?$`)

// read fills m from the list of quantities.
func (m *measurables) read(p *part) {
	m.broken = map[string]bool{}
	root := document.ParseYAML(p.file, &p.diags).Map("the list of quantities", "points", "off-vehicle", "quantities", "exposures", "touch", "hot", "states", "fed")
	for _, item := range atMost(mostPoints, root.Need("points"), "points") {
		m.point(p, item)
	}
	m.apart(root.Get("off-vehicle"))
	for _, item := range atMost(mostQuantities, root.Need("quantities"), "quantities") {
		m.quantity(p, item)
	}
	m.exposures(root.Get("exposures"))
	m.readStates(p, root.Get("states"))
	m.readFed(p, root.Get("fed"))
	if root.Has("touch") {
		m.hand(p, root.Get("touch"))
	}
	if root.Has("hot") {
		f := root.Get("hot").Map("hot", "contact", "metre", "source")
		m.heat.Contact, _ = readValue(f.Need("contact"), "contact", rig.Watts)
		m.heat.Metre, _ = readValue(f.Need("metre"), "metre", rig.Watts)
		f.Need("source")
		p.referTo(refSource, f, "source")
	}
}

// hand reads what a hand may touch, and from where on it can hurt.
func (m *measurables) hand(p *part, v document.Value) {
	f := v.Map("touch", "point", "soil", "from", "source")
	m.touch = faulttree.Touch{Point: f.NeedText("point"), Soil: f.NeedText("soil"), From: m.size(f.Need("from"), "from", faulttree.VoltsAC)}
	if id := m.touch.Point; id != "" && len(m.points) > 0 {
		if _, ok := m.points[id]; !ok {
			f.Get("point").Report(RuleBadQuantity, "", "the test point %s is not in the list", id)
		}
	}
	f.Need("source")
	p.referTo(refSource, f, "source")
}

// exposures reads what a reading of each exposure costs beside the others.
func (m *measurables) exposures(v document.Value) {
	m.weights = faulttree.DefaultWeights()
	names := faulttree.ExposureNames()
	f := v.Map("exposures", names...)
	least := 1
	for _, name := range names {
		e, _ := faulttree.ParseExposure(name)
		if f.Has(name) {
			m.weights[e] = f.Get(name).Number("the weight of "+name, 1, 100)
		}
		if m.weights[e] < least {
			v.Report(RuleBadExposure, "", "a reading of exposure %s counts %d, less than a lesser exposure; expected the order %s", name, m.weights[e], strings.Join(names, ", "))
		}
		least = max(least, m.weights[e])
	}
}

func (m *measurables) point(p *part, item document.Value) {
	f := item.Map("a test point", "id", "title", "place", "needs")
	id := f.NeedText("id")
	if id == "" {
		return
	}
	if !pointForm.MatchString(id) {
		f.Get("id").Report(RuleBadID, "", "%s is not the id of a test point; expected a form such as body or pedestal.l1", id)
	}
	if first, twice := m.points[id]; twice {
		twiceDefined(&p.diags, f.Get("id").Pos(), first.Pos, "the test point "+id)
		return
	}
	point := faulttree.Point{ID: id, Title: f.NeedText("title"), Pos: f.Get("id").Pos()}
	point.Place = oneOf(f.Get("place"), "place", faulttree.Places())
	point.Needs = m.needs(f.Get("needs"))
	m.points[id] = point
}

func (m *measurables) quantity(p *part, item document.Value) {
	before := len(p.diags)
	f := item.Map("a quantity", "id", "title", "unit", "range", "most", "exposure", "take", "size-only", "needs", "proves")
	idAt, unitAt := f.Need("id"), f.Need("unit")
	q := faulttree.Quantity{ID: idAt.Text("id"), Title: f.NeedText("title"), Pos: idAt.Pos()}
	if q.ID == "" {
		return
	}
	if first, twice := m.quantities[q.ID]; twice {
		twiceDefined(&p.diags, q.Pos, first.Pos, "the quantity "+q.ID)
		return
	}
	q.Unit, _ = faulttree.ParseUnit(oneOf(unitAt, "unit", faulttree.UnitNames()))
	name, err := faulttree.ParseQuantityName(q.ID, func(point string) bool { _, ok := m.points[point]; return ok })
	if err != nil {
		hint, unknown := "", (*faulttree.UnknownPointError)(nil)
		if errors.As(err, &unknown) {
			hint = source.DidYouMean(unknown.Point, slices.Sorted(maps.Keys(m.points)))
		}
		idAt.Report(RuleBadQuantity, hint, "the id %v", err)
	} else if want := (map[string]string{"": "V", "ohm": "Ω", "amp": "A"})[name.Prefix]; q.Unit != 0 && q.Unit.Symbol() != want {
		unitAt.Report(RuleBadQuantity, "", "the unit of %s is %s, but its id stands for %s", q.ID, q.Unit, want)
	}
	q.Red, q.Black, q.Conditions = name.Red, name.Black, name.Conditions
	q.Needs = m.needs(f.Get("needs")).And(m.points[q.Red].Needs).And(m.points[q.Black].Needs)
	q.OffVehicle = m.offVehicle[placeIn(q.Red)] && (q.Black == "" || m.offVehicle[placeIn(q.Black)])
	m.possible(q, idAt)
	m.proof(&q, f)
	q.Range = m.size(f.Need("range"), "range", q.Unit)
	q.Most = m.size(f.Need("most"), "most", q.Unit)
	if f.Has("exposure") {
		q.Exposure, _ = faulttree.ParseExposure(oneOf(f.Get("exposure"), "exposure", faulttree.ExposureNames()))
		deadOnLive(f.Get("exposure"), q)
	}
	q.Take = takeOf(f.Get("take"))
	touches(f.Get("take"), q.Take, []faulttree.Quantity{q})
	if q.SizeOnly = flag(f, "size-only"); q.SizeOnly && q.Unit != 0 && !q.Unit.Signed() {
		f.Get("size-only").Report(RuleBadValue, "leave it out", "size-only is for direct volts and amps; %s has no sign", q.Unit)
	}
	if q.Most < q.Range && len(p.diags) == before {
		f.Get("most").Report(RuleBadValue, "", "most is below range; expected the largest reading that is not absurd")
	}
	if len(p.diags) > before {
		m.broken[q.ID] = true
	}
	if q.Unit != 0 {
		m.quantities[q.ID] = q
	} else {
		m.broken[q.ID] = true
	}
}

// proof reads what of the reader's own gear q proves. What is read on one point
// without a clamp, or on a point of the meter, must say it: a proof of the meter
// whose author forgot it would prove nothing.
func (m *measurables) proof(q *faulttree.Quantity, f document.Map) {
	at, red, black := f.Get("proves"), m.points[q.Red], m.points[q.Black]
	ofMeter := red.Place == faulttree.MeterOwn || black.Place == faulttree.MeterOwn
	alone := q.Red != "" && q.Black == "" && q.Unit != faulttree.AmpsAC && q.Unit != faulttree.AmpsDC
	if !f.Has("proves") {
		if ofMeter || alone {
			f.Get("id").Report(RuleBadQuantity, "", "%s does not say what of the meter it proves; expected proves: %s, or two test points of a vehicle or its supply", q.ID, either(faulttree.ProofNames()))
		}
		return
	}
	q.Proves = faulttree.ParseProof(oneOf(at, "proves", faulttree.ProofNames()))
	fits, form := ofMeter && alone, "on one test point of place meter"
	if q.Proves == faulttree.ProvesSpike {
		fits, form = red.Place == faulttree.Supply && black.ID != "" && black.Place == "", "from a point of place supply to one of no place, the spike"
	}
	switch other := m.quantities.Proving(q.Proves); {
	case q.Proves == 0:
	case q.Unit != 0 && q.Unit != q.Proves.Unit():
		at.Report(RuleUnitMismatch, "", "proves is %s, which is read in %s, but the quantity is in %s", q.Proves, q.Proves.Unit(), q.Unit)
	case !fits || len(q.Conditions) > 0:
		at.Report(RuleBadQuantity, "", "proves is %s, but %s is not read %s, under no condition", q.Proves, q.ID, form)
	case other.ID != "":
		at.Report(RuleBadQuantity, "", "proves is %s, as it is of %s; expected one quantity that proves it", q.Proves, other.ID)
	}
}

// deadOnLive reports that q is said to be read dead though what it touches is
// live with alternating current.
func deadOnLive(exposure document.Value, q faulttree.Quantity) {
	live := (q.Unit == faulttree.VoltsAC || q.Unit == faulttree.AmpsAC) && !q.Has(faulttree.Unplugged) && !q.OfMeter()
	if q.Exposure == faulttree.DeadTest && live {
		exposure.Report(RuleBadExposure, "", "exposure is dead, but %s is read on something live; expected supply, body or inside", q.ID)
	}
}

// size reads a positive amount of the unit.
func (m *measurables) size(v document.Value, what string, u faulttree.Unit) faulttree.Amount {
	a, ok := readMeasured(v, what)
	if !ok || u == 0 {
		return 0
	}
	if !a.fits(u) {
		v.Report(RuleUnitMismatch, "", "%s is in %s, but the quantity is in %s", what, a.symbol, u)
		return 0
	}
	if a.amount <= 0 {
		v.Report(RuleBadValue, "", "%s is %s; expected more than 0", what, a.amount)
	}
	return a.amount
}

// find is the quantity an id names. An unknown id is reported at pos, unless
// the list of quantities itself is at fault.
func (m *measurables) find(p *part, pos source.Pos, id string) (faulttree.Quantity, bool) {
	q, ok := m.quantities[id]
	if !ok && len(m.quantities) > 0 && !m.broken[id] && !p.full() {
		p.diags.AddHint(pos, RuleUnknownQuantity, source.DidYouMean(id, m.quantities.IDs()), "the quantity %s is not in the list of quantities", id)
	}
	return q, ok
}

// twiceDefined reports a second definition with the place of the first.
func twiceDefined(diags *source.List, pos, first source.Pos, what string) {
	*diags = append(*diags, source.Diagnostic{
		Pos: pos, Rule: RuleDuplicateID, Message: what + " is defined twice",
		Hint:    "first defined at " + first.String(),
		Related: []source.Related{{Pos: first, Message: "first defined here"}},
	})
}
