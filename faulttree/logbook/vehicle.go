package logbook

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"faultwright/faulttree/journal"
	"faultwright/faulttree/source"
)

// Bounds on what a vehicle says, in letters.
const (
	MostName  = 80
	MostNote  = 4_000
	mostFacts = 100
	mostID    = 100 // letters of the id of a fact, of its choice, of what is aboard
	mostAlso  = 200
)

// Vehicle is one of the reader's own.
type Vehicle struct {
	ID       string            `json:"id"` // see [NewID]; also the name of its file
	Name     string            `json:"name"`
	Note     string            `json:"note,omitempty"`
	Facts    map[string]string `json:"facts,omitempty"`  // by the id of a fact, the choice that holds
	Aboard   []string          `json:"aboard,omitempty"` // see [Equipment], sorted
	Meter    string            `json:"meter,omitempty"`  // name of the meter it is read with
	Made     time.Time         `json:"made"`
	Revision int               `json:"revision"`       // how often it was kept
	Also     []string          `json:"also,omitempty"` // ids of the vehicles that were merged into it
}

// Equipment is what a vehicle may have aboard, by its id. What a handbook concludes from it
// is in [faulttree.Choice.Aboard].
type Equipment struct{ ID, Title string }

// AllEquipment lists what can be noted, in the order in which it is shown.
func AllEquipment() []Equipment {
	return []Equipment{
		{"generator", "Generator"},
		{"inverter", "Inverter"},
		{"solar", "Solar charger"},
		{"transfer-switch", "Transfer switch"},
		{"protective-device", "Protective device against wrong voltage"},
		{"adapter", "Adapter for other receptacles"},
	}
}

// NewID names a vehicle; see [journal.NewID].
func NewID(made time.Time, random uint64) string { return journal.NewID(made, random) }

// Is reports whether an id is that of the vehicle or of one merged into it.
func (v Vehicle) Is(id string) bool {
	return id != "" && (id == v.ID || slices.Contains(v.Also, id))
}

// Tidy is the vehicle without blanks around its texts, without characters that are not
// shown, and without facts of no choice.
func (v Vehicle) Tidy() Vehicle {
	v.Name, v.Meter = line(v.Name), line(v.Meter)
	v.Note = strings.TrimSpace(source.Shown(v.Note))
	v.Facts = maps.Clone(v.Facts)
	maps.DeleteFunc(v.Facts, func(_, choice string) bool { return choice == "" })
	v.Aboard = slices.Compact(slices.Sorted(slices.Values(v.Aboard)))
	return v
}

// line is a text as one line.
func line(text string) string { return strings.Join(strings.Fields(source.Shown(text)), " ") }

// Check reports what cannot be kept, as what the reader is to change.
func (v Vehicle) Check() error {
	switch {
	case !journal.ValidID(v.ID):
		return fmt.Errorf("%q cannot name a vehicle; expected something like 2026-05-03-k7fqm", short(v.ID))
	case line(v.Name) == "":
		return errors.New("the vehicle has no name; a few letters tell it from the others")
	case letters(v.Name) > MostName:
		return fmt.Errorf("the name has %d letters; at most %d are kept, the rest belongs into the note", letters(v.Name), MostName)
	case letters(v.Note) > MostNote:
		return fmt.Errorf("the note has %d letters; at most %d are kept", letters(v.Note), MostNote)
	case letters(v.Meter) > MostName:
		return fmt.Errorf("the name of the meter has %d letters; at most %d are kept", letters(v.Meter), MostName)
	case len(v.Facts) > mostFacts || len(v.Aboard) > mostFacts:
		return fmt.Errorf("the vehicle has %d facts and %d things aboard; at most %d of each are kept", len(v.Facts), len(v.Aboard), mostFacts)
	case len(v.Also) > mostAlso:
		return fmt.Errorf("%d vehicles were merged into this one; at most %d can be", len(v.Also), mostAlso)
	case v.Revision < 0:
		return fmt.Errorf("the revision is %d; expected 0 or more", v.Revision)
	}
	ids := slices.Concat(v.Aboard, slices.Collect(maps.Keys(v.Facts)), slices.Collect(maps.Values(v.Facts)))
	for _, id := range ids {
		if id == "" || len(id) > mostID || strings.ContainsFunc(id, source.Hidden) {
			return fmt.Errorf("%q is no name of a fact, of its choice, or of what is aboard", short(id))
		}
	}
	for _, id := range v.Also {
		if !journal.ValidID(id) {
			return fmt.Errorf("%q cannot name a vehicle that was merged into this one", short(id))
		}
	}
	return nil
}

// short is the beginning of a text that may be very long.
func short(text string) string {
	if letters(text) <= 40 {
		return text
	}
	return string([]rune(text)[:40]) + "…"
}

func letters(text string) int { return utf8.RuneCountInString(text) }

// Has reports whether something is noted as aboard.
func (v Vehicle) Has(equipment string) bool { return slices.Contains(v.Aboard, equipment) }

// Merged is the vehicle with another one merged into it: the visits of both are its own
// from then on. What the vehicle itself says stays, and what only the other says is added;
// the other's name and note, and what it says otherwise, go into the note.
func (v Vehicle) Merged(other Vehicle) (Vehicle, error) {
	if v.Is(other.ID) || other.Is(v.ID) {
		return v, errors.New("a vehicle cannot be merged with itself; choose another one")
	}
	facts := maps.Clone(other.Facts)
	said := []string{"Merged: " + other.Name + "."}
	for _, id := range slices.Sorted(maps.Keys(other.Facts)) {
		if own := v.Facts[id]; own != "" && own != other.Facts[id] {
			said = append(said, id+" was "+other.Facts[id]+" there.")
		}
	}
	if facts == nil {
		facts = map[string]string{}
	}
	maps.Copy(facts, v.Facts)
	v.Facts = facts
	v.Meter = cmp.Or(v.Meter, other.Meter)
	v.Aboard = slices.Concat(v.Aboard, other.Aboard)
	v.Also = slices.Concat(v.Also, []string{other.ID}, other.Also)
	v.Note = strings.TrimSpace(v.Note + "\n" + strings.Join(said, " ") + " " + other.Note)
	v = v.Tidy()
	return v, v.Check()
}

// Differ lists the facts that both say and that differ, by id, sorted.
func (v Vehicle) Differ(other Vehicle) []string {
	var out []string
	for _, id := range slices.Sorted(maps.Keys(v.Facts)) {
		if o := other.Facts[id]; o != "" && o != v.Facts[id] {
			out = append(out, id)
		}
	}
	return out
}

// Find is the vehicle with this id, or into which it was merged; false if there is none.
func Find(all []Vehicle, id string) (Vehicle, bool) {
	i := slices.IndexFunc(all, func(v Vehicle) bool { return v.ID == id })
	if i < 0 {
		i = slices.IndexFunc(all, func(v Vehicle) bool { return v.Is(id) })
	}
	if i < 0 {
		return Vehicle{}, false
	}
	return all[i], true
}
