package content_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"os/exec"
	"strconv"
	"strings"
)

type wanted struct {
	name  string
	value complex128
	blur  float64 // volts that the simulator's own arithmetic cannot resolve
}

// deck is several netlists as one, so that the simulator starts once for all
// of them. They have node 0 in common and nothing else.
type deck struct {
	analysis string
	text     strings.Builder
	prints   []string
	wants    []wanted
	shown    chan []complex128 // what the simulator prints
}

func (c *comparison) add(netlist string, w wanted) {
	var analysis string
	for line := range strings.Lines(netlist) {
		if strings.HasPrefix(line, ".ac") || strings.HasPrefix(line, ".op") {
			analysis = strings.TrimSpace(line)
		}
	}
	d := c.decks[analysis]
	if d == nil {
		d = &deck{analysis: analysis}
		d.text.WriteString("* rigs\n.options numdgt=10 noopac\n")
		c.decks[analysis] = d
	}
	suffix := fmt.Sprintf("_%d", len(d.wants))
	for line := range strings.Lines(netlist) {
		d.line(strings.TrimSpace(line), suffix)
	}
	if d.wants = append(d.wants, w); len(d.wants) >= inOneDeck {
		c.start(d)
		delete(c.decks, analysis)
	}
}

// line adds a line of a netlist, its names made its own by a suffix.
func (d *deck) line(line, suffix string) {
	own := func(node string) string {
		if node == "0" {
			return node
		}
		return node + suffix
	}
	words := strings.Fields(line)
	switch {
	case len(words) == 0 || line[0] == '*':
		return
	case words[0] == ".print":
		for i, word := range words[2:] {
			function, pair, _ := strings.Cut(strings.TrimSuffix(word, ")"), "(")
			a, b, _ := strings.Cut(pair, ",")
			words[2+i] = function + "(" + own(a) + "," + own(b) + ")"
		}
		d.prints = append(d.prints, strings.Join(words, " "))
		return
	case line[0] == '.':
		return
	}
	nodes := 2
	if line[0] == 'E' {
		nodes = 4
	}
	for i := 1; i <= nodes; i++ {
		words[i] = own(words[i])
	}
	words[0] += suffix
	if line[0] == 'F' {
		words[3] += suffix
	}
	d.text.WriteString(strings.Join(words, " ") + "\n")
}

// simulate runs a netlist and returns what its .print lines show, in order.
func simulate(program, netlist string) []complex128 {
	run := exec.Command(program, "-b")
	run.Stdin = strings.NewReader(netlist)
	text, _ := run.CombinedOutput() // its exit code says nothing; too few results do
	var out []complex128
	direct, asked := strings.Contains(netlist, "\n.op\n"), false
	for line := range strings.Lines(string(text)) {
		words := strings.Fields(line)
		if len(words) > 0 && words[0] == "Index" {
			asked = true
		}
		var index int
		var hertz, magnitude, phase float64
		switch {
		case !asked:
		case direct && len(words) == 2:
			if n, _ := fmt.Sscan(line, &index, &magnitude); n == 2 {
				out = append(out, complex(magnitude, 0))
			}
		case len(words) == 4:
			if n, _ := fmt.Sscan(line, &index, &hertz, &magnitude, &phase); n == 4 {
				out = append(out, cmplx.Rect(magnitude, phase))
			}
		}
	}
	return out
}

// resolution is how many volts of a netlist the simulator cannot resolve. It
// adds the conductances at a node into one number of 53 bits. Where a whole
// vehicle is held by tyres of 5 µS alone while joints of 500 S carry 120 V, the
// last bit of their currents is 7e-12 A, and that through 5 µS a microvolt. So:
// eight times the last bit of the largest conductance, times the largest source,
// over what ties the parts that the probes touch to anything else.
func resolution(netlist string) float64 {
	const strong = 1e-3 // siemens, from which two nodes are one part
	group := map[string]string{}
	var find func(node string) string
	find = func(node string) string {
		if up, ok := group[node]; ok && up != node {
			group[node] = find(up)
			return group[node]
		}
		return node
	}
	omega, most, volts := 0.0, 0.0, 0.0
	type branch struct {
		a, b    string
		siemens float64
	}
	var weak []branch
	var probes []string
	for line := range strings.Lines(netlist) {
		if words := strings.Fields(line); len(words) == 5 && words[0] == ".ac" {
			hertz, _ := strconv.ParseFloat(words[3], 64)
			omega = 2 * math.Pi * hertz
		}
	}
	for line := range strings.Lines(netlist) {
		words := strings.Fields(line)
		if len(words) < 3 {
			continue
		}
		siemens := math.Inf(1)
		switch value, _ := strconv.ParseFloat(words[len(words)-1], 64); words[0][0] {
		case 'R':
			siemens = 1 / value
			most = max(most, siemens)
		case 'C':
			siemens = omega * value
		case 'V':
			if amplitude, err := strconv.ParseFloat(words[len(words)-2], 64); err == nil {
				volts = max(volts, math.Abs(amplitude))
			}
		case '.':
			if words[0] == ".print" {
				_, pair, _ := strings.Cut(strings.TrimSuffix(words[2], ")"), "(")
				probes = strings.Split(pair, ",")
			}
			continue
		case 'I', 'F', '*':
			continue
		}
		if siemens >= strong {
			group[find(words[1])] = find(words[2])
			continue
		}
		weak = append(weak, branch{words[1], words[2], siemens})
	}
	for _, w := range weak { // what no strong branch ties to earth floats as one
		if earth := find("0"); find(w.a) != earth && find(w.b) != earth {
			group[find(w.a)] = find(w.b)
		}
	}
	blur := 0.0
	for _, probe := range probes {
		part, tie := find(probe), 0.0
		if part == find("0") {
			continue
		}
		for _, w := range weak {
			if find(w.a) == part != (find(w.b) == part) {
				tie += w.siemens
			}
		}
		if tie > 0 {
			blur = max(blur, 8*math.Pow(2, -53)*most*volts/tie)
		}
	}
	return blur
}
