// Package lists says in a word what is done with every entry of a list.
package lists

import "slices"

// Each is what make gives for every entry, nil for an empty list.
func Each[T, U any](list []T, make func(T) U) []U {
	var out []U
	for _, one := range list {
		out = append(out, make(one))
	}
	return out
}

// Where is the entries of which is holds, nil where there is none.
func Where[T any](list []T, is func(T) bool) []T {
	var out []T
	for _, one := range list {
		if is(one) {
			out = append(out, one)
		}
	}
	return out
}

// Find is the first entry of which is holds; ok is false where there is none.
func Find[T any](list []T, is func(T) bool) (found T, ok bool) {
	for _, one := range list {
		if is(one) {
			return one, true
		}
	}
	return found, false
}

// At is where the first entry stands of which is holds, nil where there is none.
func At[T any](list []T, is func(*T) bool) *T {
	for i := range list {
		if is(&list[i]) {
			return &list[i]
		}
	}
	return nil
}

// Count is of how many entries is holds.
func Count[T any](list []T, is func(T) bool) (n int) {
	for _, one := range list {
		if is(one) {
			n++
		}
	}
	return n
}

// Sum is what of gives for all entries together.
func Sum[T any, N int | float64](list []T, of func(T) N) (sum N) {
	for _, one := range list {
		sum += of(one)
	}
	return sum
}

// With is a list with one more entry, unless it has it already.
func With[T comparable](list []T, one T) []T {
	if slices.Contains(list, one) {
		return list
	}
	return append(list, one)
}
