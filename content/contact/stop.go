package contact

import "strings"

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
