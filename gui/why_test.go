package gui

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// openDrawn is the shipped handbook with its own drawn vehicles.
func openDrawn(t testing.TB, size fyne.Size) *window {
	t.Helper()
	return open(t, size, shipped, unkept, func(o *Options) { o.draw = nil })
}

// walkBefore walks a tree before a vehicle of a rig with a fault, to the finding
// that names it, by a meter without error, and asks there to be shown why.
func (w *window) walkBefore(rigID, fault, variant, tree string) {
	w.t.Helper()
	book := w.session.Book()
	v, err := vehicle.New(book.Rigs[rigID])
	if err != nil {
		w.t.Fatal(err)
	}
	f := book.Faults[fault].Edits
	at := slices.IndexFunc(f.Variants, func(v rig.Variant) bool { return v.Text == variant })
	if err := v.Put(rig.Setup{Faults: []rig.Applied{f.Ordinary(at)}}); err != nil {
		w.t.Fatal(err)
	}
	asked, m := v.Asked(v.Legs()), meter.New(meter.NewFace(faulttree.DefaultMeter()), nil)
	reader := vehicle.Walker{
		Read: func(_ faulttree.Walk, q faulttree.Quantity) (faulttree.Reading, error) {
			shown, err := m.Read(asked, q)
			return shown.Reading, err
		},
		Value: asked.Value, Vehicle: v,
	}
	w.begin(faulttree.Ref{Tree: tree})
	ends, err := reader.Ends(w.session.Visit().Walk())
	if err != nil {
		w.t.Fatal(err)
	}
	for _, end := range ends {
		if found, _ := end.Finding(); !slices.Contains(found.Finding.Faults, fault) {
			continue
		}
		for _, e := range end.Trail()[len(w.session.Visit().Walk().Trail()):] {
			out, err := w.session.Answer(w.session.Visit().ID(), e.Answer)
			if err != nil {
				w.t.Fatal(err)
			}
			w.Go(out.To)
		}
		w.Press("Show me why")
		return
	}
	w.t.Fatalf("none of %d walks finds %s", len(ends), fault)
}

// chosen is what the lists at the top of the circuit's page have: vehicle,
// fault, place.
func (w *window) chosen() []string {
	out := lists.Each(frametest.Find[*look.Select](w.Reader), func(list *look.Select) string { return list.Selected })
	return out[:3]
}

// A cord whose neutral is open is shown with its neutral open in the cord, on
// the kind of site that the readings are from.
func TestStoryShowsTheCord(t *testing.T) {
	w := openDrawn(t, fyne.NewSize(1280, 1500))
	w.walkBefore("coach-50a", "open-neutral", "in the cord", "half-dead")
	if got, want := w.chosen(), []string{"A 50 A coach on a 120/240 V site", "The neutral is open", "in the cord"}; !slices.Equal(got, want) {
		t.Errorf("shown is %q, want %q", got, want)
	}
	w.Want("The neutral is open, in the cord", "the neutral of the cord, which is open here", "Which loads were on and how bad the fault is was not measured")
	// The live reading that the fault changes most can be looked at too: there the
	// current of one leg is seen to return through the other.
	lists := frametest.Find[*look.Select](w.Reader)
	lists[3].SetSelectedIndex(len(lists[3].Options) - 1)
	w.Want("it was not read", "The neutral of the cord is open: the ", " go on", "so that they share 2")
	w.Picture("why-open-neutral-cord")
}

// A walk for a tingle does not ask for the plug: the vehicle on show is one that reads
// the same, and the page says that its plug was not said.
func TestStoryShowsAVehicleOfAPlugNotSaid(t *testing.T) {
	w := openDrawn(t, wide)
	w.walkBefore("trailer-30a", "open-ground", "in the cord", "body-voltage")
	if got := w.chosen(); got[1] != "The grounding conductor is open" || got[2] != "in the cord" {
		t.Errorf("shown is %q", got)
	}
	w.Want("before any adapter? You have not said; ")
}

// From a finding, "Show me why" opens the circuit with its fault and the
// reader's own readings beside those of the model.
func TestStoryShowMeWhy(t *testing.T) {
	w := openDrawn(t, wide)
	w.toShippedBody()
	w.Answer("58")
	w.Pick("1")
	w.answerShipped(nil, "")
	if !w.session.Visit().Walk().Ended() {
		t.Fatalf("no finding:\n%s", w.Text())
	}
	w.Press("Show me why")
	w.Want("YOUR READINGS BESIDE THE MODEL'S", "read · model", "58 V · ")
	w.Want("Read about this fault") // one is in force
	w.Want("Which loads were on and how bad the fault is was not measured", "The model was brought as near to all of them", "Why it reads this", "Healthy it would be", "; you read ")
	w.Back()
	w.Want("Show me why")
}

// The same is shown of what was told outside of a visit, with the fault where a suspect
// has it; what is told anew is shown anew.
func TestStoryShowsWhyOfASuspect(t *testing.T) {
	w := openDrawn(t, wide)
	told := func(id, shown string) {
		q := w.session.Book().Forest.Quantities[id]
		r := must.Have(faulttree.ParseReading(shown, q))(t)
		w.session.Tell(w.session.Account().With(suspect.Evidence{Quantity: q, Reading: r}))
	}
	w.session.Tell(view.Account{Facts: map[string]string{"service": "50a", "adapter": "none", "source": "shore"}})
	told("panel.l1-n@loaded", "59")
	told("panel.l2-n@loaded", "177")
	told("ohm:plug.n-cord.n@unplugged", "OL")
	w.Go(place.Why("open-neutral", "cord", place.Told))
	if got := w.chosen(); got[1] != "The neutral is open" || got[2] != "in the cord" {
		t.Errorf("shown is %q", got)
	}
	w.Want("Healthy it would be 1", "The neutral of the cord is open: the ", "so that they share 2", "177 V and 59 V")
	told("panel.n-g@loaded", "59")
	w.Go(place.Why("open-neutral", "supply", place.Told))
	w.Want("Panel: neutral to ground, loads on")
	if got := w.chosen(); got[1] != "The neutral is open" || got[2] == "in the cord" {
		t.Errorf("asked for the supply, shown is %q", got)
	}
}
