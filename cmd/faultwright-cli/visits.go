package main

import (
	"fmt"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/visit/store"
)

type visitsCommand struct {
	JSON bool `name:"json" help:"Print the list as JSON."`
}

// jsonVisit is a visit of the list as programs read it.
type jsonVisit struct {
	ID      string    `json:"id"`
	Tree    string    `json:"tree"`
	Started time.Time `json:"started"`
	Last    time.Time `json:"last"`
	Site    string    `json:"site"`
	Vehicle string    `json:"vehicle"`
	Answers int       `json:"answers"`
	Rounds  int       `json:"rounds"`
	Finding *string   `json:"finding"` // tree#step; null while the walk has not ended
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
				Vehicle: v.Details.Vehicle, Answers: v.Answers, Rounds: v.Rounds, Damaged: v.Damaged}
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
		if r, ok := outcomeOf(records, lib, v.ID); ok {
			g.hanging("  ", "    ", "Ended in: "+r.Title)
		}
	}
	return nil
}

// outcomeOf is where the last walk of a visit ended in the handbook in use.
func outcomeOf(records *store.Store, lib *content.Library, id string) (faulttree.Result, bool) {
	v, err := records.Read(id)
	if err != nil {
		return faulttree.Result{}, false
	}
	rounds := v.Replay(lib.Forest)
	return rounds[len(rounds)-1].Walk.Finding()
}

// summary writes one visit of the list.
func (g page) summary(lib *content.Library, v store.Summary) {
	if v.Err != nil {
		g.hanging(v.ID+"  ", "    ", v.Err.Error())
		return
	}
	title := v.Header.Start.Tree
	if t := lib.Forest.Trees[title]; t != nil {
		title = t.Title
	}
	g.hanging(v.ID+"  ", "    ", v.Last.Format("2006-01-02 15:04")+", "+title)
	var parts []string
	for _, text := range []string{v.Details.Site, v.Details.Vehicle} {
		if text != "" {
			parts = append(parts, text)
		}
	}
	answers := fmt.Sprintf("%d answers", v.Answers)
	if v.Answers == 1 {
		answers = "1 answer"
	}
	parts = append(parts, answers)
	if v.Rounds > 1 {
		parts = append(parts, "tested after repair")
	}
	if v.Damaged {
		parts = append(parts, "part of the record is damaged")
	}
	g.hanging("  ", "    ", strings.Join(parts, " · "))
}

type deleteCommand struct {
	Visit string `arg:"" help:"The visit to delete."`
	Yes   bool   `help:"Do not ask."`
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
		fmt.Fprintf(p.out, "Delete visit %s with all its readings? It can not be brought back. Type yes to delete > ", c.Visit)
		typed, _ := p.in.ReadSlice('\n')
		if !strings.EqualFold(strings.TrimSpace(string(typed)), "yes") {
			fmt.Fprintln(p.out, "\nNothing was deleted.")
			return ended(exitBadInput)
		}
	}
	if err := records.Delete(c.Visit); err != nil {
		return noVisit(records, c.Visit, err)
	}
	fmt.Fprintf(p.out, "Visit %s is deleted.\n", c.Visit)
	return nil
}
