package load

import (
	"bytes"
	"context"
	"errors"
	"io"
	"iter"
	"maps"
	"path"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// MostScenario is how many bytes a scenario that is handed out may have.
const MostScenario = 256 << 10

// Bounds on a scenario.
const (
	mostScenarioFaults = 20
	mostAnswer         = 2000 // bytes
)

// Scenario reads a scenario that was handed out as a file, for the rigs
// and faults of l. Its id need not be the name of the file. The scenario is
// nil if anything is wrong with it, or if ctx ends before it is read; the list
// then says what. Tell, which may be nil, is called with the bytes read so far.
// Nothing is kept open or running once Scenario returns, and l is only read, so
// that it may run beside a window.
func Scenario(ctx context.Context, l *content.Library, name string, r io.Reader, tell func(bytes int)) (*content.Scenario, source.List) {
	var diags source.List
	refuse := func(rule, format string, args ...any) (*content.Scenario, source.List) {
		diags.Add(source.Pos{File: name}, rule, format, args...)
		return nil, diags
	}
	text, err := readAtMost(ctx, r, MostScenario+1, tell)
	switch {
	case ctx.Err() != nil:
		return refuse(RuleCanceled, "reading the scenario was stopped before its end: %v", ctx.Err())
	case err != nil:
		return refuse(RuleUnreadable, "the scenario cannot be read: %v", err)
	case len(text) > MostScenario:
		return refuse(RuleTooLarge, "the scenario is larger than %d KiB; it is not read", MostScenario>>10)
	}
	file, ok := fileOf(name, text, &diags)
	if !ok {
		return nil, diags
	}
	p := &part{file: file, diags: diags, id: strings.TrimSuffix(path.Base(name), path.Ext(name)), anyName: true}
	p.readScenario()
	p.withFeet()
	known := knownOf(l)
	known.check(p)
	p.setUp(l)
	if p.basisBroken && !p.diags.HasErrors() {
		p.diags.Add(p.scenario.Pos, RuleScenario, "the scenario rests on a rig or a fault of the handbook that has errors of its own")
	}
	list := p.limited()
	if list.HasErrors() || p.scenario == nil {
		return nil, list
	}
	return p.scenario, list
}

// readAtMost reads up to most bytes piece by piece, so that ctx can end it
// between two of them.
func readAtMost(ctx context.Context, r io.Reader, most int, tell func(bytes int)) ([]byte, error) {
	var text bytes.Buffer
	for text.Len() < most && ctx.Err() == nil {
		_, err := io.CopyN(&text, r, int64(min(most-text.Len(), 16<<10)))
		if tell != nil {
			tell(text.Len())
		}
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
	}
	return text.Bytes(), nil
}

// knownOf is every id of a loaded library.
func knownOf(l *content.Library) *known {
	k := newKnown(nil, nil)
	for kind, ids := range map[refKind]iter.Seq[string]{
		refCard: maps.Keys(l.Cards), refCaution: maps.Keys(l.Cautions), refFault: maps.Keys(l.Faults),
		refTree: maps.Keys(l.Forest.Trees), refSource: maps.Keys(l.Sources), refRig: maps.Keys(l.Rigs),
	} {
		for id := range ids {
			k.ids[kind][id] = true
			if kind.shared() {
				k.ids[refRelated][id] = true
			}
		}
	}
	for id, t := range l.Forest.Trees {
		p := &part{id: id, tree: t, steps: map[string]source.Pos{}}
		for _, s := range t.Steps {
			p.steps[s.ID] = s.Pos
		}
		k.trees[id] = p
	}
	for id, t := range l.Forest.Names {
		k.ids[refTree][id], k.ids[refRelated][id], k.trees[id] = true, true, k.trees[t.Own()]
	}
	return k
}

// readScenario reads what a scenario says by itself. What it says of its rig
// is read by setUp.
func (p *part) readScenario() {
	front, doc := p.open("scenario", "rig", "faults", "meter", "set", "loads", "may", "tree", "role", "lesson", "hazard", "kind", "vary", "conclude", "seen", "shock", "answer", "sources", "related")
	p.front = front
	p.scenario = &content.Scenario{
		Document: doc, Answer: p.short(front, "answer"), Tree: p.referTo(refTree, front, "tree"), Values: map[int]float64{},
		Role: faulttree.Qualified, Lesson: p.short(front, "lesson"), Shock: flag(front, "shock"), Story: p.written,
	}
	p.doc = &p.scenario.Document
	front.Need("answer")
	if front.Has("role") {
		p.scenario.Role, _ = faulttree.ParseRole(oneOf(front.Get("role"), "role", []string{faulttree.Owner.String(), faulttree.Qualified.String()}))
	}
	p.conclusion(front.Get("conclude"))
	front.Need("rig")
	p.referTo(refRig, front, "rig")
	for _, item := range front.Get("meter").Items("meter") {
		if m := mistake(item, "an entry of meter"); m != 0 && slices.Contains(p.scenario.Meter, m) {
			item.Report(RuleDuplicateID, "", "%s stands twice in meter", m)
		} else if m != 0 {
			p.scenario.Meter = append(p.scenario.Meter, m)
		}
	}
	p.needBody("scenario")
}

// short is a text of a key that is shown whole.
func (p *part) short(front document.Map, key string) string {
	text := front.Text(key)
	switch v := front.Get(key); {
	case len(text) > mostAnswer:
		v.Report(RuleScenario, "", "the %s is %d bytes long; at most %d are shown", key, len(text), mostAnswer)
	case text == "" && v.IsText():
		v.Report(document.RuleWrongType, "", "%s is empty; expected text", key)
	}
	return text
}

// conclusion reads what a good conclusion says otherwise than the documents of the
// faults.
func (p *part) conclusion(v document.Value) {
	m := v.Map("what a scenario says of the conclusion", "place", "do", "repair_by", "open")
	e := &p.scenario.Expect
	e.Place, e.Do, e.RepairBy = oneOf(m.Get("place"), "place", faulttree.Places()), p.short(m, "do"), p.short(m, "repair_by")
	for _, item := range m.Get("open").Items("open") {
		at := faulttree.ParseFaultAt(item.Text("an open danger"))
		switch {
		case at.Fault == "":
			continue
		case at.Place != "" && !slices.Contains(faulttree.Places(), at.Place):
			item.Report(RuleBadValue, source.DidYouMean(string(at.Place), words(faulttree.Places())), "%s is no place; expected %s", at.Place, either(words(faulttree.Places())))
			continue
		}
		p.noted(refFault, at.Fault, item.Pos())
		if slices.Contains(e.Open, at) {
			item.Report(RuleDuplicateID, "", "%s stands twice in open", at)
			continue
		}
		e.Open = append(e.Open, at)
	}
}
