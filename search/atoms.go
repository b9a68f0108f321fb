package search

import (
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"
)

// atom is what a word of a query says about where a reading was taken. Its
// first letter tells the sort: a place ("@pedestal"), a contact (".n"), a
// condition ("+loaded"), a word that parts two points ("|").
type atom string

const (
	atHot       atom = ".hot" // a hot contact, it is not said which
	atL1        atom = ".l1"
	atL2        atom = ".l2"
	atN         atom = ".n"
	atG         atom = ".g" // a grounding contact or conductor
	atPos       atom = ".pos"
	atNeg       atom = ".neg"
	atLeads     atom = ".leads"
	atTips      atom = ".tips"
	atBody      atom = ".body"
	atSoil      atom = ".earth"       // the spike in the soil
	atGround    atom = ".ground-word" // "ground": a contact, but beside the body perhaps the soil
	atEarth     atom = ".earth-word"  // "earth": a contact, but beside the body or a contact of ground the soil
	atBoth      atom = ".l1+.l2"      // "hot to hot"
	atPlural    atom = ".legs"        // "the hots": both where they are measured between, else each by itself
	atEnds      atom = "|ends"        // from one end of the cord to the other
	atAcross    atom = "|between"     // as atSeparator
	atTo        atom = "|to"          // the other point follows
	atOf        atom = "|of"          // what follows owns what was said before
	atNot       atom = "|not"         // denies the condition that follows
	atStop      atom = "|;"           // no point runs across it
	atSeparator atom = "|"            // the next word belongs to another point
	atSupply    atom = "|supply"      // means the pedestal elsewhere, but is no place to read at
	atSite      atom = "|at"          // what follows is where it was done
)

func (a atom) place() (string, bool)     { return strings.CutPrefix(string(a), "@") }
func (a atom) condition() (string, bool) { return strings.CutPrefix(string(a), "+") }

// seeds are words for atoms. Every word that shares a group of synonyms with
// the word "grouped" means the same atom; the others stand for themselves,
// and outrank the groups.
var seeds = []struct {
	atom    atom
	grouped string // "" for none
	own     []string
}{
	{atSeparator, "", []string{"and", "from"}},
	{atTo, "", []string{"to", "against", "versus", "vs", "onto"}},
	{atAcross, "", []string{"between", "across"}},
	{atOf, "", []string{"of"}},
	{atNot, "", []string{"no", "not", "without"}},
	{atSupply, "", []string{"mains", "mains supply", "shore power", "shore supply", "campground power", "campsite power", "site power"}},
	{atEnds, "", []string{"end to end", "from one end to the other", "from end to end"}},
	{atSite, "", []string{"at", "on", "in", "inside"}},
	{atBody, "body", []string{"bare metal", "tongue", "wheel", "rim", "hub", "awning arm"}},
	{atSoil, "earth spike", []string{"spike", "the soil", "lawn", "grass"}},
	{atSoil, "ground rod", nil},
	{atGround, "", []string{"ground"}},
	{atEarth, "", []string{"earth", "e"}},
	{atG, "ground", []string{"grounding", "grounding pin", "ground contact", "grounding contact", "ground hole", "ground bar", "ground bus", "ground prong", "ground slot", "earth pin", "earth contact", "earth bar", "earth terminal", "earth hole", "earth slot", "earth lead", "PE", "G"}},
	{atHot, "hot wire", []string{"hot", "live", "hot slot", "hot pin", "hot contact", "live pin", "H", "L"}},
	{atL1, "", []string{"L1", "l 1", "leg 1", "line 1", "hot 1", "leg one", "first leg", "first hot", "leg A", "phase 1"}},
	{atL2, "", []string{"L2", "l 2", "leg 2", "line 2", "hot 2", "leg two", "second leg", "second hot", "other leg", "other hot", "leg B", "phase 2"}},
	{atBoth, "", []string{"hot to hot", "leg to leg", "hot and hot", "line to line", "hot hot"}},
	{atN, "neutral", []string{"the neutral pin", "neutral contact", "neutral slot", "neutral bar", "N"}},
	{atPos, "", []string{"positive", "plus", "positive post", "positive terminal", "pos"}},
	{atNeg, "", []string{"negative", "minus", "negative post", "negative terminal", "neg"}},
	{atLeads, "", []string{"leads together", "tips together", "leads touching", "leads shorted", "tips touching", "probes together", "probes touching"}},
	{atTips, "", []string{"leads apart", "tips apart", "probes apart"}},
	{"@pedestal", "pedestal", []string{"pedestal receptacle", "pedestal outlet", "post", "30 amp outlet", "30 amp receptacle", "30 amp socket", "50 amp outlet", "50 amp receptacle", "50 amp socket", "30 a outlet", "30 a receptacle", "50 a outlet", "50 a receptacle"}},
	{"@outlet", "outlet", []string{"slot", "wall"}},
	{"@plug", "plug", []string{"pulled plug", "cord plug", "plug of the cord"}},
	{"@cord", "cord", []string{"cord end"}}, // which end is not said
	{"@inlet", "inlet", nil},
	{"@adapter", "adapter", nil},
	{"@feed", "", []string{"feeder", "incoming feed", "incoming feeder"}},
	{"@panel", "panel", nil},
	{"@generator", "generator", nil},
	{"@inverter", "inverter", nil},
	{"@battery", "battery", []string{"battery post", "battery posts", "battery terminal", "battery terminals"}},
	{"@converter", "converter", nil},
	{"@tow", "tow plug", []string{"tow connector"}},
	{"@dc", "12 volt", []string{"12 volt panel", "12 v panel", "DC panel", "fuse panel", "fuse block"}},
	{"@meter", "", []string{"known source", "known live source"}},
	{stateOff, "", []string{"breaker off", "breaker open", "power off", "supply off", "turned off", "switched off", "shut off",
		"generator off", "genny off", "inverter off", "switch off", "off at the pedestal", "turned off the breaker", "breaker turned off", "breaker switched off"}},
	{"", "", []string{"load off", "loads off", "loads switched off", "loads turned off", "appliances off", "lights off", "everything else off"}},
	{stateLive, "", []string{"power on", "breaker on", "energized", "energised"}},
	{stateDead, "", []string{"breaker tripped", "tripped breaker", "power out", "power cut", "power gone", "no power", "cut off", "no supply"}},
	{statePoor, "", []string{"dry", "paint", "painted", "not clipped", "hold on", "on hold", "ohms setting", "on ohms"}},
	{"+loaded", "", []string{"loaded", "under load", "load on", "loads on", "load running", "with load", "running", "with everything on", "everything on", "switched on", "everything running"}},
	{"+unplugged", "", []string{"unplugged", "plug out", "plug pulled", "pulled", "disconnected", "cord removed", "plug removed", "before plugging in"}},
	{"+main-off", "", []string{"main off", "main breaker off", "everything off", "all off"}},
	{"+lowz", "low impedance", []string{"low impedance meter"}},
	{"+rest", "", []string{"at rest", "rested", "resting", "overnight"}},
}

// States of a vehicle in which a reading is not what a step asks for.
const (
	stateOff  atom = "+off"  // what feeds it is off
	stateLive atom = "+live" // plugged in, with the power on
	stateDead atom = "+dead" // no supply, so that a body reads nothing
	statePoor atom = "+poor" // a contact or a dial that shows nothing of the body
)

// plurals are words whose stem is that of one leg. They go by pluralTerm.
var plurals = setOf("hots legs lines phases lives")

// Terms that no text has.
const (
	pluralTerm  = "legs+"
	pluggedTerm = "plugged+" // "plugged in", which has the stem of a plug
	stopTerm    = ";"
)

// newAtoms gathers the words for every atom.
func newAtoms(synonyms [][]string, analyzer analysis.Analyzer) phrases[atom] {
	var found phrases[atom]
	found.add([]string{pluralTerm}, atPlural)
	found.add([]string{stopTerm}, atStop)
	found.add([]string{pluggedTerm}, stateLive)
	for _, denied := range []string{"not", "never", "nothing", "isn't", "wasn't", "aren't", "before i", "before we", "before it is"} {
		found.add(append(stems(analyzer, denied), pluggedTerm), "+unplugged")
	}
	taken := map[string]bool{}
	put := func(text string, a atom) {
		w := stems(analyzer, text)
		if key := strings.Join(w, " "); !taken[key] {
			taken[key] = true
			found.add(w, a)
		}
	}
	for _, s := range seeds {
		for _, text := range s.own {
			put(text, s.atom)
		}
	}
	for _, s := range seeds {
		if s.grouped == "" {
			continue
		}
		put(s.grouped, s.atom)
		for _, group := range synonyms {
			if !containsFold(group, s.grouped) {
				continue
			}
			for _, member := range group {
				if !tooBare(stems(analyzer, member)) {
					put(member, s.atom)
				}
			}
		}
	}
	return found
}

func containsFold(list []string, word string) bool {
	return slices.ContainsFunc(list, func(w string) bool { return strings.EqualFold(w, word) })
}
