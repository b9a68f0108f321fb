// Package matrix draws what a trial found: which faults end at which findings.
package matrix
