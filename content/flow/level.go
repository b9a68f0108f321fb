package flow

import "slices"

// levelsOf is for each step how many steps lie at least above it, where each goes
// below all that lead to it, and in which order the steps were come to. A way back up
// counts for nothing. What nothing leads to stands at the top as well.
func levelsOf(nodes []Node, first int) (levels, met []int) {
	levels, met = make([]int, len(nodes)), make([]int, len(nodes))
	const unseen, open, closed = 0, 1, 2
	state := make([]int, len(nodes))
	var after []int // what was closed first stands first
	var visit func(i int)
	visit = func(i int) {
		state[i] = open
		for _, to := range slices.Backward(stepsOf(nodes, i)) { // so that the uppermost row's comes first
			if state[to] == unseen {
				visit(to)
			}
		}
		state[i] = closed
		after = append(after, i)
	}
	visit(first) // before all else, so that what leads back up does so from where the walk comes
	for i, n := range slices.Backward(nodes) {
		if n.Step() && state[i] == unseen {
			visit(i)
		}
	}
	slices.Reverse(after)
	for k, i := range after {
		met[i] = k
	}
	for _, i := range after {
		for _, to := range stepsOf(nodes, i) {
			if met[to] > met[i] {
				levels[to] = max(levels[to], levels[i]+1)
			}
		}
	}
	return levels, met
}

// stepsOf lists the steps that rows of node i lead to, each once.
func stepsOf(nodes []Node, i int) []int {
	var out []int
	for _, r := range nodes[i].Rows {
		if nodes[r.To].Step() && r.To != i && !slices.Contains(out, r.To) {
			out = append(out, r.To)
		}
	}
	return out
}
