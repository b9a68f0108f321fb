package scenes

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
)

// CaseOf is the vehicle of a scenario.
func CaseOf(lib *content.Library, s *content.Scenario) practice.Case {
	c := practice.NewCase(s.ID, s.Rig)
	c.Use(s.Setup())
	c.May = slices.Clone(s.May)
	c.MayTry(lib.Forest.Interventions)
	c.Catalogue = Book(lib, faulttree.DefaultMeter()).Faults
	describe := Described(lib)
	c.RepairBy = func(at faulttree.FaultAt) string { return describe(at.Fault, at.Place).RepairBy }
	for _, m := range s.Meter {
		if a, ok := practice.MeterFault(c.Catalogue, m); ok {
			c.Faults = append(c.Faults, a)
		}
	}
	return c
}

// Nameable lists the faults that may be named before a rig, by title: those
// that it can have and those of the meter.
func Nameable(lib *content.Library, r *rig.Rig) []*rig.Fault {
	return slices.DeleteFunc(Book(lib, faulttree.DefaultMeter()).Faults, func(f *rig.Fault) bool { return len(f.In(r)) == 0 })
}

// FaultTitle is the title of a fault, or words for none.
func FaultTitle(lib *content.Library, id string) string {
	if id == practice.NoFault {
		return "No fault that these readings would show"
	}
	return view.FaultLink(lib, id).Title
}

// Probed words where the probes of a reading were, in few words: "Pedestal: L1
// to neutral", "Body to earth".
func Probed(a practice.Act) string {
	if a.Kind == practice.Prove {
		return "A source known to be live"
	}
	group, red, _ := strings.Cut(a.Red, ".")
	other, black, _ := strings.Cut(a.Black, ".")
	switch {
	case a.Black == "":
		return view.Capital(contact(a.Red)) + ", clamp"
	case group == other && red != "" && black != "":
		return view.Capital(figure.GroupWord(group)) + ": " + wireWord(red) + " to " + wireWord(black)
	}
	return view.Capital(contact(a.Red)) + " to " + contact(a.Black)
}

// PointName names a test point in few words: "Panel neutral", "Adapter's face,
// ground", "Body".
func PointName(point string) string {
	if point == "earth" {
		return "Earth, at the spike"
	}
	return view.Capital(contact(point))
}

func contact(point string) string {
	group, wire, ok := strings.Cut(point, ".")
	if !ok {
		return group
	}
	if out, ok := strings.CutPrefix(wire, "out-"); ok {
		return "adapter's face, " + wireWord(out)
	}
	return figure.GroupWord(group) + " " + wireWord(wire)
}

func wireWord(wire string) string {
	words := map[string]string{"l1": "L1", "l2": "L2", "n": "neutral", "g": "ground", "h": "hot", "pos": "plus", "neg": "minus", "aux": "charge line", "gnd": "ground"}
	return cmp.Or(words[wire], wire)
}

// SettingText words how the meter was set, shortly: "AC volts, hold".
func SettingText(s meter.Setting) string {
	parts := []string{scene.FunctionTitle(s.Function)}
	if s.Function == meter.Continuity {
		parts[0] = "beeper"
	}
	if s.Range > 0 {
		parts = append(parts, "to "+RangeText(s.Range, s.Function))
	}
	if s.Hold {
		parts = append(parts, "hold")
	}
	if s.Jack == meter.AmpereJack {
		parts = append(parts, "ampere jack")
	}
	return strings.Join(parts, ", ")
}

// RangeText is the end of a range with its unit.
func RangeText(end faulttree.Amount, f meter.Function) string {
	unit := map[faulttree.Unit]rig.ParamUnit{faulttree.VoltsAC: rig.Volts, faulttree.VoltsDC: rig.Volts, faulttree.Ohms: rig.Ohms, faulttree.AmpsAC: rig.Amperes, faulttree.AmpsDC: rig.Amperes}[f.Unit()]
	return unit.Format(end.Float())
}

// ShownText is what the display showed, in words where it showed no number.
func ShownText(a practice.Act) string {
	switch {
	case a.Shown != "":
		return a.Shown
	case a.Hazard:
		return "DANGER"
	}
	return "no reading"
}

// ActNumber is the number under which the act of this index is shown, wherever it
// is spoken of.
func ActNumber(index int) string { return strconv.Itoa(practice.Number(index)) + "." }

// ActLine words an act and what came of it, what tripped with it. The rig gives the
// titles of switches and breakers.
func ActLine(a practice.Act, r *rig.Rig) (what, came string) {
	what, came = actLine(a, r)
	if len(a.Trips) > 0 {
		came += "; " + faulttree.InSentence(strings.TrimSuffix(r.TrippedText(a.Trips), "."))
	}
	return what, came
}

func actLine(a practice.Act, r *rig.Rig) (what, came string) {
	switch a.Kind {
	case practice.Read, practice.Prove:
		return Probed(a) + " · " + SettingText(a.Setting), ShownText(a)
	case practice.Swap, practice.Unplug:
		in := a.On == (a.Kind == practice.Swap)
		return view.Capital(strings.ReplaceAll(a.Name, "-", " ")), map[bool]string{true: "in", false: "as before"}[in]
	case practice.ChangeFuse:
		return "A new fuse in the meter", cmp.Or(a.Note, "done")
	case practice.Reset:
		return view.Capital(r.DeviceTitle(a.Name)), "reset"
	case practice.TakeBack:
		return "Taken back at once", "as before"
	case practice.Throw:
		for _, s := range r.Switches {
			if s.Name == a.Name {
				return view.Capital(s.Title), turned(s, a.On)
			}
		}
		return view.Capital(a.Name), onOff(a.On)
	case practice.Load:
		return LegTitle(a.Name), onOff(a.On)
	case practice.GoIn:
		return "Up the step, a hand on the body", "inside"
	case practice.GoOut:
		return "Down the step, a hand on the body", "outside"
	}
	return "Not possible", ""
}

// turned words how a switch stands, or a plug.
func turned(s rig.Switch, on bool) string {
	if len(s.Covers) == 0 {
		return onOff(on)
	}
	if on {
		return "in"
	}
	return "out"
}

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

// LegTitle words the loads of a leg.
func LegTitle(leg string) string {
	switch leg {
	case "l1", "l2":
		return "Loads on " + strings.ToUpper(leg)
	case "l1l2":
		return "The 240 V appliance"
	case "dc":
		return "Loads on 12 V"
	}
	return "Loads on " + leg
}
