// Package loops says which edges of a graph lie on a loop with one of them: those
// through which a current can flow that flows through it. It knows nothing of circuits.
package loops

// With reports by edge whether it lies with one of them on a loop that meets no node
// twice: whether they belong to one block of the graph, by Tarjan's depth-first search
// (SIAM Journal on Computing 1, 1972). Nodes are numbers from 0 on, fewer than nodes.
func With(one int, edges [][2]int, nodes int) []bool {
	room := make([]int, 3*nodes+1+2*len(edges))
	s := &search{edges: edges, number: room[:nodes], low: room[nodes : 2*nodes], from: room[2*nodes : 3*nodes+1], at: room[3*nodes+1:], one: one, on: make([]bool, len(edges)), stack: make([]int, 0, len(edges))}
	for _, e := range edges {
		s.from[e[0]]++
		s.from[e[1]]++
	}
	for n := range nodes {
		s.from[n+1] += s.from[n]
	}
	for i := len(edges) - 1; i >= 0; i-- {
		for _, n := range edges[i] {
			s.from[n]--
			s.at[s.from[n]] = i
		}
	}
	s.visit(edges[one][0], -1)
	return s.on
}

type search struct {
	edges  [][2]int
	at     []int // edges of all nodes, one after the other
	from   []int // by node, where its edges begin there
	number []int // by node, in the order of visits, from 1; 0 before
	low    []int
	visits int
	stack  []int // edges of blocks that are not complete
	one    int
	on     []bool
}

// visit goes on from a node that was reached by an edge, -1 for none.
func (s *search) visit(node, by int) {
	s.visits++
	s.number[node], s.low[node] = s.visits, s.visits
	for _, e := range s.at[s.from[node]:s.from[node+1]] {
		to := s.edges[e][0] + s.edges[e][1] - node
		switch next := s.number[to]; {
		case e == by:
		case next == 0:
			begin := len(s.stack)
			s.stack = append(s.stack, e)
			s.visit(to, e)
			s.low[node] = min(s.low[node], s.low[to])
			if s.low[to] >= s.number[node] {
				s.close(s.stack[begin:])
				s.stack = s.stack[:begin]
			}
		case next < s.number[node]:
			s.stack = append(s.stack, e)
			s.low[node] = min(s.low[node], next)
		}
	}
}

// close looks at a block that is complete. One edge alone is no loop.
func (s *search) close(block []int) {
	has := false
	for _, e := range block {
		has = has || e == s.one
	}
	if has && len(block) > 1 {
		for _, e := range block {
			s.on[e] = true
		}
	}
}
