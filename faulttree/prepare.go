package faulttree

// Preparation is one thing to see to before a quantity is read, in words:
// "plug", "pulled".
type Preparation struct{ What, How string }

// String is both in a row: "plug pulled".
func (p Preparation) String() string { return p.What + " " + p.How }

// Prepare lists what the conditions of q ask for. These are the only words for
// a condition that a reader sees. Unplugged always means that no source is
// left: what joins the part to its supply is apart, and generator and inverter
// are off.
func (q Quantity) Prepare() []Preparation {
	var out []Preparation
	for _, c := range q.Conditions {
		switch c {
		case Loaded:
			out = append(out, Preparation{"loads", "on"})
		case LowZ:
			out = append(out, Preparation{"meter", "on low impedance"})
		case MainOff:
			out = append(out, Preparation{"vehicle main breaker", "off"})
		case Rest:
			out = append(out, Preparation{"battery", "rested for hours, everything off"})
		case Unplugged:
			out = append(out, q.disconnected(), Preparation{"generator and inverter", "off"})
		}
	}
	return out
}

// disconnected is what is taken apart for a dead reading of q.
func (q Quantity) disconnected() Preparation {
	red, black := group(q.Red), group(q.Black)
	switch {
	case red == "adapter":
		return Preparation{"adapter", "in the hand, both ends free"}
	case red == "cord", black == "cord":
		return Preparation{"cord", "off at both ends"}
	case red == "tow":
		return Preparation{"tow connector", "pulled"}
	case red == "battery":
		return Preparation{"battery cables", "off the posts"}
	case red == "inlet":
		return Preparation{"cord", "off"}
	}
	return Preparation{"plug", "pulled"}
}
