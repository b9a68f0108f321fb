package shorthand

import (
	"slices"
	"strings"

	"faultwright/content/contact"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Kind is what a row is.
type Kind uint8

const (
	Text    Kind = iota // no reading
	Taken               // a quantity and its reading
	Asked               // a pair and a figure; place, state or unit are still to be asked
	Refused             // a pair, a figure or both that are no quantity; Why says why
)

// Row is one reading, or a stretch of text that is none.
type Row struct {
	Kind         Kind
	Line, Column int    // where it begins, from 1; columns count characters
	Text         string // all that was typed of it
	Block        int    // index of its block
	Pair         string // the points that were said, "L1 to neutral"; "" for none
	Typed        string // the figure as typed, "" for none
	Quantity     string // the id, of a row that is taken
	Reading      faulttree.Reading
	Doubtful     bool     // whoever wrote it was not sure
	Told         bool     // somebody else read it
	Why          string   // a sentence: why it is no quantity
	Nearest      []string // ids of the quantities that come nearest, of a row that is refused
	May          []string // ids of the quantities it can be, where only state or unit are still to be asked

	said  words
	fixed bool // refused for how it is written, whatever is answered
}

// Block is a header with its rows. What it lacks is asked where there is more
// than one choice.
type Block struct {
	Header string // as typed; "" for rows without one
	Place  string // "pedestal", as in the ids of points; "" where nobody said
	State  State  // as answered; a header may say more of it than a state has words
	Unit   string // "V", "Ω", "A" or ""

	// Choices that are still open, those that suit most rows first.
	Places, States, Units []Choice

	said   words
	answer Answer
}

// Choice is one answer that can be given to a block.
type Choice struct{ ID, Title string }

// Question is what is still to be asked of a block.
type Question struct {
	Title   string // "Where were these read?"
	Choices []Choice
	Answer  func(id string) Answer // what a choice says of the block
}

// Questions lists what is still to be asked, in the order in which it is.
func (b Block) Questions() []Question {
	var out []Question
	for _, q := range []Question{
		{"Where were these read?", b.Places, func(id string) Answer { return Answer{Place: id} }},
		{"How did the vehicle stand?", b.States, func(id string) Answer { return Answer{State: State(id)} }},
		{"What was measured?", b.Units, func(id string) Answer { return Answer{Unit: id} }},
	} {
		if len(q.Choices) > 0 {
			out = append(out, q)
		}
	}
	return out
}

// State is how the vehicle stood.
type State string

const (
	NothingPluggedIn State = "nothing-plugged-in" // at a supply, or at the far end of what hangs on it
	PluggedIn        State = "plugged-in"         // fed as ever, no large load on
	LoadsOn          State = "loads-on"
	PlugPulled       State = "plug-pulled"
	MainOff          State = "main-off"
	AtRest           State = "at-rest"
)

// states lists every state in the order in which they are offered.
var states = []State{NothingPluggedIn, PluggedIn, LoadsOn, PlugPulled, MainOff, AtRest}

var stateTitles = map[State]string{
	NothingPluggedIn: "nothing plugged in", PluggedIn: "plugged in, no large load on", LoadsOn: "loads on",
	PlugPulled: "plug pulled, generator and inverter off", MainOff: "the vehicle's main breaker off", AtRest: "at rest, chargers and loads off",
}

// places lists every place in the order in which they are offered.
var places = []Choice{
	{"pedestal", "the pedestal"}, {"outlet", "an outlet inside"}, {"panel", "the distribution panel"}, {"plug", "the pins of the pulled plug"},
	{"cord", "the vehicle end of the cord"}, {"inlet", "the vehicle's inlet"}, {"battery", "the house battery"}, {"dc", "the 12 V panel"},
	{"generator", "the generator's output"}, {"inverter", "the inverter's output"}, {"feed", "the incoming feeder, ahead of the main breaker"},
	{"adapter", "the adapter"}, {"converter", "the converter"}, {"tow", "the tow connector"},
}

var unitTitles = map[string]string{"V": "volts", "Ω": "ohms", "A": "amperes, with a clamp"}

// List is a text as it was read.
type List struct {
	Rows   []Row
	Blocks []Block
}

// Taken is how many rows are readings of a quantity.
func (l *List) Taken() int {
	return lists.Count(l.Rows, func(r Row) bool { return r.Kind == Taken })
}

// Pairs is how many rows are two points and a figure that are, or may be, a
// reading of a quantity.
func (l *List) Pairs() int {
	return lists.Count(l.Rows, func(r Row) bool { return len(r.said.Points) == 2 && (r.Kind == Taken || r.Kind == Asked) })
}

// Open reports whether place, state or unit of some block are still to be
// asked.
func (l *List) Open() bool {
	return slices.ContainsFunc(l.Blocks, func(b Block) bool { return len(b.Places)+len(b.States)+len(b.Units) > 0 })
}

const mostNearest = 3

// ids are those of the quantities that come nearest.
func ids(list []quantity) []string {
	out := distinct(list, func(q quantity) string { return q.ID })
	return out[:min(len(out), mostNearest)]
}

func titles(list []quantity) string {
	out := distinct(list, func(q quantity) string { return "“" + q.Title + "”" })
	return strings.Join(out[:min(len(out), mostNearest)], ", ")
}

// explain says why no quantity fits, and which come nearest: those in another
// state, in another unit, or at another place.
func (r *Reader) explain(k known) (why string, nearest []string) {
	off := func(a contact.Atom) bool { c, _ := a.Condition(); return slices.Contains(k.words.Conditions, c) }
	if near := r.fitting(k.between, k.measured); len(near) > 0 {
		why = "This pair is read in another state than the one that is said: " + statesOf(near) + "."
		if off(contact.Off) || off(contact.Dead) {
			why = "With the supply off this reading says nothing of it: the pair is read with the power on."
		}
		return why, ids(near)
	}
	if near := r.fitting(k.between, k.stands); len(near) > 0 {
		return "This pair is read there in " + unitTitles[near[0].Unit.Symbol()] + ", not in " + unitTitles[k.unit] + ".", ids(near)
	}
	elsewhere := k
	elsewhere.site, elsewhere.a.Place, elsewhere.b.Place = "", "", ""
	if near := r.fitting(elsewhere.between, k.stands, k.measured); len(near) > 0 {
		return "The handbook has no such reading there. The nearest: " + titles(near) + ".", ids(near)
	}
	return "The handbook has no reading of " + named(k.a, k.b) + " in that unit.", nil
}

// statesOf words the states of quantities: "with nothing plugged in, or loads on".
func statesOf(list []quantity) string {
	out := lists.Each(distinct(list, stateOf), func(s State) string { return stateTitles[s] })
	return strings.Join(out, "; or ")
}
