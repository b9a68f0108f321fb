package gui

import (
	"crypto/rand"
	"encoding/binary"
	"errors"
	"fmt"
	"io"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

// visiting is the visit under way: its record, which goes on disk before the
// next step is shown, and what lets go of its file.
type visiting struct {
	rec    visit.Recorder
	file   io.Closer // nil for a visit that is only looked at
	reason string    // why it is only looked at; "" while it can be answered
}

func (v *visiting) id() string           { return v.rec.Visit().Header.ID }
func (v *visiting) walk() faulttree.Walk { return v.rec.Walk() }
func (v *visiting) readOnly() bool       { return v.file == nil }

// doubts are what the reader is told about the record of a visit taken up
// again: what of it could not be read, and what no longer fits the handbook.
func (v *visiting) doubts(book *content.Library) []string {
	var out []string
	record := v.rec.Visit()
	if len(book.TreeErrors(record.Header.Start.Tree)) > 0 {
		out = append(out, "The handbook in use has errors in this tree; a branch may be missing from it.")
	}
	if n := len(record.Damage); n > 0 {
		out = append(out, "The record is damaged: "+count(n, "line")+" could not be read and were left out.")
	}
	if record.Torn {
		out = append(out, "The last line of the record was cut off and left out; that answer had not been confirmed.")
	}
	if n := len(v.rec.Current().Lapsed()); n > 0 {
		out = append(out, count(n, "answer")+" no longer fit this handbook. They are kept, and stand on the sheet.")
	}
	return out
}

// memory is the log of a visit that can be kept nowhere.
type memory struct{}

func (memory) Append([]byte) error { return nil }
func (memory) Close() error        { return nil }

// looking is the log of a visit that another window has.
type looking struct{}

func (looking) Append([]byte) error { return store.ErrElsewhere }

// begin starts a visit at a step and shows it. An empty step is the tree's
// first. The header is on disk before anything is shown.
func (d *Desk) begin(at faulttree.Ref) {
	if t := d.book.Forest.Trees[at.Tree]; t != nil && at.Step == "" {
		at.Step = t.Start
	}
	if len(d.book.TreeErrors(at.Tree)) > 0 {
		d.say("This tree has errors, and a branch may be missing from it. It is not walked until they are mended.")
		d.Go(Location{Page: pageProblems})
		return
	}
	h := visit.Header{Start: at, Role: d.settings.Role, Meter: d.settings.Meter, Started: d.options.Now(), Content: d.book.Fingerprint()}
	log, closer, err := d.create(&h)
	if err != nil {
		d.say("A visit could not be begun: " + err.Error())
		return
	}
	rec, err := visit.Resume(log, visit.Visit{Header: h}, d.book.Forest)
	if err != nil {
		closer.Close()
		d.say("A visit could not be begun: " + err.Error())
		return
	}
	d.release()
	d.visit = &visiting{rec: rec, file: closer}
	d.Go(Location{Page: pageWalk, ID: h.ID})
}

func (d *Desk) create(h *visit.Header) (visit.Log, io.Closer, error) {
	if d.options.Visits == nil {
		h.ID = visit.NewID(h.Started, d.options.Random())
		return memory{}, memory{}, nil
	}
	f, err := d.options.Visits.Create(*h)
	if err != nil {
		return nil, nil, err
	}
	*h = f.Visit().Header
	return f, f, nil
}

// resume makes the visit with this id the one under way. Where another window
// has it, it can be looked at.
func (d *Desk) resume(id string) error {
	if d.visit != nil && d.visit.id() == id && !d.visit.readOnly() {
		return nil
	}
	if d.options.Visits == nil {
		return fmt.Errorf("visit %s is not on record", id)
	}
	d.release()
	f, err := d.options.Visits.Open(id)
	if errors.Is(err, store.ErrElsewhere) {
		return d.lookAt(id)
	}
	if err != nil {
		return err
	}
	rec, err := visit.Resume(f, f.Visit(), d.book.Forest)
	if err != nil {
		f.Close()
		return err
	}
	d.visit = &visiting{rec: rec, file: f}
	return nil
}

func (d *Desk) lookAt(id string) error {
	v, err := d.options.Visits.Read(id)
	if err != nil {
		return err
	}
	rec, err := visit.Resume(looking{}, v, d.book.Forest)
	if err != nil {
		return err
	}
	d.visit = &visiting{rec: rec, reason: "This visit is open in another window. It can be looked at here, not changed."}
	return nil
}

// release lets go of the visit under way; its record stays.
func (d *Desk) release() {
	if d.visit != nil && d.visit.file != nil {
		if err := d.visit.file.Close(); err != nil {
			d.shell.note = "The record of the visit could not be closed: " + err.Error()
		}
	}
	d.visit, d.shell.wholeTrail = nil, false
}

// give records an answer to the present step, then shows the next.
func (d *Desk) give(a faulttree.Answer) {
	d.record(func() (visit.Recorder, error) { return d.visit.rec.Answer(d.options.Now(), a) })
}

// change records another answer to an earlier step.
func (d *Desk) change(i int, a faulttree.Answer) {
	d.record(func() (visit.Recorder, error) {
		rec, _, err := d.visit.rec.Change(d.options.Now(), i, a)
		return rec, err
	})
}

// supply records the readings of a sheet.
func (d *Desk) supply(s faulttree.Supplied) {
	d.record(func() (visit.Recorder, error) {
		rec, _, err := d.visit.rec.Supply(d.options.Now(), s)
		return rec, err
	})
}

// retest records that the test after a repair begins.
func (d *Desk) retest() {
	done := d.record(func() (visit.Recorder, error) { return d.visit.rec.Retest(d.options.Now(), faulttree.Ref{}) })
	if done {
		d.say("This is the test after the repair. The readings before it stay on record and on the sheet.")
	}
}

// describe records site, vehicle and note; it reports whether that worked.
func (d *Desk) describe(details visit.Details) bool {
	if details == d.visit.rec.Visit().Details() || d.visit.readOnly() {
		return true
	}
	rec, err := d.visit.rec.Describe(d.options.Now(), details)
	if err != nil {
		d.say("Site and vehicle could not be kept: " + err.Error())
		return false
	}
	d.visit.rec = rec
	return true
}

// record does one thing to the visit. Only what is on disk is shown; if it
// could not be put there, the page stays with what was typed. It reports
// whether it was.
func (d *Desk) record(do func() (visit.Recorder, error)) bool {
	if d.visit.readOnly() {
		d.say(d.visit.reason)
		return false
	}
	rec, err := do()
	if err != nil {
		d.say("This could not be put on record, so nothing has changed. What you typed is still here. " + view.Sentence(err.Error()))
		return false
	}
	d.visit.rec = d.goOnWithSheet(rec)
	d.forgetDrafts(d.visit.id())
	d.Go(d.present())
	return true
}

// goOnWithSheet answers from a sheet given earlier in this round what an act or
// a choice has brought up only now.
func (d *Desk) goOnWithSheet(rec visit.Recorder) visit.Recorder {
	records := rec.Visit().Records
	last := records[len(records)-1]
	if last.Kind != visit.Answered || len(last.Replies[0].Readings) > 0 {
		return rec
	}
	for i := len(records) - 1; i >= 0 && records[i].Kind != visit.Retested; i-- {
		if records[i].Kind != visit.Supplied {
			continue
		}
		left, more := view.LeftOver(rec.Walk(), records[i].Supply)
		if !more {
			return rec
		}
		if next, _, err := rec.Supply(d.options.Now(), left); err == nil {
			return next
		}
		return rec
	}
	return rec
}

// present is the place where the visit stands now.
func (d *Desk) present() Location {
	return Location{Page: pageWalk, ID: d.visit.id(), Step: len(d.visit.walk().Trail())}
}

func randomNumber() uint64 {
	var b [8]byte
	rand.Read(b[:])
	return binary.LittleEndian.Uint64(b[:])
}
