package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/practice/store"
)

type scenarioPlay struct {
	Scenario string `arg:"" help:"The scenario, as list has it, or a file that ends in .md."`
	Seed     uint64 `help:"Play the variant of this seed; 0 is the scenario as it is written."`
	Role     string `placeholder:"ROLE" default:"auto" help:"As whom: owner, trainee or qualified; by itself as the scenario says."`
	Level    string `enum:"free,guided,worked" default:"free" help:"How much the program helps: free; guided, with hints; or worked, where it proposes every step and asks what you expect of it."`
	NoRecord bool   `help:"Keep no record of the attempt."`
	Meter    string `placeholder:"METER" help:"The meter that is read with: one of yours, by the name that the window's settings keep it under, or a file with lines of its booklet. Without it an ordinary one."`

	Assignment string `placeholder:"FILE" help:"Play the scenario of this assignment, as it was handed out to you; give your --name."`
	Name       string `placeholder:"NAME" help:"Your name, by which your vehicle of the assignment is drawn."`
}

func (c scenarioPlay) Help() string {
	return "You stand before the vehicle with a meter. Every act is put on record before its reading is shown; done asks what you conclude. The fault can be dug out of the handbook's files: the record shows what was read, not what was known."
}

const playHelp = `read RED BLACK     put the probes on two points, such as: read panel.l1 panel.n
clamp POINT        put the clamp around a conductor
points             the points of this vehicle
dial FUNCTION      ac, dc, ohms, beeper, lowz, amps or dc-amps
range N            a range that reaches so far, or: range auto
hold on | off      the display's hold
jack v | a         where the red lead is plugged in
prove              the meter on a source known to be live
throw SWITCH on    or off; a plug is on while it is in
load LEG on        or off: the loads of a leg
try THING on       something else in its place, or appliances out; off is back
reset DEVICE       what has tripped, such as: reset gfci; one with a switch is thrown off and on
fuse               a new fuse into the meter
back               the act before was a slip: take it back, before anything is read
in, out            through the door
state              how everything stands
acts               what was done so far
story              what the customer tells
show ID            read a card or a caution
hint               what to read next, at a level that has hints; each costs points
done               say what you conclude
help, quit`

// playing is an attempt in the terminal.
type playing struct {
	p    *program
	say  page
	lib  *content.Library
	s    *content.Scenario
	c    practice.Case
	rec  *practice.Recorder
	fine bool // there is a conclusion

	unkept   bool // what is not said yet could not be put on record
	assigned bool // it is a task of an assignment
	held     bool // the look back comes with the feedback
	closed   bool // the handbook is closed
	help     guided
}

func (c scenarioPlay) Run(p *program) error {
	v := &playing{p: p, say: p.page(p.out)}
	h, err := c.begin(v)
	if err != nil {
		return err
	}
	v.c = scenes.CaseOf(v.lib, v.s)
	if c.NoRecord {
		v.rec, err = v.c.Resume(unrecorded{}, practice.Begun(h))
	} else {
		var file *store.File
		var done func()
		if file, done, err = p.attemptOf(h); err == nil {
			defer done()
			v.rec, err = v.c.Resume(file, file.Record())
		}
	}
	if err != nil {
		return bad("the attempt cannot begin: %v", err)
	}
	return v.run()
}

// begin finds the vehicle, and says how the attempt begins.
func (c scenarioPlay) begin(v *playing) (practice.Header, error) {
	if c.Assignment != "" {
		return c.assigned(v)
	}
	var err error
	if v.lib, v.s, err = v.p.variant(c.Scenario, c.Seed); err != nil {
		return practice.Header{}, err
	}
	m, err := v.p.meter(c.Meter)
	if err != nil {
		return practice.Header{}, err
	}
	h := practice.Header{Case: v.s.ID, Seed: c.Seed, Role: v.s.Role, Meter: m, Rules: practice.Rules, Started: v.p.now(), Content: v.lib.Fingerprint()}
	if c.Role != "auto" {
		if h.Role, h.Supervised, err = practice.ParseRole(c.Role); err != nil {
			return h, bad("%v", err)
		}
	}
	if err := h.Level.UnmarshalText([]byte(c.Level)); err != nil {
		return h, bad("%v", err)
	}
	return h, nil
}

// attempts opens the folder of attempts.
func (p *program) attempts() (*store.Store, error) {
	dir, err := store.Folder(p.env)
	if err != nil {
		return nil, err
	}
	return store.Open(dir)
}

// attemptOf is the attempt on record that a learner has under way at a task of an
// assignment, else a new one; done closes it.
func (p *program) attemptOf(h practice.Header) (file *store.File, done func(), err error) {
	records, err := p.attempts()
	if err != nil {
		return nil, nil, err
	}
	if id := underWay(records, h); id != "" {
		file, err = records.Open(id)
	} else {
		file, err = records.Create(h)
	}
	if err != nil {
		return nil, nil, errors.Join(err, records.Close())
	}
	return file, func() { file.Close(); records.Close() }, nil
}

// underWay is the id of the last attempt that a learner began at the same task and did not
// conclude, "" for none.
func underWay(records *store.Store, h practice.Header) string {
	all, err := records.List()
	if err != nil || h.For == "" {
		return ""
	}
	for _, x := range all {
		if x.Err == nil && !x.Ended && x.Header.For == h.For && x.Header.SameTask(h) {
			return x.ID
		}
	}
	return ""
}

func (v *playing) run() error {
	v.say.scenario(v.s)
	v.say.blank()
	if id := v.rec.ID(); id != "" {
		v.say.para("", "This is practice. It is on record as the attempt "+id+".")
	}
	if n := len(v.rec.Attempt().Acts); n > 0 {
		v.say.para("", "You go on where you were, after "+view.Count(n, "act")+"; acts lists them.")
	}
	v.say.para("", "Type what you do; help lists it.")
	if err := v.tripped(); err != nil {
		return err
	}
	if err := v.propose(); err != nil {
		return bad("no step can be proposed: %v", err)
	}
	for !v.fine {
		typed, err := v.p.line(v.say, "> ")
		if errors.Is(err, errLong) {
			v.say.para("", "That line is too long. Nothing of it was done.")
			continue
		}
		if err == nil {
			err = v.command(strings.Fields(typed))
		}
		switch {
		case errors.Is(err, errQuit) && v.rec.Attempt().Ended():
			return v.lookBack()
		case errors.Is(err, errQuit):
			text := "You stop here without a conclusion. What was done stays on record."
			if v.assigned {
				text += " The same command goes on with it."
			}
			v.say.para("", text)
			return ended(exitRanOut)
		case err != nil:
			v.say.para("", view.Capital(view.Sentence(err.Error())))
		}
	}
	return nil
}

// command does what was typed.
func (v *playing) command(words []string) error {
	word, rest := "", []string(nil)
	if len(words) > 0 {
		word, rest = strings.ToLower(words[0]), words[1:]
	}
	need := func(n int) error {
		if len(rest) != n {
			return fmt.Errorf("%s is followed by %s; help lists it", word, view.Count(n, "word"))
		}
		return nil
	}
	switch word {
	case "":
		return errors.New("type what you do, or help")
	case "help":
		_, err := fmt.Fprintln(v.say.w, playHelp)
		return err
	case "quit", "exit":
		return errQuit
	case "read":
		if err := need(2); err != nil {
			return err
		}
		for _, point := range rest {
			if !v.c.Rig.HasNode(point) {
				return fmt.Errorf("there is no point %q here; points lists them", point)
			}
		}
		return v.do(practice.Act{Kind: practice.Read, Red: rest[0], Black: rest[1]})
	case "clamp":
		if err := need(1); err != nil {
			return err
		}
		return v.clamp(rest[0])
	case "dial", "range", "hold", "jack":
		if err := need(1); err != nil {
			return err
		}
		return v.set(word, strings.ToLower(rest[0]))
	case "throw", "load", "try":
		if err := need(2); err != nil {
			return err
		}
		return v.change(word, rest[0], strings.ToLower(rest[1]))
	case "reset":
		if err := need(1); err != nil {
			return err
		}
		return v.do(practice.Act{Kind: practice.Reset, Name: rest[0]})
	case "show":
		if err := need(1); err != nil {
			return err
		}
		if v.closed {
			return errors.New("the handbook stays closed in this assignment")
		}
		return showID(v.say, v.lib, rest[0])
	case "hint":
		return v.hint()
	case "done":
		return v.conclude()
	}
	return v.plain(word)
}

// plain does what is said by one word.
func (v *playing) plain(word string) error {
	kinds := map[string]practice.Kind{"prove": practice.Prove, "fuse": practice.ChangeFuse, "back": practice.TakeBack, "in": practice.GoIn, "out": practice.GoOut}
	switch kind, is := kinds[word]; {
	case is:
		return v.do(practice.Act{Kind: kind})
	case word == "points":
		v.say.para("", list(pointsOf(v.c)))
	case word == "story":
		v.say.blocks("", v.s.Body)
	case word == "state":
		v.state()
		return v.tripped()
	case word == "acts":
		for i, a := range v.rec.Attempt().Acts {
			what, came := scenes.ActLine(a, v.c.Rig)
			v.say.hanging(scenes.ActNumber(i)+" ", "   ", what+": "+came)
		}
	default:
		return fmt.Errorf("there is no command %q; help lists them", word)
	}
	return nil
}

// pointsOf lists the test points of a vehicle that the handbook names.
func pointsOf(c practice.Case) []string {
	var out []string
	for _, name := range nodes(c.Rig) {
		if group, _, _ := strings.Cut(name, "."); slices.Contains([]string{"pedestal", "plug", "adapter", "cord", "inlet", "feed", "panel", "outlet", "generator", "inverter", "battery", "dc", "converter", "tow", "body", "earth"}, group) {
			out = append(out, name)
		}
	}
	return out
}

// clamp reads a current, with the dial where it has to be.
func (v *playing) clamp(point string) error {
	now := v.rec.Learner().Setting()
	if now.Function != meter.AmpsAC && now.Function != meter.AmpsDC {
		return errors.New("the clamp needs the dial on amps or dc-amps")
	}
	return v.do(practice.Act{Kind: practice.Read, Red: point})
}

// functions are the places of the dial, by what is typed.
var functions = map[string]meter.Function{"ac": meter.VoltsAC, "dc": meter.VoltsDC, "ohms": meter.Ohms, "beeper": meter.Continuity, "lowz": meter.LowZ, "amps": meter.AmpsAC, "dc-amps": meter.AmpsDC}

// set sets the meter.
func (v *playing) set(what, to string) error {
	now := v.rec.Learner().Setting()
	switch what {
	case "dial":
		f, ok := functions[to]
		if !ok {
			return fmt.Errorf("the dial has no %q; it has ac, dc, ohms, beeper, lowz, amps and dc-amps", to)
		}
		now.Function = f
	case "range":
		x, err := strconv.ParseFloat(to, 64)
		if to != "auto" && (err != nil || !(x > 0) || x > 1e9) {
			return fmt.Errorf("%q is no range; type a number such as 60, or auto", to)
		}
		now.Range = faulttree.Amount(x * float64(faulttree.One))
	case "hold":
		on, err := isOn(to)
		if err != nil {
			return err
		}
		now.Hold = on
	case "jack":
		jacks := map[string]meter.Jack{"v": meter.VoltJack, "a": meter.AmpereJack}
		j, ok := jacks[to]
		if !ok {
			return fmt.Errorf("there is no jack %q; there are v and a", to)
		}
		now.Jack = j
	}
	v.rec.Learner().Set(now)
	v.say.labelled("Meter", scenes.SettingText(now))
	return nil
}

// isOn reads on or off.
func isOn(word string) (bool, error) {
	if word != "on" && word != "off" {
		return false, fmt.Errorf("%q is neither on nor off", word)
	}
	return word == "on", nil
}

// change throws a switch, turns loads, or tries something.
func (v *playing) change(what, name, to string) error {
	on, err := isOn(to)
	if err != nil {
		return err
	}
	switch what {
	case "throw":
		return v.do(practice.Act{Kind: practice.Throw, Name: name, On: on})
	case "load":
		return v.do(practice.Act{Kind: practice.Load, Name: name, On: on})
	}
	for _, i := range v.c.Tries {
		if i.ID == name && i.Unloaded {
			return v.do(practice.Act{Kind: practice.Unplug, Name: name, On: !on})
		}
	}
	return v.do(practice.Act{Kind: practice.Swap, Name: name, On: on})
}

// do does an act, asked first where it has to be, and says what came of it.
func (v *playing) do(a practice.Act) error {
	if question, asks := v.rec.Learner().Asks(a); asks {
		answer, err := v.p.line(v.say, question+" [y/n] ")
		if err != nil {
			return err
		}
		if !strings.HasPrefix(strings.ToLower(answer), "y") {
			v.say.para("", "Nothing is done.")
			return nil
		}
		a.Asked = true
	}
	expects, tells, err := v.foreseen(a)
	if err != nil {
		return err
	}
	a.At = v.since()
	if expects >= 0 {
		if err := v.rec.Predict(v.help.step.Expects[expects].Text, tells, a.At); err != nil {
			return err
		}
	}
	before := len(v.rec.Attempt().Acts)
	done, err := v.rec.Do(a)
	if err != nil {
		return err
	}
	for i, d := range done {
		if d.Kind == practice.Reject {
			v.say.para("", d.Note)
			continue
		}
		what, came := scenes.ActLine(d, v.c.Rig)
		v.say.hanging(scenes.ActNumber(before+i)+" ", "   ", what+": "+came)
		switch {
		case d.Hazard:
			v.say.signal(faulttree.Danger, d.Note)
		case d.Note != "" && d.Kind != practice.ChangeFuse:
			v.say.para("   ", d.Note)
		}
		if expects >= 0 && d.Reads() {
			v.say.para("   ", scenes.Foreseen(v.help.step.Expects, expects, d))
		}
	}
	return v.propose()
}

// since is the time since the attempt began.
func (v *playing) since() time.Duration { return v.p.now().Sub(v.rec.Attempt().Started) }

// tripped tells what stands open.
func (v *playing) tripped() error {
	names, err := v.rec.Learner().Tripped()
	if text := v.c.Rig.TrippedText(names); text != "" {
		v.say.para("", text)
	}
	return err
}

// state tells how everything stands.
func (v *playing) state() {
	l := v.rec.Learner()
	v.say.labelled("Meter", scenes.SettingText(l.Setting()))
	word := map[bool]string{true: "on", false: "off"}
	for _, s := range v.c.Rig.Switches {
		text := s.Title + ", " + word[!l.Off(s.Name)]
		if !slices.Contains(v.c.May, s.Name) {
			text += ", not for you to throw"
		}
		v.say.hanging("  "+s.Name+"  ", "      ", text)
	}
	for _, leg := range v.c.Rig.Legs() {
		v.say.hanging("  "+leg+"  ", "      ", scenes.LegTitle(leg)+", "+word[l.On(leg)])
	}
	for _, i := range v.c.Tries {
		text := i.Title
		if l.Tried(i.ID) {
			text += ", so it is now"
		}
		v.say.hanging("  "+i.ID+"  ", "      ", text)
	}
	for _, name := range l.Resets() {
		v.say.hanging("  "+name+"  ", "      ", v.c.Rig.DeviceTitle(name)+", tripped: reset "+name)
	}
	if l.Inside() {
		v.say.para("  ", "You are inside.")
	}
}
