package main

import (
	"fmt"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

type visitsCommand struct {
	JSON bool `name:"json" help:"Print the list as JSON."`
}

// jsonVisit is a visit of the list as programs read it. Finding is where the
// newest round that has ended did: while a test after repair has not, the
// finding before it stays.
type jsonVisit struct {
	ID      string    `json:"id"`
	Tree    string    `json:"tree"`
	Started time.Time `json:"started"`
	Last    time.Time `json:"last"`
	Site    string    `json:"site"`
	Vehicle string    `json:"vehicle"`       // as it stands on the sheet
	Own     string    `json:"own,omitempty"` // the reader's own vehicle that it is of, by its id
	Answers int       `json:"answers"`       // that hold, of all rounds
	Rounds  int       `json:"rounds"`
	Tested  int       `json:"tested"`  // readings taken again since the last repair
	Finding *string   `json:"finding"` // tree#step; null while no walk has ended
	Damaged bool      `json:"damaged"`
	Error   string    `json:"error,omitempty"`
}

func (c visitsCommand) Run(p *program) error {
	records, err := p.records()
	if err != nil {
		return err
	}
	defer records.Close()
	all, err := records.List()
	if err != nil {
		return failure{exitBadInput, err}
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	if c.JSON {
		out := []jsonVisit{}
		for _, v := range all {
			j := jsonVisit{ID: v.ID, Tree: v.Header.Start.Tree, Started: v.Header.Started, Last: v.Last, Site: v.Details.Site,
				Vehicle: v.Details.Vehicle, Own: v.Vehicle, Answers: v.Before + v.Answers, Rounds: v.Rounds, Tested: v.Tested, Damaged: v.Damaged}
			if v.Err != nil {
				j.Error = v.Err.Error()
			}
			if r, ok := outcomeOf(records, lib, v.ID); ok {
				id := r.Ref.String()
				j.Finding = &id
			}
			out = append(out, j)
		}
		return writeJSON(p.out, out)
	}
	g := p.page(p.out)
	if len(all) == 0 {
		g.para("", "There are no visits on record yet. One begins with: faultwright-cli walk body-voltage")
	}
	for _, v := range all {
		g.summary(lib, v)
		if record, err := records.Read(v.ID); err == nil {
			state, _ := view.VisitState(lib, record)
			g.hanging("  ", "    ", state)
		}
	}
	return nil
}

// outcomeOf is the newest finding of a visit in the handbook in use.
func outcomeOf(records *store.Store, lib *content.Library, id string) (faulttree.Result, bool) {
	v, err := records.Read(id)
	if err != nil {
		return faulttree.Result{}, false
	}
	rounds := v.Replay(lib.Forest)
	if i := visit.Found(rounds); i >= 0 {
		return rounds[i].Walk.Finding()
	}
	return faulttree.Result{}, false
}

// summary writes one visit of the list.
func (g page) summary(lib *content.Library, v store.Summary) {
	if v.Err != nil {
		g.hanging(v.ID+"  ", "    ", v.Err.Error())
		return
	}
	g.hanging(v.ID+"  ", "    ", v.Last.Format("2006-01-02 15:04")+", "+view.TreeTitle(lib, v.Header.Start.Tree))
	parts := lists.Where([]string{v.Details.Site, v.Details.Vehicle}, func(text string) bool { return text != "" })
	parts = append(parts, view.Count(v.Before+v.Answers, "answer"))
	if v.Damaged {
		parts = append(parts, "part of the record is damaged")
	}
	g.hanging("  ", "    ", strings.Join(parts, " · "))
}

type deleteCommand struct {
	Visit string `arg:"" help:"The visit to delete."`
	Yes   bool   `help:"Delete without asking."`
}

func (c deleteCommand) Run(p *program) error {
	records, err := p.records()
	if err != nil {
		return err
	}
	defer records.Close()
	if v, err := records.Read(c.Visit); err != nil && v.Header.ID == "" && !c.Yes {
		return noVisit(records, c.Visit, err)
	}
	if !c.Yes {
		fmt.Fprintf(p.out, "Delete visit %s with all its readings? It cannot be brought back. Type yes to delete > ", clean(c.Visit))
		typed, _ := p.in.ReadSlice('\n')
		if !strings.EqualFold(strings.TrimSpace(string(typed)), "yes") {
			fmt.Fprintln(p.out)
			return bad("nothing was deleted; type yes when asked, or give --yes not to be asked")
		}
	}
	if err := records.Delete(c.Visit); err != nil {
		return noVisit(records, c.Visit, err)
	}
	fmt.Fprintf(p.out, "Visit %s is deleted.\n", c.Visit)
	return nil
}
