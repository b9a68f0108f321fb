package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/booklet"
	"faultwright/faulttree/lists"
	window "faultwright/gui/session"
)

// meter is the meter of a name among the reader's, as the settings of the window keep
// them, or as lines of its booklet in a file say; the ordinary one for "". The ordinary
// figures count for what no line gives, and lines that are not understood are told.
func (p *program) meter(called string) (faulttree.Meter, error) {
	m := faulttree.DefaultMeter()
	if called == "" {
		return m, nil
	}
	own := p.ownMeters()
	if i := slices.IndexFunc(own, func(o window.OwnMeter) bool { return strings.EqualFold(o.Name, called) }); i >= 0 {
		return own[i].Meter, nil
	}
	f, err := openPlain(called)
	if errors.Is(err, fs.ErrNotExist) {
		names := lists.Each(own, func(o window.OwnMeter) string { return o.Name })
		return m, lacking("there is no meter and no file", "your meters are", called, names)
	}
	if err != nil {
		return m, bad("the booklet %v", err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, booklet.MostText+1))
	if err != nil {
		return m, bad("the booklet %s cannot be read: %v", called, err)
	}
	lines := booklet.Read(string(text), m.FullScale)
	understood := 0
	for _, l := range lines {
		switch {
		case l.Refused != "":
			p.note(fmt.Sprintf("%s:%d counts for nothing: %s", called, l.Number, l.Refused))
		case l.Of != 0:
			understood++
		}
	}
	if understood == 0 {
		return m, bad("no line of %s gives the accuracy of a range; expected lines such as: AC V 600.0 V ±(1.0%% + 3)", called)
	}
	m.Name = strings.TrimSuffix(filepath.Base(called), filepath.Ext(called))
	if m, err = booklet.Give(m, lines); err != nil {
		return m, bad("the booklet %s: %v", called, err)
	}
	return m, nil
}

// ownMeters lists the reader's meters. Settings that cannot be read have the usual one.
func (p *program) ownMeters() []window.OwnMeter {
	path, err := window.SettingsPath(p.env)
	if err != nil {
		return window.DefaultSettings().All()
	}
	s, err := window.ReadSettings(path)
	if err != nil {
		p.note(err.Error())
	}
	return s.All()
}

// noteProof notes with a meter of the reader's that it was proved today, and says so. One
// that nobody named may be any.
func (p *program) noteProof(g page, m faulttree.Meter) {
	path, err := window.SettingsPath(p.env)
	if m.Name == faulttree.DefaultMeter().Name || err != nil {
		return
	}
	s, err := window.ReadSettings(path)
	if err != nil || !s.Prove(m, p.now()) {
		return
	}
	if err := window.WriteSettings(path, s); err != nil {
		p.note("that the meter was proved could not be noted: " + err.Error())
		return
	}
	g.para("", view.ProofNoted(m, p.now()))
}
