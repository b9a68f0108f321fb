package contact

import (
	"slices"
	"strings"
)

// Atom is what a word says about where a reading was taken. Its first letter
// tells the sort: a place ("@pedestal"), a contact (".n"), a
// condition ("+loaded"), a word that parts two points ("|").
type Atom string

const (
	Hot         Atom = ".hot" // a hot contact, it is not said which
	L1          Atom = ".l1"
	L2          Atom = ".l2"
	N           Atom = ".n"
	G           Atom = ".g" // a grounding contact or conductor
	Pos         Atom = ".pos"
	Neg         Atom = ".neg"
	Cover       Atom = ".cover" // of a pedestal
	Leads       Atom = ".leads"
	Tips        Atom = ".tips"
	Body        Atom = ".body"
	Soil        Atom = ".earth"       // the spike in the soil
	GroundWord  Atom = ".ground-word" // "ground": a contact, but beside the body perhaps the soil
	EarthWord   Atom = ".earth-word"  // "earth": a contact, but beside the body or a contact of ground the soil
	atBoth      Atom = ".l1+.l2"      // "hot to hot"
	atPlural    Atom = ".legs"        // "the hots": both where they are measured between, else each by itself
	atEnds      Atom = "|ends"        // from one end of the cord to the other
	atAcross    Atom = "|between"     // as atSeparator
	atTo        Atom = "|to"          // the other point follows
	atOf        Atom = "|of"          // what follows owns what was said before
	atNot       Atom = "|not"         // denies the condition that follows
	atStop      Atom = "|;"           // no point runs across it
	atSeparator Atom = "|"            // the next word belongs to another point
	atAside     Atom = "|aside"       // names a place, but not where it was read
	atSite      Atom = "|at"          // what follows is where it was done
)

// Place is the place that a names.
func (a Atom) Place() (string, bool) { return strings.CutPrefix(string(a), "@") }

// Condition is the state that a names.
func (a Atom) Condition() (string, bool) { return strings.CutPrefix(string(a), "+") }

// Seed is words for an atom. Every word that shares a group of synonyms with
// the word Grouped means the same atom; the others stand for themselves, and
// outrank the groups.
type Seed struct {
	Atom    Atom
	Grouped string // "" for none
	own     []string
}

// Seeds lists the words of every atom.
func Seeds() []Seed { return slices.Clone(seeds) }

var seeds = []Seed{
	{atSeparator, "", []string{"and", "from"}},
	{atTo, "", []string{"to", "against", "versus", "vs", "onto"}},
	{atAcross, "", []string{"between", "across"}},
	{atOf, "", []string{"of"}},
	{atNot, "", []string{"no", "not", "without"}},
	{atAside, "", []string{"not in the inlet", "off the inlet", "its receptacle", "its pins", "charger off", "chargers off", "converter off", "mains", "mains supply", "shore power", "shore supply", "campground power", "campsite power", "site power"}},
	{atEnds, "", []string{"end to end", "from one end to the other", "from end to end"}},
	{atSite, "", []string{"at", "on", "in", "inside"}},
	{Body, "body", []string{"bare metal", "tongue", "wheel", "rim", "hub", "awning arm"}},
	{Soil, "earth spike", []string{"spike", "the soil", "lawn", "grass"}},
	{Soil, "ground rod", nil},
	{GroundWord, "", []string{"ground", "gnd", "grd"}},
	{EarthWord, "", []string{"earth", "e"}},
	{G, "ground", []string{"grounding", "grounding pin", "ground contact", "grounding contact", "ground hole", "ground bar", "ground bus", "ground prong", "ground slot", "earth pin", "earth contact", "earth bar", "earth terminal", "earth hole", "earth slot", "earth lead", "PE", "G"}},
	{Hot, "hot wire", []string{"hot", "live", "hot slot", "hot pin", "hot contact", "live pin", "H", "L"}},
	{L1, "", []string{"L1", "l 1", "leg 1", "line 1", "hot 1", "leg one", "first leg", "first hot", "leg A", "phase 1"}},
	{L2, "", []string{"L2", "l 2", "leg 2", "line 2", "hot 2", "leg two", "second leg", "second hot", "other leg", "other hot", "leg B", "phase 2"}},
	{atBoth, "", []string{"hot to hot", "leg to leg", "hot and hot", "line to line", "hot hot"}},
	{N, "neutral", []string{"the neutral pin", "neutral contact", "neutral slot", "neutral bar", "neut", "N"}},
	{Pos, "", []string{"positive", "plus", "positive post", "positive terminal", "pos", "charge pin"}},
	{Neg, "", []string{"negative", "minus", "negative post", "negative terminal", "neg"}},
	{Cover, "", []string{"own metal"}},
	{Leads, "", []string{"leads together", "tips together", "leads touching", "leads shorted", "tips touching", "probes together", "probes touching"}},
	{Tips, "", []string{"leads apart", "tips apart", "probes apart"}},
	{"@pedestal", "pedestal", []string{"pedestal receptacle", "pedestal outlet", "post", "ped", "30 amp outlet", "30 amp receptacle", "30 amp socket", "50 amp outlet", "50 amp receptacle", "50 amp socket", "30 a outlet", "30 a receptacle", "50 a outlet", "50 a receptacle"}},
	{"@outlet", "outlet", []string{"slot", "wall"}},
	{"@plug", "plug", []string{"pulled plug", "cord plug", "plug of the cord"}},
	{"@cord", "cord", []string{"cord end"}}, // which end is not said
	{"@inlet", "inlet", nil},
	{"@adapter", "adapter", nil},
	{"@feed", "", []string{"feeder", "incoming feed", "incoming feeder"}},
	{"@panel", "panel", []string{"sub panel", "subpanel"}},
	{"@generator", "generator", []string{"gen"}},
	{"@inverter", "inverter", []string{"inv"}},
	{"@battery", "battery", []string{"batt", "bat", "battery post", "battery posts", "battery terminal", "battery terminals"}},
	{"@converter", "converter", []string{"conv"}},
	{"@tow", "tow plug", []string{"tow connector", "tow", "7 way"}},
	{"@dc", "12 volt", []string{"12 volt panel", "12 v panel", "12 volt side", "12 v side", "DC panel", "fuse panel", "fuse block"}},
	{"@meter", "", []string{"known source", "known live source"}},
	{Off, "", []string{"breaker off", "breaker open", "power off", "supply off", "turned off", "switched off", "shut off",
		"generator off", "genny off", "inverter off", "switch off", "off at the pedestal", "turned off the breaker", "breaker turned off", "breaker switched off"}},
	{LoadsOff, "", []string{"no load", "no loads", "without load", "without loads", "unloaded", "load off", "loads off", "loads switched off", "loads turned off", "appliances off", "lights off", "everything else off"}},
	{Live, "", []string{"engine running", "engine on", "converter running", "converter on", "charger running", "charger on", "charging", "power on", "breaker on", "energized", "energised"}},
	{Dead, "", []string{"breaker tripped", "tripped breaker", "power out", "power cut", "power gone", "no power", "cut off", "no supply"}},
	{Unreliable, "", []string{"dry", "paint", "painted", "not clipped", "hold on", "on hold", "ohms setting", "on ohms"}},
	{"+loaded", "", []string{"loaded", "under load", "load on", "loads on", "load running", "with load", "with everything on", "everything on", "switched on", "everything running"}},
	{Running, "", []string{"running"}},
	{"+unplugged", "", []string{"unplugged", "plug out", "plug pulled", "pulled", "disconnected", "cord removed", "plug removed", "before plugging in", "nothing connected"}},
	{"+main-off", "", []string{"main off", "main breaker off", "everything off", "all off"}},
	{"+lowz", "low impedance", []string{"low impedance meter"}},
	{"+rest", "", []string{"at rest", "chargers and loads off", "rested", "resting", "overnight"}},
}

// paired are words that are a place and something else at once: "generator
// running" is no load that runs.
var paired = []struct {
	first, second Atom
	words         []string
}{
	{Cover, "@pedestal", []string{"pedestal cover", "pedestal door", "pedestal metal", "cover of the pedestal", "metal of the pedestal", "post metal", "post cover", "metal cover", "cover"}},
	{"@generator", Live, []string{"generator running", "generator on", "genset running", "genny running", "gen running", "gen on"}},
	{"@inverter", Live, []string{"inverter running", "inverter on", "inv on"}},
}

// Running is said of loads, or of a source of one's own.
const Running Atom = "+running"

// LoadsOff is said of a vehicle whose loads are off.
const LoadsOff Atom = "+light"

// States of a vehicle in which a reading is not what a step asks for.
const (
	Off        Atom = "+off"     // what feeds it is off
	Live       Atom = "+live"    // with the power on
	Plugged    Atom = "+plugged" // plugged in
	Dead       Atom = "+dead"    // no supply, so that a body reads nothing
	Unreliable Atom = "+poor"    // a contact, or a setting of the meter, by which a body reads nothing
)

// Words that are read by another term than their own.
var (
	plurals = Set("hots legs lines phases lives") // their stem is that of one leg
	copulas = Set("is are was were still now been being")
)

// Term is what a word goes by whose own form says something: "legs" are two,
// and "plugged" has the stem of a plug. Ok is false for all others.
func Term(word string) (term string, ok bool) {
	switch {
	case plurals[word]:
		return PluralTerm, true
	case word == "plugged":
		return PluggedTerm, true
	}
	return "", false
}

// Copula reports whether word says nothing between a thing and its state: "the
// breaker is off". Such words are left out before [Read].
func Copula(word string) bool { return copulas[word] }

// Terms that no text has.
const (
	PluralTerm  = "legs+"
	PluggedTerm = "plugged+" // "plugged in", which has the stem of a plug
	StopTerm    = ";"
)

// NewWords gathers the words for every atom, with those that share a group of
// synonyms. Cut cuts a text into words, in the form that the texts to be read
// have them.
func NewWords(synonyms [][]string, cut func(text string) []string) Phrases[Atom] {
	var found Phrases[Atom]
	found.Add([]string{PluralTerm}, atPlural)
	found.Add([]string{StopTerm}, atStop)
	found.Add([]string{PluggedTerm}, Plugged)
	for _, denied := range []string{"not", "never", "nothing", "isn't", "wasn't", "aren't", "before i", "before we", "before it is"} {
		found.Add(append(cut(denied), PluggedTerm), "+unplugged")
	}
	taken := map[string]bool{}
	put := func(text string, a Atom) {
		w := cut(text)
		if key := strings.Join(w, " "); !taken[key] {
			taken[key] = true
			found.Add(w, a)
		}
	}
	for _, p := range paired {
		for _, text := range p.words {
			put(text, p.first)
			found.Add(cut(text), p.second)
		}
	}
	for _, s := range seeds {
		for _, text := range s.own {
			put(text, s.Atom)
		}
	}
	for _, s := range seeds {
		if s.Grouped == "" {
			continue
		}
		put(s.Grouped, s.Atom)
		for _, group := range synonyms {
			if !ContainsFold(group, s.Grouped) {
				continue
			}
			for _, member := range group {
				if !TooBare(cut(member)) {
					put(member, s.Atom)
				}
			}
		}
	}
	return found
}

// ContainsFold reports whether list has word, in any case.
func ContainsFold(list []string, word string) bool {
	return slices.ContainsFunc(list, func(w string) bool { return strings.EqualFold(w, word) })
}

// stopWords say nothing about what is wrong. "No", "not", "on", "off", "up",
// "down", "over" and "under" do, and so they are not here.
const stopWords = `a an the this that these those it its is are was were be been being am
i me my mine you your yours we us our ours he she they them their his her
and or but if so as of at by to in into with for from than then there here
do does did done have has had will would shall should can could may might must
what which who whom when where why how about just very some any all also too
get gets got please help
again once such now because while since really still even ever thing things something anything way actually supposed maybe lot`

var (
	stopSet = Set(stopWords)
	weakSet = Set("no not on off up down over under volt v ohm amp")
)

// Stop reports whether word says nothing about what is wrong or where it was
// read.
func Stop(word string) bool { return stopSet[word] }

// Weak reports whether word changes what a text means but hardly tells what it
// is about. The names of units stand everywhere.
func Weak(word string) bool { return weakSet[word] }

// Set is the set of the words of a text.
func Set(words string) map[string]bool {
	set := map[string]bool{}
	for _, w := range strings.Fields(words) {
		set[w] = true
	}
	return set
}

// OneTypo reports whether one letter added, left out, exchanged for another,
// or one pair of neighbours in the wrong order makes b of a.
func OneTypo(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch {
	case len(a) < len(b):
		return slices.Equal(a[i:], b[i+1:])
	case i == len(a):
		return false
	case slices.Equal(a[i+1:], b[i+1:]):
		return true
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && slices.Equal(a[i+2:], b[i+2:])
}
