package trial

// Draws is which draws a classifier learns from, sets aside as healthy and
// unseen, and holds out, and which of all draws within the scope are healthy.
func Draws(h Handbook, tree string, o Options) (learn, unseen, held, healthy map[int]bool, err error) {
	t, err := prepare(h, tree, o)
	if err != nil {
		return nil, nil, nil, nil, err
	}
	s := t.newDataset()
	learn, unseen, held, healthy = map[int]bool{}, map[int]bool{}, map[int]bool{}, map[int]bool{}
	for number, slot := range s.slots {
		if d, ok := t.plan.stratumOf(number); ok && d.fault < 0 {
			healthy[number] = true
		}
		switch {
		case slot < 0:
		case int(slot) < s.calibrationFrom:
			learn[number] = true
		case int(slot) < s.heldOutFrom:
			unseen[number] = true
		default:
			held[number] = true
		}
	}
	return learn, unseen, held, healthy, nil
}
