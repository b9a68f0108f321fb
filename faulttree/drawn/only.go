package drawn

import "faultwright/faulttree/suspect"

// Only is some cases of the population by themselves, by their indices: what is
// not solved yet for all is solved for these alone, which takes a small part of the
// time.
func (p *Population) Only(cases []int) suspect.Population { return p.only(cases) }

// Weighed is [Population.Only] with how often each of the cases is met instead.
func (p *Population) Weighed(cases []int, weights []float64) *Population {
	few := p.only(cases)
	for k, w := range weights {
		few.cases[k].Weight = w
	}
	return few
}

func (p *Population) only(cases []int) *Population {
	few := *p
	few.base, few.own, few.store = nil, 0, newStore()
	few.cases, few.at = make([]suspect.Case, len(cases)), make([]place, len(cases))
	for k, i := range cases {
		few.cases[k], few.at[k] = p.cases[i], p.at[i]
	}
	names, columns := p.store.all()
	for n, column := range columns {
		some := make([]float32, len(cases))
		for k, i := range cases {
			some[k] = column[i]
		}
		columns[n] = some
	}
	few.store.put(names, columns)
	return &few
}
