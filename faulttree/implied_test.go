package faulttree

import (
	"reflect"
	"testing"
)

// Whatever exits a step can have, EachExit visits all of them: one that it
// forgot would keep no signal, and an earlier id.
func TestEachExitVisitsEveryExit(t *testing.T) {
	s := &Step{Branches: make([]Branch, 2), Choices: make([]Choice, 2)}
	want := 0
	var set func(v reflect.Value)
	set = func(v reflect.Value) {
		switch {
		case v.Type() == reflect.TypeFor[Exit]():
			v.Set(reflect.ValueOf(Exit{Text: "there"}))
			want++
		case v.Kind() == reflect.Struct:
			for i := range v.NumField() {
				set(v.Field(i))
			}
		case v.Kind() == reflect.Slice:
			for i := range v.Len() {
				set(v.Index(i))
			}
		}
	}
	set(reflect.ValueOf(s).Elem())
	got := 0
	s.EachExit(func(e *Exit) {
		got++
		e.Text = "elsewhere"
	})
	if got != want || len(s.Exits()) != want {
		t.Errorf("EachExit visits %d of %d exits, Exits lists %d", got, want, len(s.Exits()))
	}
	for i, e := range s.Exits() {
		if e.Text != "elsewhere" {
			t.Errorf("exit %d was visited as a copy", i+1)
		}
	}
}
