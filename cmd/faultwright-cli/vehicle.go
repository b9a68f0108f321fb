package main

import (
	"errors"
	"io"
	"slices"
	"strings"

	"faultwright/content/plainfile"
	"faultwright/content/view"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/logbook"
	vehicles "faultwright/faulttree/logbook/store"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

type vehicleCommand struct {
	List   vehicleListCommand   `cmd:"" help:"List your own vehicles."`
	Show   vehicleShowCommand   `cmd:"" help:"Show what is known of a vehicle, its visits, and its readings side by side over them."`
	Export vehicleExportCommand `cmd:"" help:"Put a vehicle and its visits into one file."`
	Import vehicleImportCommand `cmd:"" help:"Take a vehicle and its visits out of a file. What is here already stays as it is."`
	Give   vehicleGiveCommand   `cmd:"" help:"Make a visit on record one of another vehicle, or of none."`
}

// logbook opens the folder of the reader's own vehicles.
func (p *program) logbook() (*vehicles.Store, error) {
	dir, err := vehicles.Folder(p.env)
	if err != nil {
		return nil, failure{exitBadInput, err}
	}
	s, err := vehicles.Open(dir)
	if err != nil {
		return nil, failure{exitBadInput, err}
	}
	return s, nil
}

type vehicleListCommand struct {
	JSON bool `name:"json" help:"Print the list as JSON."`
}

func (c vehicleListCommand) Run(p *program) error {
	book, err := p.logbook()
	if err != nil {
		return err
	}
	defer book.Close()
	all, unread, err := book.List()
	if err != nil {
		return failure{exitBadInput, err}
	}
	for _, u := range unread {
		p.note(u.Err.Error())
	}
	if c.JSON {
		return writeJSON(p.out, slices.Concat([]logbook.Vehicle{}, all))
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	g := p.page(p.out)
	if len(all) == 0 {
		g.para("", "No vehicle has a name yet. One is added in the window, under Vehicles, or by: faultwright-cli vehicle import FILE")
	}
	for _, v := range all {
		g.hanging(v.ID+"  ", "    ", v.Name)
		g.hanging("  ", "    ", strings.Join(view.KnownOf(lib, v), " · "))
	}
	return nil
}

// own is one of the reader's own vehicles, by its id or its name.
func own(book *vehicles.Store, called string) (logbook.Vehicle, error) {
	all, _, err := book.List()
	if err != nil {
		return logbook.Vehicle{}, failure{exitBadInput, err}
	}
	if v, ok := logbook.Find(all, called); ok {
		return v, nil
	}
	named := lists.Where(all, func(v logbook.Vehicle) bool { return strings.EqualFold(v.Name, called) })
	ids := func(of []logbook.Vehicle) string {
		return list(lists.Each(of, func(v logbook.Vehicle) string { return v.ID }))
	}
	switch {
	case len(named) == 1:
		return named[0], nil
	case len(named) > 1:
		return logbook.Vehicle{}, bad("%d vehicles are called %s; give the id of one, as vehicle list shows them: %s", len(named), clean(called), ids(named))
	case len(all) == 0:
		return logbook.Vehicle{}, bad("there is no vehicle %s; none has a name yet", clean(called))
	}
	return logbook.Vehicle{}, bad("there is no vehicle %s; there are %s", clean(called), ids(all))
}

// visitsOf is the visits of a vehicle, the oldest first.
func visitsOf(records *store.Store, v logbook.Vehicle) (lines []store.Summary, all []visit.Visit, err error) {
	list, err := records.List()
	if err != nil {
		return nil, nil, failure{exitBadInput, err}
	}
	for _, l := range list {
		if l.Err == nil && v.Is(l.Vehicle) {
			lines = append(lines, l)
		}
	}
	slices.SortStableFunc(lines, func(a, b store.Summary) int { return a.Header.Started.Compare(b.Header.Started) })
	for _, l := range lines {
		if record, err := records.Read(l.ID); err == nil {
			all = append(all, record)
		}
	}
	return lines, all, nil
}

type vehicleShowCommand struct {
	Vehicle string `arg:"" help:"The vehicle, by its name or id."`
}

func (c vehicleShowCommand) Run(p *program) error {
	book, records, v, err := c.open(p)
	if err != nil {
		return err
	}
	defer book.Close()
	defer records.Close()
	lib, err := p.library()
	if err != nil {
		return err
	}
	lines, visits, err := visitsOf(records, v)
	if err != nil {
		return err
	}
	g := p.page(p.out)
	g.para("", v.Name)
	for _, text := range []string{strings.Join(view.KnownOf(lib, v), " · "), view.AboardOf(v), v.Meter, v.Note} {
		if text != "" {
			g.para("  ", text)
		}
	}
	for i, l := range lines {
		if i == 0 {
			g.blank()
		}
		g.summary(lib, l)
	}
	compared := view.Compare(lib, visits)
	if len(compared) == 0 {
		return nil
	}
	g.blank()
	g.para("", view.ComparedNote)
	for _, c := range compared {
		g.hanging("- ", "  ", c.Line()+". "+c.Change)
	}
	return nil
}

// open opens what is kept, and reads the vehicle.
func (c vehicleShowCommand) open(p *program) (*vehicles.Store, *store.Store, logbook.Vehicle, error) {
	book, err := p.logbook()
	if err != nil {
		return nil, nil, logbook.Vehicle{}, err
	}
	v, err := own(book, c.Vehicle)
	if err != nil {
		return nil, nil, v, errors.Join(err, book.Close())
	}
	records, err := p.records()
	if err != nil {
		book.Close()
	}
	return book, records, v, err
}

type vehicleExportCommand struct {
	Vehicle string `arg:"" help:"The vehicle, by its name or id."`
	Out     string `placeholder:"FILE" required:"" help:"Write the file here."`
	Force   bool   `help:"Replace the file if it is there."`
}

func (c vehicleExportCommand) Run(p *program) error {
	book, records, v, err := vehicleShowCommand{Vehicle: c.Vehicle}.open(p)
	if err != nil {
		return err
	}
	defer book.Close()
	defer records.Close()
	lines, _, err := visitsOf(records, v)
	if err != nil {
		return err
	}
	var ids []string
	for _, l := range lines {
		ids = append(ids, l.ID)
	}
	b, err := logbook.Gather(v, ids, records)
	if err != nil {
		return bad("%v", err)
	}
	raw, err := b.Bytes(p.now())
	if err != nil {
		return bad("%v", err)
	}
	return p.put(c.Out, c.Force, "The vehicle", func(w io.Writer) error { _, err := w.Write(raw); return err })
}

type vehicleImportCommand struct {
	File string `arg:"" help:"The file with a vehicle."`
}

func (c vehicleImportCommand) Run(p *program) error {
	f, err := plainfile.Open(c.File)
	if err != nil {
		return bad("%v", err)
	}
	defer f.Close()
	b, err := logbook.ReadBundle(f)
	if err != nil {
		return bad("%s: %v", fileName(c.File), err)
	}
	book, err := p.logbook()
	if err != nil {
		return err
	}
	defer book.Close()
	records, err := p.records()
	if err != nil {
		return err
	}
	defer records.Close()
	all, _, err := book.List()
	if err != nil {
		return bad("%v", err)
	}
	v, known := logbook.Find(all, b.Vehicle.ID)
	if !known {
		if v, err = book.Add(b.Vehicle); err != nil {
			return bad("%v", err)
		}
	}
	taken, err := b.PutVisits(records)
	p.page(p.out).para("", view.TakenVehicle(v, known, taken))
	if err != nil {
		return bad("%v", err)
	}
	return nil
}
