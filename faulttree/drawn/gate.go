package drawn

import "sync"

// gate lets work that nobody waits for give way to work that somebody waits for.
type gate struct {
	mu      sync.Mutex
	free    *sync.Cond
	waiting int
}

func newGate() *gate {
	g := &gate{}
	g.free = sync.NewCond(&g.mu)
	return g
}

// hurry says that somebody waits, until done is called.
func (g *gate) hurry() (done func()) {
	g.mu.Lock()
	g.waiting++
	g.mu.Unlock()
	return func() {
		g.mu.Lock()
		g.waiting--
		g.mu.Unlock()
		g.free.Broadcast()
	}
}

// giveWay returns when nobody waits.
func (g *gate) giveWay() {
	g.mu.Lock()
	for g.waiting > 0 {
		g.free.Wait()
	}
	g.mu.Unlock()
}

// store keeps columns by name.
type store struct {
	mu      sync.Mutex
	columns map[string][]float32
}

func newStore() *store { return &store{columns: map[string][]float32{}} }

func (s *store) column(name string) ([]float32, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c, ok := s.columns[name]
	return c, ok
}

// all is every column with its name.
func (s *store) all() (names []string, columns [][]float32) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for name, column := range s.columns {
		names, columns = append(names, name), append(columns, column)
	}
	return names, columns
}

// put keeps columns. One that is there stays: somebody may hold it.
func (s *store) put(names []string, columns [][]float32) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for k, name := range names {
		if _, known := s.columns[name]; !known {
			s.columns[name] = columns[k]
		}
	}
}
