package faulttree

// Word is a place in a word or two: "supply", "12 V", "the meter".
func (p Place) Word() string {
	switch p {
	case DC:
		return "12 V"
	case MeterOwn:
		return "the meter"
	}
	return string(p)
}

// Within is a place as the part of a sentence: "in the cord", "on the 12 V side".
func (p Place) Within() string {
	if p == DC {
		return "on the 12 V side"
	}
	return "in the " + string(p)
}
