package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"time"

	"faultwright/faulttree/archive"
	"faultwright/faulttree/visit"
)

// Bundle is a vehicle with its visits as one file, to be kept elsewhere or handed on.
type Bundle struct {
	Vehicle Vehicle
	Visits  map[string][]byte // the records as they are kept, by id
}

// bounds are those of a bundle: a visit has some 100 KiB.
var bounds = archive.Bounds{File: 32 << 20, Unpacked: 96 << 20, Entries: 2000}

const (
	vehicleEntry  = "vehicle.json"
	visitsFolder  = "visits/"
	endingOfVisit = ".visit"
)

// Bytes is the bundle as a file. The error says where it would be larger than is read.
func (b Bundle) Bytes(at time.Time) ([]byte, error) {
	text, err := Encode(b.Vehicle)
	if err != nil {
		return nil, err
	}
	entries := []archive.Entry{{Name: vehicleEntry, Text: text}}
	size := int64(len(text))
	for _, id := range slices.Sorted(maps.Keys(b.Visits)) {
		entries = append(entries, archive.Entry{Name: visitsFolder + id + endingOfVisit, Text: b.Visits[id]})
		size += int64(len(b.Visits[id]))
	}
	if len(entries) > bounds.Entries || size > bounds.Unpacked {
		return nil, fmt.Errorf("the vehicle has %d visits of together %d MiB; one file holds at most %d visits and %d MiB", len(b.Visits), size>>20, bounds.Entries-1, bounds.Unpacked>>20)
	}
	return archive.Pack(entries, at)
}

// ReadBundle reads what [Bundle.Bytes] writes. A file that is none, or that holds a visit
// of something else, is refused whole, in one sentence without its full stop.
func ReadBundle(r io.Reader) (Bundle, error) {
	raw, err := bounds.Read(r)
	if err != nil {
		return Bundle{}, err
	}
	files, err := bounds.Unpack(raw)
	if err != nil {
		return Bundle{}, err
	}
	text, ok := files[vehicleEntry]
	if !ok {
		return Bundle{}, fmt.Errorf("this is no vehicle: the ZIP file has no entry %s", vehicleEntry)
	}
	b := Bundle{Visits: map[string][]byte{}}
	if b.Vehicle, err = Decode(text); err != nil {
		return Bundle{}, err
	}
	for _, name := range archive.Names(files) {
		id, ok := strings.CutPrefix(name, visitsFolder)
		if !ok {
			continue
		}
		id, ok = strings.CutSuffix(id, endingOfVisit)
		if !ok {
			continue
		}
		if err := b.belongs(id, files[name]); err != nil {
			return Bundle{}, fmt.Errorf("the visit %s of the file cannot be taken: %w", short(id), err)
		}
		b.Visits[id] = files[name]
	}
	return b, nil
}

// belongs reports a text that is no record of a visit of the vehicle.
func (b Bundle) belongs(id string, text []byte) error {
	v, _, err := visit.Read(text)
	switch {
	case err != nil:
		return err
	case v.Header.ID != id:
		return fmt.Errorf("its record says that it is %q", short(v.Header.ID))
	case v.Header.Practice != "":
		return visit.ErrNoRealVehicle
	case !b.Vehicle.Is(v.Vehicle()):
		return fmt.Errorf("it is of another vehicle")
	}
	return v.Header.Meter.Check()
}

// Records is where visits are kept: texts by id, taken as they are. Take is an
// [fs.ErrExist] for an id that is there.
type Records interface {
	Text(id string) ([]byte, error)
	Take(id string, text []byte) error
}

// Gather is a vehicle with its visits, of these ids, as they are on record.
func Gather(v Vehicle, ids []string, records Records) (Bundle, error) {
	b := Bundle{Vehicle: v, Visits: map[string][]byte{}}
	for _, id := range ids {
		text, err := records.Text(id)
		if err != nil {
			return b, err
		}
		b.Visits[id] = text
	}
	return b, nil
}

// Taken is what of a bundle was put on record.
type Taken struct {
	Visits int // that were added
	Differ int // that are there already, and otherwise; these stay as they are
}

// PutVisits puts the visits of a bundle on record. On an error those before it are there;
// another try goes on with the rest.
func (b Bundle) PutVisits(records Records) (Taken, error) {
	var out Taken
	for _, id := range slices.Sorted(maps.Keys(b.Visits)) {
		switch err := records.Take(id, b.Visits[id]); {
		case errors.Is(err, fs.ErrExist):
			if here, err := records.Text(id); err != nil || !bytes.Equal(here, b.Visits[id]) {
				out.Differ++
			}
		case err != nil:
			return out, err
		default:
			out.Visits++
		}
	}
	return out, nil
}
