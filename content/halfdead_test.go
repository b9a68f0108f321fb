package content_test

import "testing"

// The ordinary cases of a half-dead vehicle, and how many readings a careful
// practitioner takes for each, the proof of the meter included. With something
// too bright none of them is of a live contact, and before a pedestal that gives
// nothing no more than its metal, its ground and its hots are read: to ground too, for an
// open neutral leaves a live hot contact.
func TestHalfDeadByHand(t *testing.T) {
	lib := shipped()
	for file, want := range map[string]int{
		"half-dead-all-bright":            0,  // off and unplugged at once
		"half-dead-bright-cord":           4,  // proof, pins, the cord's neutral
		"half-dead-bright-supply":         5,  // and the way through the vehicle
		"half-dead-bright-panel":          6,  // and hot to hot through it
		"half-dead-thirty-all-dead":       6,  // proof, metal, ground, hot to neutral and to ground, proof
		"half-dead-leg-2":                 5,  // and the other hot
		"half-dead-neutral-contact-hangs": 5,  // and low impedance
		"half-dead-both-legs-hang":        6,  // and hot to hot
		"half-dead-low-site":              11, // supply, pins, and the cord's three
		"half-dead-alive":                 9,  // pins, cord, ground, insulation, way through
	} {
		w, next := walkFile(t, lib, file)
		if !w.Ended() || w.Readings() != want {
			t.Errorf("%s: %d readings, then %q; want %d", file, w.Readings(), next, want)
		}
	}
}
