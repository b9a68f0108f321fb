// Package check says what is wrong with a loaded handbook. [Library] adds the
// proofs of faulttree/prove to what loading found; [Deep] sends drawn vehicles
// down every tree and compares what they show with what the findings say.
package check
