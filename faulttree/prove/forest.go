package prove

import (
	"context"
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Known is what the proof is told of the handbook around the trees. The zero
// value is usable: rules that need an unset function then hold, and the meter
// is [faulttree.DefaultMeter].
type Known struct {
	Signal func(caution string) (faulttree.Signal, bool) // signal word of a caution
	Hazard func(fault string) (faulttree.Signal, bool)   // hazard of a fault
	Meter  faulttree.Meter                               // by whose error small limits are judged
	// Computed says of a tree that what remains possible at its findings is
	// computed, so that its author need not list it; nil says it of none.
	Computed func(tree string) bool
}

// Forest proves every tree of f and returns what is wrong, sorted by place.
// Trees with nil steps or exits that lead nowhere do not upset it; exits that
// name a missing step are left to whoever read the documents. A cancelled ctx
// leaves a diagnostic of rule proof-incomplete.
func Forest(ctx context.Context, f *faulttree.Forest, k Known) source.List {
	if f == nil {
		return nil
	}
	if k.Meter == (faulttree.Meter{}) {
		k.Meter = faulttree.DefaultMeter()
	}
	p := &prover{known: k, graph: newGraph(f), forest: f, work: forestWork}
	p.looks = graphLooks
	for i := range p.nodes {
		if ctx.Err() != nil {
			p.reportStopped(ctx)
			break
		}
		p.step(&p.nodes[i])
	}
	for _, t := range p.trees {
		p.limits(t)
		p.dangerQuantities(t)
	}
	for _, proof := range []func(){p.reachability, p.endings, p.afterStop, p.fixedFacts, p.bodyEarth, p.meterProof} {
		if ctx.Err() != nil {
			p.reportStopped(ctx)
			break
		}
		if proof(); p.looks < 0 {
			p.report(source.Pos{}, ruleProofIncomplete, "the trees are too large to follow all ways through them; the proof was stopped before its end").Hint = "divide them among several handbooks"
			break
		}
	}
	p.relateWays()
	p.list.Sort()
	hintUses(p.list)
	return p.list
}

// prover gathers the diagnostics of one call of Forest.
type prover struct {
	known Known
	graph
	forest *faulttree.Forest
	work   int // left for coverage of all steps together
	list   source.List
}

// step applies every rule that looks at one step alone.
func (p *prover) step(n *node) {
	before := len(p.list)
	p.exits(n)
	switch n.step.Kind {
	case faulttree.KindMeasure:
		p.bounds(n)
		p.underFacts(n, func(n *node) {
			p.coverage(n)
			p.danger(n)
		})
	case faulttree.KindChart:
		if n.step.Chart == nil {
			return
		}
		p.chartBounds(n)
		reached := map[source.Pos]bool{}
		before := len(p.list)
		p.underFacts(n, func(n *node) { p.chart(n, reached) })
		if !p.tooComplex(before) {
			p.unreachedRows(n, reached)
		}
	case faulttree.KindFinding:
		p.finding(n)
	}
	p.relate(before, n.step.Uses)
}

// tooComplex reports whether a proof was given up since the list had so many.
func (p *prover) tooComplex(before int) bool {
	return slices.ContainsFunc(p.list[before:], func(d source.Diagnostic) bool { return d.Rule == ruleTooComplex })
}

// reportStopped reports that the proof was stopped, so that it is not taken for
// a pass.
func (p *prover) reportStopped(ctx context.Context) {
	for _, d := range p.list {
		if d.Rule == ruleProofIncomplete {
			return
		}
	}
	p.report(source.Pos{}, ruleProofIncomplete, "the proof was stopped before its end: %v", ctx.Err())
}

// report adds an error.
func (p *prover) report(pos source.Pos, rule, format string, args ...any) *source.Diagnostic {
	p.list = append(p.list, source.Diagnostic{Pos: pos, Rule: rule, Message: fmt.Sprintf(format, args...)})
	return &p.list[len(p.list)-1]
}

// firstValid is the first position that names a line.
func firstValid(places ...source.Pos) source.Pos {
	for _, p := range places {
		if p.IsValid() {
			return p
		}
	}
	return source.Pos{}
}
