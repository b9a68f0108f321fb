package place

import "testing"

func TestHistoryBackAndForward(t *testing.T) {
	var h History
	if h.Back() || h.Forward() || h.Here() != (Location{}) {
		t.Fatal("an empty history must stand nowhere")
	}
	h.Go(Location{Page: "opening"})
	h.Go(Location{Page: "walk", ID: "v1"})
	h.Scrolled(120)
	h.Go(Location{Page: "document", ID: "ten-megohms"})
	if !h.Back() || h.Here() != (Location{Page: "walk", ID: "v1", Offset: 120}) {
		t.Fatalf("back stands at %+v, want the step as it was scrolled", h.Here())
	}
	if !h.Forward() || h.Here().ID != "ten-megohms" {
		t.Fatalf("forward stands at %+v", h.Here())
	}
	h.Back()
	h.Go(Location{Page: "settings"})
	if h.Forward() {
		t.Error("going somewhere new must forget the way forward")
	}
}

func TestHistoryGoToWhereOneStandsAddsNothing(t *testing.T) {
	var h History
	h.Go(Location{Page: "opening"})
	h.Scrolled(40)
	h.Go(Location{Page: "opening"})
	if h.Back() {
		t.Error("the same place was added twice")
	}
}

func TestHistoryForgetsADeletedVisit(t *testing.T) {
	var h History
	for _, l := range []Location{{Page: "opening"}, {Page: "walk", ID: "v1"}, {Page: "walk", ID: "v1", Step: 1}, {Page: "visits"}} {
		h.Go(l)
	}
	h.Forget(func(l Location) bool { return l.ID == "v1" })
	if h.Here().Page != "visits" || !h.Back() || h.Here().Page != "opening" || h.Back() {
		t.Errorf("places left: %+v", h.places)
	}
}

func TestHistoryIsBounded(t *testing.T) {
	var h History
	for i := range 3 * mostPlaces {
		h.Go(Location{Page: "walk", Step: i})
	}
	if len(h.places) != mostPlaces || h.Here().Step != 3*mostPlaces-1 {
		t.Errorf("%d places, standing at %+v", len(h.places), h.Here())
	}
}
