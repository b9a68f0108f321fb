package contact

var contactNames = map[Atom]string{
	Hot: "a hot contact", L1: "the L1 contact", L2: "the L2 contact", N: "the neutral contact", G: "the grounding contact",
	Pos: "positive", Neg: "negative", Body: "the body", Soil: "the spike in the soil", Cover: "bare metal",
}

// String is the point in words: "the neutral contact of the panel".
func (p Point) String() string {
	name := contactNames[p.Contact]
	if p.Place == "" {
		return name
	}
	if place, ok := map[string]string{"dc": "12 V panel", "tow": "tow connector", "feed": "incoming feeder"}[p.Place]; ok {
		return name + " of the " + place
	}
	return name + " of the " + p.Place
}
