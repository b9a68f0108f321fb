package session

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"faultwright/content/figure"
	"faultwright/content/plainfile"
	"faultwright/faulttree"
	"faultwright/faulttree/journal"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/visit/store"
)

// Settings are the reader's own: who they are, with which meter, and how the
// window looks. The zero value is that of a first start.
type Settings struct {
	Welcomed bool // the live-work caution has been read and the role chosen
	Role     faulttree.Role
	Meter    faulttree.Meter // the one in use
	Meters   []OwnMeter      // all that the reader has; none where there is but the one in use
	Tools    suspect.Tools   // beside the meter
	Vehicle  string          // id of the vehicle in hand, "" for one without a name
	Face     figure.Face     // of the plug of a vehicle without a name, for pictures of trees about either
	Colours  string          // name of a set of colours; "" is as the desktop says
	TextSize float32         // 1 is normal
}

// TextSizes are the steps of the text-size setting.
func TextSizes() []float32 { return []float32{0.75, 0.85, 1, 1.15, 1.3, 1.5, 1.75, 2, 2.5} }

// DefaultSettings are those of a first start.
func DefaultSettings() Settings {
	return Settings{Meter: faulttree.DefaultMeter(), TextSize: 1}
}

// settingsFile is how settings are written; amounts are decimal text.
type settingsFile struct {
	Welcomed bool           `json:"welcomed"`
	Role     string         `json:"role"`
	Vehicle  string         `json:"vehicle,omitempty"`
	Face     string         `json:"plug"`
	Colours  string         `json:"colours"`
	TextSize float32        `json:"text_size"`
	Meter    meterSetting   `json:"meter"`
	Meters   []meterSetting `json:"meters,omitempty"`
	Tools    []string       `json:"tools"`
}

// SettingsPath is where settings are kept: beside the folder of visits. Env looks up a
// variable.
func SettingsPath(env func(string) string) (string, error) {
	folder, err := store.Folder(env)
	return filepath.Join(filepath.Dir(folder), "settings.json"), err
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
		s.Meter = m.Meter
	}
	s.Meters = metersOf(f.Meters)
	s.Tools, _ = suspect.ToolsOf(f.Tools)
	return s, nil
}

func encodeSettings(s Settings) ([]byte, error) {
	return json.MarshalIndent(settingsFile{
		Welcomed: s.Welcomed, Role: s.Role.String(), Vehicle: s.Vehicle, Face: s.Face.String(), Colours: s.Colours, TextSize: s.TextSize, Meter: settingOf(s.inUse()), Meters: lists.Each(s.Meters, settingOf), Tools: s.Tools.IDs(),
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
