package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/gui/look"
)

// shot leads a desk to a view worth a picture.
type shot struct {
	name string
	lead func(t *testing.T, d *Desk)
}

// showing is how a shot is shown.
type showing struct {
	name string
	mode look.Mode
	size fyne.Size
}

// scenes leads a desk to each view worth a picture. They are the views that
// README shows and that a person should look at after a change.
var scenes = []shot{
	{"01-welcome", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageWelcome}) }},
	{"02-opening", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageOpening}) }},
	{"03-observe", func(t *testing.T, d *Desk) { d.press(t, "A tingle") }},
	{"04-measure", func(t *testing.T, d *Desk) { d.toBody(t) }},
	{"05-typed", func(t *testing.T, d *Desk) { d.toBody(t); d.typeIn(t, "41.5") }},
	{"06-straddles", func(t *testing.T, d *Desk) { d.toBody(t); d.typeIn(t, "29.8") }},
	{"07-refused", func(t *testing.T, d *Desk) { d.toBody(t); d.typeIn(t, "12000") }},
	{"08-cannot", func(t *testing.T, d *Desk) { d.toBody(t); d.press(t, "annot") }},
	{"09-stop", func(t *testing.T, d *Desk) { d.toBody(t); d.answer(t, "58") }},
	{"10-ohms", func(t *testing.T, d *Desk) { d.toBody(t); d.answer(t, "58"); d.press(t, "This is done") }},
	{"11-danger", func(t *testing.T, d *Desk) { d.toFinding(t) }},
	{"12-earlier", func(t *testing.T, d *Desk) { d.toFinding(t); d.press(t, "Body to earth"); d.retype(t, "2") }},
	{"13-handed-over", func(t *testing.T, d *Desk) { d.toBody(t); d.answer(t, "12") }},
	{"14-low", func(t *testing.T, d *Desk) { d.toBody(t); d.answer(t, "2") }},
	{"15-pedestal", func(t *testing.T, d *Desk) { d.Go(Location{Page: pagePedestal}) }},
	{"16-sheet", func(t *testing.T, d *Desk) { d.toSheet(t) }},
	{"17-sheet-stop", func(t *testing.T, d *Desk) { d.toSheet(t); d.typeIn(t, "118") }},
	{"18-two", func(t *testing.T, d *Desk) { d.press(t, "Not plugged in"); d.answer(t, "1.2"); d.typeIn(t, "119") }},
	{"19-card", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageRead, Kind: "card", ID: "doubt-the-meter"}) }},
	{"20-caution", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageRead, Kind: "caution", ID: "first-minute"}) }},
	{"21-fault", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageRead, Kind: "fault", ID: "live-body"}) }},
	{"22-source", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageRead, Kind: "source", ID: "published-limit"}) }},
	{"23-handbook", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageHandbook}) }},
	{"24-search", func(t *testing.T, d *Desk) { d.shell.startSearch(); d.typeIn(t, "meter") }},
	{"25-reading-hit", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageStep, ID: "tingle#body-earth", Query: "58"}) }},
	{"26-visits", func(t *testing.T, d *Desk) { d.toFinding(t); d.begin2(t); d.Go(Location{Page: pageVisits}) }},
	{"27-delete", func(t *testing.T, d *Desk) { d.toBody(t); d.Go(Location{Page: pageDelete, ID: d.visit.id()}) }},
	{"28-sheet-out", func(t *testing.T, d *Desk) { d.toFinding(t); d.press(t, "Make the sheet") }},
	{"29-settings", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageSettings}) }},
	{"30-unfinished", func(t *testing.T, d *Desk) { d.toBody(t); d.Go(Location{Page: pageOpening}) }},
	{"31-menu", func(t *testing.T, d *Desk) { d.shell.toggleMenu() }},
	{"32-tree", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageTree, ID: "tingle"}) }},
	{"33-problems", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageProblems}) }},
	{"34-not-found", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageRead, Kind: "card", ID: "none"}) }},
}

func (d *Desk) answer(t *testing.T, text string) {
	t.Helper()
	d.typeIn(t, text)
	d.key(fyne.KeyReturn)
}

func (d *Desk) retype(t *testing.T, text string) {
	t.Helper()
	d.window.Canvas().Focused().(*look.Field).SetText(text)
}

func (d *Desk) toBody(t *testing.T) {
	t.Helper()
	d.press(t, "A tingle")
	d.typeIn(t, "1")
	d.answer(t, "119.8")
}

func (d *Desk) toFinding(t *testing.T) {
	t.Helper()
	d.toBody(t)
	d.answer(t, "57.3")
	d.press(t, "This is done")
	d.answer(t, "OL")
}

func (d *Desk) begin2(t *testing.T) {
	t.Helper()
	d.Go(Location{Page: pageOpening})
	d.press(t, "Not plugged in")
	d.answer(t, "1.2")
}

func (d *Desk) toSheet(t *testing.T) {
	t.Helper()
	d.press(t, "Not plugged in")
	d.press(t, "All readings on one page")
}

// Every view draws in every mode at every size without a panic.
func TestPictures(t *testing.T) {
	for _, v := range []showing{
		{"light", look.Light, wide}, {"dark", look.Dark, wide}, {"narrow", look.Light, small},
		{"contrast", look.HighContrast, wide}, {"middle", look.Dark, middle},
	} {
		if *pictures == "" && v.mode != look.Light {
			continue // another mode lays out the same; TestEveryPageOpens draws all
		}
		for _, s := range scenes {
			t.Run(v.name+"/"+s.name, func(t *testing.T) {
				d := desk(t, v.size)
				d.set(func(s *Settings) { s.Mode = v.mode })
				s.lead(t, d)
				d.picture(t, v.name+"-"+s.name)
			})
		}
	}
}
