package session

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"faultwright/content/figure"
	"faultwright/content/plainfile"
	"faultwright/faulttree"
	"faultwright/faulttree/journal"
	"faultwright/faulttree/suspect"
)

// Settings are the reader's own: who they are, with which meter, and how the
// window looks. The zero value is that of a first start.
type Settings struct {
	Welcomed bool // the live-work caution has been read and the role chosen
	Role     faulttree.Role
	Meter    faulttree.Meter
	Tools    suspect.Tools // beside the meter
	Vehicle  string        // id of the vehicle in hand, "" for one without a name
	Face     figure.Face   // of the plug of a vehicle without a name, for pictures of trees about either
	Colours  string        // name of a set of colours; "" is as the desktop says
	TextSize float32       // 1 is normal
}

// TextSizes are the steps of the text-size setting.
func TextSizes() []float32 { return []float32{0.75, 0.85, 1, 1.15, 1.3, 1.5, 1.75, 2, 2.5} }

// DefaultSettings are those of a first start.
func DefaultSettings() Settings {
	return Settings{Meter: faulttree.DefaultMeter(), TextSize: 1}
}

// settingsFile is how settings are written; amounts are decimal text.
type settingsFile struct {
	Welcomed bool         `json:"welcomed"`
	Role     string       `json:"role"`
	Vehicle  string       `json:"vehicle,omitempty"`
	Face     string       `json:"plug"`
	Colours  string       `json:"colours"`
	TextSize float32      `json:"text_size"`
	Meter    meterSetting `json:"meter"`
	Tools    []string     `json:"tools"`
}

type meterSetting struct {
	Name       string          `json:"name"`
	FullScale  int             `json:"counts"`
	ACVolts    accuracySetting `json:"ac_volts"`
	DCVolts    accuracySetting `json:"dc_volts"`
	Resistance accuracySetting `json:"ohms"`
	Current    accuracySetting `json:"amps"`
}

type accuracySetting struct {
	Percent string `json:"percent"`
	Counts  int    `json:"counts"`
}

// mostSettings bounds what is read, in bytes.
const mostSettings = 1 << 20

// ReadSettings reads the settings file. A file that is not there gives the
// defaults; one that cannot be understood gives the defaults and an error
// that says so.
func ReadSettings(path string) (Settings, error) {
	s := DefaultSettings()
	f, err := plainfile.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err != nil {
		return s, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostSettings+1))
	if err == nil && len(text) > mostSettings {
		err = fmt.Errorf("%s is too large to be settings", path)
	}
	if err != nil {
		return s, err
	}
	return decodeSettings(text)
}

func decodeSettings(text []byte) (Settings, error) {
	s := DefaultSettings()
	var f settingsFile
	if err := json.Unmarshal(text, &f); err != nil {
		return s, fmt.Errorf("the settings cannot be read, so the usual ones are used: %w", err)
	}
	role, roleOK := faulttree.ParseRole(f.Role)
	if roleOK {
		s.Role, s.Welcomed = role, f.Welcomed
	}
	if face, ok := figure.ParseFace(f.Face); ok {
		s.Face = face
	}
	if journal.ValidID(f.Vehicle) {
		s.Vehicle = f.Vehicle
	}
	s.Colours = f.Colours
	if sizes := TextSizes(); f.TextSize >= sizes[0] && f.TextSize <= sizes[len(sizes)-1] {
		s.TextSize = f.TextSize
	}
	if m, err := f.Meter.meter(); err == nil {
		s.Meter = m
	}
	s.Tools, _ = suspect.ToolsOf(f.Tools)
	return s, nil
}

func (m meterSetting) meter() (faulttree.Meter, error) {
	out := faulttree.Meter{Name: m.Name, FullScale: m.FullScale}
	for _, a := range []struct {
		from accuracySetting
		to   *faulttree.Accuracy
	}{{m.ACVolts, &out.ACVolts}, {m.DCVolts, &out.DCVolts}, {m.Resistance, &out.Resistance}, {m.Current, &out.Current}} {
		percent, err := faulttree.ParseAmount(a.from.Percent)
		if err != nil {
			return out, fmt.Errorf("%q is not a percentage from 0 to 100", a.from.Percent)
		}
		*a.to = faulttree.Accuracy{Percent: percent, Counts: a.from.Counts}
	}
	return out, out.Check()
}

func settingOf(m faulttree.Meter) meterSetting {
	accuracy := func(a faulttree.Accuracy) accuracySetting { return accuracySetting{a.Percent.String(), a.Counts} }
	return meterSetting{m.Name, m.FullScale, accuracy(m.ACVolts), accuracy(m.DCVolts), accuracy(m.Resistance), accuracy(m.Current)}
}

func encodeSettings(s Settings) ([]byte, error) {
	return json.MarshalIndent(settingsFile{
		Welcomed: s.Welcomed, Role: s.Role.String(), Vehicle: s.Vehicle, Face: s.Face.String(), Colours: s.Colours, TextSize: s.TextSize, Meter: settingOf(s.Meter), Tools: s.Tools.IDs(),
	}, "", "  ")
}

// WriteSettings puts the settings on disk whole: a sudden stop leaves the old
// file or the new one, never half of one.
func WriteSettings(path string, s Settings) error {
	text, err := encodeSettings(s)
	if err != nil {
		return err
	}
	return writeWhole(path, append(text, '\n'), 0o600)
}

// writeWhole writes a file, for whom its mode says, by way of a temporary one in the
// same folder.
func writeWhole(path string, text []byte, mode fs.FileMode) error {
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(folder, ".writing-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // nothing is left of it once renamed
	if err = f.Chmod(mode); err == nil {
		_, err = f.Write(text)
	}
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return err
	}
	if dir, err := os.Open(folder); err == nil {
		dir.Sync() // not every system can; the rename itself is done
		dir.Close()
	}
	return nil
}

// MeterLines are the lines in which a reader describes a meter: its name, the
// counts of its display, and how far AC volts, DC volts, ohms and amps can be
// trusted, as "1.2 + 5": percent of the reading plus counts.
func MeterLines(m faulttree.Meter) []string {
	s := settingOf(m)
	return []string{s.Name, strconv.Itoa(s.FullScale), s.ACVolts.text(), s.DCVolts.text(), s.Resistance.text(), s.Current.text()}
}

// text is an accuracy as the form shows it: "1.2 + 5".
func (a accuracySetting) text() string { return a.Percent + " + " + strconv.Itoa(a.Counts) }

// ParseMeter reads such lines. The error names the first line that cannot be
// understood, and what was expected.
func ParseMeter(lines []string) (faulttree.Meter, error) {
	counts, err := strconv.Atoi(strings.ReplaceAll(strings.TrimSpace(lines[1]), " ", ""))
	if err != nil {
		return faulttree.Meter{}, &meterError{"the counts of the display", lines[1], "6000"}
	}
	s := meterSetting{Name: strings.TrimSpace(lines[0]), FullScale: counts}
	for i, to := range []*accuracySetting{&s.ACVolts, &s.DCVolts, &s.Resistance, &s.Current} {
		text := lines[i+2]
		percent, rest, ok := strings.Cut(strings.ReplaceAll(strings.ReplaceAll(text, "%", ""), ",", "."), "+")
		n, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "counts")))
		if !ok || err != nil {
			return faulttree.Meter{}, &meterError{[]string{"AC volts", "DC volts", "ohms", "amps"}[i], text, "1.2 + 5"}
		}
		*to = accuracySetting{strings.TrimSpace(percent), n}
	}
	return s.meter()
}

// meterError is a line of the form that cannot be understood.
type meterError struct{ what, have, like string }

func (e *meterError) Error() string {
	return e.what + " is “" + e.have + "”; expected something like " + e.like
}
