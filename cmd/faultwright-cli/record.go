package main

import (
	"cmp"
	"errors"
	"io/fs"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

// records opens the folder of visits.
func (p *program) records() (*store.Store, error) {
	dir, err := store.Folder(p.env)
	if err != nil {
		return nil, failure{exitBadInput, err}
	}
	s, err := store.Open(dir)
	if err != nil {
		return nil, failure{exitBadInput, err}
	}
	return s, nil
}

// noVisit names the visits there are beside one that is not.
func noVisit(s *store.Store, id string, err error) error {
	if !errors.Is(err, fs.ErrNotExist) && visit.CheckID(id) == nil {
		return failure{exitBadInput, err}
	}
	var ids []string
	if all, err := s.List(); err == nil {
		for _, v := range all {
			ids = append(ids, v.ID)
		}
	}
	return unknown("visit", id, ids)
}

// unrecorded is the log of what is not put on record.
type unrecorded struct{}

func (unrecorded) Append([]byte) error { return nil }

// begin asks through a new visit.
func (c walkCommand) begin(p *program, lib *content.Library, h visit.Header) error {
	s := newSession(p, lib, c)
	s.say.cautions(view.CautionsOf(lib, []string{"live-work"}))
	if c.NoRecord {
		rec, err := visit.Resume(unrecorded{}, visit.Visit{Header: h}, lib.Forest)
		if err != nil {
			return bad("%v", err)
		}
		return s.run(rec)
	}
	records, err := p.records()
	if err != nil {
		return err
	}
	defer records.Close()
	file, err := records.Create(h)
	if err != nil {
		return failure{exitBadInput, err}
	}
	defer file.Close()
	rec, err := visit.Resume(file, file.Record(), lib.Forest)
	if err != nil {
		return bad("%v", err)
	}
	s.id = file.Record().Header.ID
	return s.run(rec)
}

// resume goes on with a visit on record.
func (c walkCommand) resume(p *program, lib *content.Library) error {
	records, err := p.records()
	if err != nil {
		return err
	}
	defer records.Close()
	file, err := records.Open(c.Resume)
	if errors.Is(err, store.ErrElsewhere) {
		return bad("%v. To look: faultwright-cli report %s", err, c.Resume)
	}
	if err != nil {
		return noVisit(records, c.Resume, err)
	}
	defer file.Close()
	v := file.Record()
	if err := p.walkable(lib, v.Header.Start); err != nil {
		return err
	}
	rec, err := visit.Resume(file, v, lib.Forest)
	if err != nil {
		return bad("this visit cannot go on in the handbook in use: %v. Its readings stay on record: faultwright-cli report %s", err, c.Resume)
	}
	s := newSession(p, lib, c)
	s.id = c.Resume
	s.tellRecord(v, rec)
	if d := (visit.Details{Site: c.Site, Vehicle: c.Vehicle, Note: c.Note}); d != (visit.Details{}) {
		if rec, err = rec.Describe(p.now(), merged(v.Details(), d)); err != nil {
			return failure{exitBadInput, err}
		}
	}
	if c.Retest {
		if rec, err = s.retest(rec); err != nil {
			return failure{exitBadInput, err}
		}
	}
	return s.run(rec)
}

// merged is old with what is new where something new is given.
func merged(old, given visit.Details) visit.Details {
	return visit.Details{Site: cmp.Or(given.Site, old.Site), Vehicle: cmp.Or(given.Vehicle, old.Vehicle), Note: cmp.Or(given.Note, old.Note)}
}

// tellRecord says what resuming found: damage, answers that no longer stand, a
// changed handbook.
func (s *session) tellRecord(v visit.Visit, rec visit.Recorder) {
	for _, d := range v.Doubts() {
		signal := faulttree.Notice
		if d.Lost {
			signal = faulttree.Warning
		}
		s.say.signal(signal, d.String())
	}
	lapsed := rec.Current().Lapsed()
	if len(lapsed) > 0 || v.Header.Content != "" && v.Header.Content != s.lib.Fingerprint() {
		text := "The handbook has changed since this visit began. Every answer still stands."
		if len(lapsed) > 0 {
			text = "The handbook has changed since this visit began. These answers are kept but no longer stand:"
		}
		s.say.para("", text)
	}
	for _, l := range lapsed {
		s.say.hanging("  - ", "    ", view.Sentence(view.ReplyText(s.lib, l.Item.Reply))+" "+l.Why)
	}
	s.say.trail(s.lib, rec.Walk())
	if len(rec.Walk().Trail()) > 0 {
		s.say.blank()
	}
}
