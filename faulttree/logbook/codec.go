package logbook

import (
	"encoding/json"
	"fmt"

	"faultwright/faulttree/archive"
)

const format = "faultwright-vehicle"

// file is a vehicle as it is written.
type file struct {
	archive.Head
	Vehicle
}

// Encode is a vehicle as one line of text.
func Encode(v Vehicle) ([]byte, error) {
	v = v.Tidy()
	if err := v.Check(); err != nil {
		return nil, err
	}
	text, err := json.Marshal(file{archive.Ours(format), v})
	return append(text, '\n'), err
}

// Decode reads what Encode writes. The error says in one sentence, without its full stop,
// why a text is none.
func Decode(text []byte) (Vehicle, error) {
	var f Vehicle
	if err := archive.Decode(text, format, "vehicle", &f); err != nil {
		return Vehicle{}, err
	}
	f = f.Tidy()
	if err := f.Check(); err != nil {
		return Vehicle{}, fmt.Errorf("the vehicle cannot be taken: %w", err)
	}
	return f, nil
}
