package figure

import "strings"

// touch is how a probe reaches a contact: the tip on the contact, the badge
// beside it, and the points the lead passes on its way to the meter.
type touch struct {
	tip, badge Point
	way        []Point
}

// spots gives the touch of each point of an object. The sign says to which
// side of the object the lead should leave: -1 left, +1 right.
type spots map[string]func(sign float64) touch

// slotArea is the part of a picture an object is drawn in.
type slotArea struct {
	center float64 // middle, across
	half   bool    // two objects share the picture
}

const (
	objectMiddle = 124.0 // middle of an object, downwards
	groundLine   = 168.0
)

// object is an object that probes touch.
type object struct {
	name    string // objects of the same name are drawn once
	caption string
	face    bool // carries contacts to be told apart by shape
	draw    func(p pen, a slotArea) spots
}

// group and local split a point id such as adapter.out-l1.
func split(point string) (group, local string) {
	group, local, _ = strings.Cut(point, ".")
	return group, local
}

// objectOf is the object on which a point lies.
func objectOf(point string, f Face) object {
	group, local := split(point)
	connector := func(name, caption string, f Face, s side, locking bool, prefix string) object {
		return object{name, caption, true, func(p pen, a slotArea) spots {
			return p.connector(a, f, s, locking, prefix)
		}}
	}
	switch group {
	case "pedestal":
		if local == "cover" {
			return boxObject("cover", "Metal of the pedestal", "cover", "bare")
		}
		return connector("pedestal", f.String()+" at the pedestal", f, receptacle, false, "")
	case "plug":
		return connector("plug", f.String()+" plug, pulled", f, pins, false, "")
	case "adapter":
		if strings.HasPrefix(local, "out-") {
			return connector("adapter-out", "Adapter, "+f.String()+" side", f, receptacle, false, "out-")
		}
		return connector("adapter", "Adapter, "+f.String()+" plug", f, pins, false, "")
	case "cord":
		return connector("cord", "Vehicle end of cord", f, receptacle, true, "")
	case "inlet":
		return connector("inlet", "Inlet of the vehicle", f, pins, true, "")
	case "outlet":
		return connector("outlet", "Outlet inside", Face5_15, receptacle, false, "")
	case "meter":
		switch strings.TrimPrefix(local, otherTip) {
		case "known-battery", "neg":
			return object{"charged", "A battery known to be charged", false, pen.battery}
		case "tips":
			return object{"tips", "Both tips in the air", false, func(p pen, a slotArea) spots { return freeTips(a, "tips", 62) }}
		case "leads":
			return object{"leads", "Tip on tip, touching nothing else", false, func(p pen, a slotArea) spots { return freeTips(a, "leads", 2) }}
		}
		return connector("known", "A source known to be live", Face5_15, receptacle, false, "")
	case "body":
		return object{"body", "Body of the vehicle", false, pen.vehicleSpot}
	case "earth":
		return object{"earth", "Spike in wet soil", false, pen.spikeSpot}
	case "feed", "panel":
		return object{"panel", "Panel, behind its cover", false, func(p pen, a slotArea) spots {
			return p.panel(a, f)
		}}
	case "battery":
		return object{"battery", "House battery", false, pen.battery}
	case "dc":
		return boxObject("dc", "12 V panel", "pos", "+", "neg", "−")
	case "converter":
		return boxObject("converter", "Converter output", "pos", "+", "neg", "−")
	case "tow":
		return boxObject("tow", "Tow connector", "aux", "charge", "gnd", "ground")
	case "generator":
		return outputObject("generator", "Generator output", f)
	case "inverter":
		return outputObject("inverter", "Inverter output", FaceTT30)
	}
	return boxObject(point, group, local, local)
}

// freeTips are the two tips where they touch no object, this far from the middle.
func freeTips(a slotArea, local string, apart float64) spots {
	at := func(side float64) func(float64) touch {
		tip := Point{a.center + side*apart, objectMiddle - 24}
		return func(float64) touch { return touch{tip, tip.Add(side*30, 40), nil} }
	}
	return spots{local: at(-1), otherTip + local: at(1)}
}

func outputObject(name, caption string, f Face) object {
	if f == Face14_50 {
		return boxObject(name, caption, "l1", "L1", "l2", "L2", "n", "N", "g", "G")
	}
	return boxObject(name, caption, "l1", hotWord("l1", f), "n", "N", "g", "G")
}

func boxObject(name, caption string, terminals ...string) object {
	return object{name, caption, false, func(p pen, a slotArea) spots {
		return p.box(a, name, terminals)
	}}
}

// connector draws a face and says where probes go on it.
func (p pen) connector(a slotArea, f Face, s side, locking bool, prefix string) spots {
	center, radius := Point{a.center, objectMiddle}, 56.0
	if a.half {
		radius = 50
	}
	out := spots{}
	for id, tip := range p.face(center, radius, f, s, locking) {
		out[prefix+id] = func(sign float64) touch { return aroundFace(center, radius, tip, sign) }
	}
	if known := out["h"]; known != nil {
		out["known-source"] = known
	}
	return out
}

// aroundFace leads from a contact straight out over the rim, and round the
// face, so that no lead crosses another contact.
func aroundFace(center Point, radius float64, tip Point, sign float64) touch {
	outward := center.toward(tip, radius+15)
	if dx := tip.X - center.X; dx < 1 && dx > -1 {
		down := 1.0
		if tip.Y < center.Y {
			down = -1
		}
		outward = polar(center, radius+15, 90*down-sign*down*38)
	}
	away := 1.0
	if outward.X < center.X {
		away = -1
	}
	t := touch{tip: tip, badge: outward}
	clear := radius + 17
	if outward.Y < center.Y-radius*0.8 {
		t.way = append(t.way, polar(center, clear, 90-away*132), polar(center, clear, 90-away*95))
	}
	if outward.Y < center.Y+radius*0.4 {
		t.way = append(t.way, polar(center, clear+2, 90-away*52))
	}
	return t
}

// vehicleSpot draws the vehicle; the body is touched at the entry step.
func (p pen) vehicleSpot(a slotArea) spots {
	left, scale := a.center-84, 0.84
	if a.half {
		left, scale = a.center-76, 0.76
	}
	step := p.vehicle(Point{left, groundLine}, scale)
	p.dots(Soft, 1.8, Point{left - 8, groundLine}, Point{left + 200*scale + 10, groundLine})
	return spots{"body": func(sign float64) touch {
		badge := step.Add(sign*16, 36)
		return touch{step, badge, nil}
	}}
}

// spikeSpot draws the spike in the soil.
func (p pen) spikeSpot(a slotArea) spots {
	x := a.center + 14
	p.spike(Point{x, groundLine})
	return spots{"earth": func(sign float64) touch {
		tip := Point{x, groundLine - 34}
		badge := tip.Add(-sign*34, -6)
		return touch{tip, badge, []Point{badge.Add(-sign*6, 36)}}
	}}
}
