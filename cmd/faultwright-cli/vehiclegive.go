package main

import (
	"errors"

	"faultwright/content/view"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/visit/store"
)

type vehicleGiveCommand struct {
	Visit   string `arg:"" help:"The visit, by its id; visits lists them."`
	Vehicle string `arg:"" optional:"" help:"The vehicle that it is of, by its name or id."`
	None    bool   `help:"It is of no vehicle with a name."`
}

func (c vehicleGiveCommand) Help() string {
	return "The visit stands with the readings of its vehicle at once. Giving it back undoes that; all of it stays on record."
}

func (c vehicleGiveCommand) Run(p *program) error {
	if (c.Vehicle == "") != c.None {
		return bad("name the vehicle, or say --none, and not both")
	}
	book, err := p.logbook()
	if err != nil {
		return err
	}
	defer book.Close()
	var from, to logbook.Vehicle
	if c.Vehicle != "" {
		if to, err = own(book, c.Vehicle); err != nil {
			return err
		}
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	records, err := p.records()
	if err != nil {
		return err
	}
	defer records.Close()
	file, err := records.Open(c.Visit)
	if errors.Is(err, store.ErrElsewhere) {
		return bad("%v", err)
	}
	if err != nil {
		return noVisit(records, c.Visit, err)
	}
	defer file.Close()
	all, _, err := book.List()
	if err != nil {
		return failure{exitBadInput, err}
	}
	if now := file.Record().Vehicle(); now != "" {
		from, _ = logbook.Find(all, now) // none where it was deleted
	}
	v, err := logbook.Give(file, file.Record(), p.now(), from, to)
	if err != nil {
		return bad("%v", err)
	}
	p.page(p.out).para("", view.GivenVisit(lib, v, from, to, all))
	return nil
}
