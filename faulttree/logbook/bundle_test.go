package logbook

import (
	"bytes"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/archive"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"

	"github.com/google/go-cmp/cmp"
)

// record is a visit as it is kept, of one header.
func record(t *testing.T, change func(*visit.Header)) []byte {
	t.Helper()
	h := visit.Header{ID: "2026-05-03-k7fqm", Start: faulttree.Ref{Tree: "half-dead", Step: "first-look"}, Meter: faulttree.DefaultMeter(), Started: made, Vehicle: willow().ID}
	change(&h)
	return must.Have(visit.EncodeHeader(h))(t)
}

func as(*visit.Header) {}

// packed is a file of a vehicle's text and one visit.
func packed(t *testing.T, vehicle string, id string, record []byte) []byte {
	t.Helper()
	return must.Have(archive.Pack([]archive.Entry{{Name: vehicleEntry, Text: []byte(vehicle)}, {Name: "visits/" + id + ".visit", Text: record}}, made))(t)
}

func TestBundleRoundTrip(t *testing.T) {
	b := Bundle{Vehicle: willow(), Visits: map[string][]byte{"2026-05-03-k7fqm": record(t, as)}}
	got := must.Have(ReadBundle(bytes.NewReader(must.Have(b.Bytes(made))(t))))(t)
	if diff := cmp.Diff(b, got); diff != "" {
		t.Error(diff)
	}
}

// A file from elsewhere that is none of ours is refused whole, in one sentence.
func TestHostileBundles(t *testing.T) {
	const id = "2026-05-03-k7fqm"
	text := string(must.Have(Encode(willow()))(t))
	whole := packed(t, text, id, record(t, as))
	for name, tt := range map[string]struct {
		raw  []byte
		want string
	}{
		"empty":         {nil, "it is not a ZIP file"},
		"cut off":       {whole[:len(whole)-30], "the ZIP file is cut off or damaged: zip: not a valid zip file"},
		"huge":          {bytes.Repeat([]byte("PK"), 17<<20), "it is larger than 32 MiB; it is not read"},
		"bomb":          {packed(t, text, id, make([]byte, 40<<20)), "the ZIP file unpacks to more than 96 MiB, or to more than 150 times its size; it is not read"},
		"another":       {must.Have(archive.Pack([]archive.Entry{{Name: "attempt.json"}}, made))(t), "this is no vehicle: the ZIP file has no entry vehicle.json"},
		"later":         {packed(t, strings.Replace(text, `"1.0"`, `"2.0"`, 1), id, record(t, as)), "the vehicle is of version 2.0, made by a later Faultwright; this one reads up to 1"},
		"long name":     {packed(t, strings.Replace(text, "Willow", strings.Repeat("W", 10_000), 1), id, record(t, as)), "the vehicle cannot be taken: the name has 10000 letters; at most 80 are kept, the rest belongs into the note"},
		"no record":     {packed(t, text, id, []byte("nothing")), "the visit " + id + " of the file cannot be taken: "},
		"other name":    {packed(t, text, "2026-05-03-other", record(t, as)), `the visit 2026-05-03-other of the file cannot be taken: its record says that it is "` + id + `"`},
		"other vehicle": {packed(t, text, id, record(t, func(h *visit.Header) { h.Vehicle = "" })), "the visit " + id + " of the file cannot be taken: it is of another vehicle"},
		"practice":      {packed(t, text, id, record(t, func(h *visit.Header) { h.Practice = "a" })), "the visit " + id + " of the file cannot be taken: it is practice, and about no real vehicle"},
		"no meter":      {packed(t, text, id, record(t, func(h *visit.Header) { h.Meter.FullScale = 1 << 40 })), "the visit " + id + " of the file cannot be taken: a meter has"},
		"leads out":     {must.Have(archive.Pack([]archive.Entry{{Name: vehicleEntry, Text: []byte(text)}, {Name: "../visits/a.visit"}}, made))(t), `the ZIP file has an entry that leads out of it, "../visits/a.visit"; it is not read`},
	} {
		_, err := ReadBundle(bytes.NewReader(tt.raw))
		if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%s: %v; want %s", name, err, tt.want)
		}
	}
}

// Whatever a file holds, it is a vehicle that can be written again, or is refused.
func FuzzDecode(f *testing.F) {
	f.Add(must.Have(Encode(willow()))(f))
	f.Add([]byte(`{"format":"faultwright-vehicle","version":"1.9","id":"a","name":"\u202e","facts":{"":""},"aboard":[""],"also":["../a"],"revision":-1}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		v, err := Decode(text)
		if err != nil {
			return
		}
		again, err := Decode(must.Have(Encode(v))(t))
		if diff := cmp.Diff(v, again); err != nil || diff != "" {
			t.Errorf("%v: %s", err, diff)
		}
	})
}
