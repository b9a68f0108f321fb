package main

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

type showCommand struct {
	ID      string `arg:"" name:"id" help:"A card, caution, fault, source, walk, rig, scenario, quantity, observation or intervention by its id, a step or finding as walk#step, or one of the words walks, cards, cautions, faults, sources, rigs, scenarios, quantities, observations, interventions for a list."`
	Flow    string `placeholder:"FORM" help:"Draw a walk whole instead: svg, or dot or mermaid for programs that lay it out themselves."`
	Columns int    `placeholder:"N" help:"With --flow svg, how many steps stand side by side at most; by itself 3."`
	Out     string `placeholder:"FILE" help:"With --flow, write to this file instead of standard output."`
	Force   bool   `help:"Replace the file if it is there."`
}

func (c showCommand) Run(p *program, lib *content.Library) error {
	if c.Flow != "" {
		return c.flow(p, lib)
	}
	if c.Out != "" || c.Columns != 0 {
		return bad("--out and --columns go with --flow")
	}
	return showID(p.page(p.out), lib, c.ID)
}

// showID writes what id names. A scheme as links use it, such as card:, may
// stand before it.
func showID(g page, lib *content.Library, id string) error {
	id = withoutScheme(id)
	if titles, ok := listOf(lib, id); ok {
		for _, name := range slices.Sorted(maps.Keys(titles)) {
			g.hanging(name+"  ", "    ", titles[name])
		}
		return nil
	}
	if d, ok := view.DocumentOf(lib, "", id); ok {
		g.document(d)
		return nil
	}
	if t := lib.Forest.Tree(id); t != nil {
		g.tree(lib, t)
		return nil
	}
	if q, ok := lib.Forest.Quantities[id]; ok {
		g.asked(view.AskedOf(lib, q))
		return nil
	}
	if r := lib.Rigs[id]; r != nil {
		g.rig(r)
		return nil
	}
	if s := lib.Scenarios[id]; s != nil {
		g.scenario(s)
		return nil
	}
	if o := lib.Forest.Observation(id); o != nil {
		g.observation(o)
		return nil
	}
	if i := lib.Forest.Intervention(id); i != nil {
		g.intervention(i)
		return nil
	}
	if s := stepOf(lib, id); s != nil {
		g.shown(lib, s)
		return nil
	}
	return unknown("card, caution, fault, source, walk, step, rig, scenario, quantity, observation or intervention", id, names(lib))
}

// withoutScheme is an id without the scheme that links write before it.
func withoutScheme(id string) string {
	for _, scheme := range []string{"card:", "caution:", "fault:", "source:", "tree:", "step:", "rig:", "scenario:"} {
		id = strings.TrimPrefix(id, scheme)
	}
	return id
}

// document writes a document and what it points to.
func (g page) document(d view.Document) {
	switch d.Kind {
	case view.KindCaution:
		g.signal(d.Signal, d.Title)
		g.blank()
	case view.KindCard:
		g.title(d.Title)
	default:
		g.title(d.Title)
		g.para("", d.Above)
		g.labelled("Hazard", d.Signal.Word())
		g.blank()
	}
	g.blocks("", d.Body)
	if len(d.Related)+len(d.Sources) > 0 {
		g.blank()
	}
	g.labelled("See also", list(ids(d.Related)))
	g.labelled("Sources", list(ids(d.Sources)))
}

// ids are what show takes for some links.
func ids(links []view.Link) []string {
	return lists.Each(links, func(l view.Link) string { return l.ID })
}

func (g page) tree(lib *content.Library, t *faulttree.Tree) {
	g.title(t.Title)
	g.para("", t.Summary)
	g.blank()
	g.labelled("Begins at", t.ID+"#"+t.Start)
	g.para("", "Steps:")
	for _, s := range t.Steps {
		kind := s.Kind.String()
		if s.Stop() {
			kind = "STOP"
		}
		g.hanging("  "+s.ID+"  ", "      ", s.Title+" ("+kind+")")
		if s.Kind == faulttree.KindChart {
			g.order(lib, s)
		}
	}
}

// rig writes what a vehicle with its supply is made of.
func (g page) rig(r *rig.Rig) {
	g.title(r.Title)
	g.para("", r.Text)
	g.blank()
	g.labelled("Walks whose reader may stand before it", list(r.Trees))
	g.para("", "Parts, with the ends they lie between:")
	for _, p := range r.Parts {
		text := cmp.Or(p.Title, p.Kind.String())
		g.hanging("  "+p.Name+"  ", "      ", text+", "+p.A+" to "+p.B)
	}
	if len(r.Switches) == 0 {
		return
	}
	g.para("", "Switches:")
	for _, s := range r.Switches {
		text := s.Title
		if s.Off {
			text += " (ordinarily off)"
		}
		g.hanging("  "+s.Name+"  ", "      ", text)
	}
}

// scenario writes what a learner is told of a vehicle; its faults and the
// answer stay hidden.
func (g page) scenario(s *content.Scenario) {
	g.title(s.Title)
	g.labelled("Vehicle", s.Rig.Before())
	g.labelled("Walk beside it", s.Tree)
	g.labelled("Switches that may be thrown", list(s.May))
	g.blank()
	g.blocks("", s.Body)
}

// shown writes a step or a finding outside of a walk.
func (g page) shown(lib *content.Library, s *faulttree.Step) {
	if s.Kind == faulttree.KindFinding {
		g.finding(view.ResultOf(lib, faulttree.Result{Ref: s.Ref(), Title: s.Title, For: s.For, Finding: s.Finding}))
		return
	}
	g.step(view.StepOf(lib, s, 0))
	g.limits(s)
	g.order(lib, s)
	if s.For == faulttree.Qualified {
		g.para("", "For a qualified person.")
	}
	if len(s.Sources) > 0 {
		g.labelled("Sources", list(s.Sources))
	}
}

// stepOf is the step named tree#step, or by its own id if only one tree has
// such a step.
func stepOf(lib *content.Library, id string) *faulttree.Step {
	if strings.Contains(id, "#") {
		return lib.Forest.Step(faulttree.ParseRef(id, ""))
	}
	var found *faulttree.Step
	for _, t := range lib.Forest.Trees {
		if s := t.Step(id); s != nil {
			if found != nil {
				return nil
			}
			found = s
		}
	}
	return found
}

// listOf is the titles of a kind of documents by id.
func listOf(lib *content.Library, kind string) (map[string]string, bool) {
	out := map[string]string{}
	for _, k := range view.Kinds() {
		if kind == strings.ToLower(k.Plural()) || kind == string(k)+"s" { // readers say walks, files say trees
			for _, l := range view.All(lib, k) {
				out[l.ID] = l.Title
			}
			return out, true
		}
	}
	switch kind {
	case "rigs":
		for id, r := range lib.Rigs {
			out[id] = r.Title
		}
	case "scenarios":
		for id, s := range lib.Scenarios {
			out[id] = s.Title
		}
	case "quantities":
		for id, q := range lib.Forest.Quantities {
			out[id] = q.Title + ", in " + q.Unit.String()
		}
	case "observations":
		for _, o := range lib.Forest.Observations {
			out[o.ID] = o.Title
		}
	case "interventions":
		for _, i := range lib.Forest.Interventions {
			out[i.ID] = i.Title
		}
	default:
		return nil, false
	}
	return out, true
}

// names is everything show takes but the words for lists.
func names(lib *content.Library) []string {
	var out []string
	for _, kind := range []string{"walks", "cards", "cautions", "faults", "sources", "rigs", "scenarios", "quantities", "observations", "interventions"} {
		titles, _ := listOf(lib, kind)
		out = append(out, slices.Sorted(maps.Keys(titles))...)
	}
	for _, id := range lib.Forest.IDs() {
		for _, s := range lib.Forest.Trees[id].Steps {
			out = append(out, s.Ref().String())
		}
	}
	return out
}

// observation writes what is asked without a meter, and what may be answered.
func (g page) observation(o *faulttree.Observation) {
	g.title(o.Title)
	for _, c := range o.Choices {
		g.hanging("  "+c.ID+"  ", "      ", c.Text)
	}
	g.blank()
	g.labelled("Sources", list(o.Sources))
}

// intervention writes what may be tried, and what must be so before it is.
func (g page) intervention(i *faulttree.Intervention) {
	g.title(i.Title)
	g.para("", i.Before)
	g.blank()
	if i.For == faulttree.Qualified {
		g.para("", "For a qualified person. An owner may report it where it was tried.")
	}
	g.labelled("Exposure", i.Exposure.String())
	g.labelled("Proposed in the walks", list(i.Offer))
}
