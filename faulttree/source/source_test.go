package source_test

import (
	"fmt"
	"testing"

	"faultwright/faulttree/source"
)

func TestPositions(t *testing.T) {
	f := source.NewFile("a.md", []byte("one\nzwölf\r\n\nlast"))
	for _, c := range []struct {
		offset int
		want   string
	}{
		{-5, "a.md:1:1"}, {0, "a.md:1:1"}, {3, "a.md:1:4"}, {4, "a.md:2:1"},
		{8, "a.md:2:4"}, // after ö, which is two bytes and one character
		{12, "a.md:3:1"}, {13, "a.md:4:1"}, {17, "a.md:4:5"}, {999, "a.md:4:5"},
	} {
		if got := f.Pos(c.offset).String(); got != c.want {
			t.Errorf("offset %d is %s; want %s", c.offset, got, c.want)
		}
	}
	for n, want := range map[int]string{0: "", 1: "one", 2: "zwölf", 3: "", 4: "last", 5: ""} {
		if got := f.LineText(n); got != want {
			t.Errorf("line %d is %q; want %q", n, got, want)
		}
	}
}

func TestListSortsAndDropsRepeats(t *testing.T) {
	at := func(line int) source.Pos { return source.Pos{File: "a.md", Line: line, Column: 1} }
	var l source.List
	if l.Err() != nil || l.HasErrors() {
		t.Fatal("an empty list has errors")
	}
	l.Add(at(9), "rule", "later")
	l.Add(at(2), "rule", "first")
	l.Add(at(9), "rule", "later")
	l = append(l, source.Diagnostic{Pos: at(1), Severity: source.Warning, Rule: "rule", Message: "mild"})
	l.Sort()
	if len(l) != 3 || l[0].Message != "mild" || l[1].Message != "first" || l[2].Message != "later" {
		t.Errorf("sorted to %v", l)
	}
	if want := "a.md:2:1: error: first\na.md:9:1: error: later"; l.Err() == nil || l.Err().Error() != want {
		t.Errorf("the error is %q; want %q", l.Err(), want)
	}
}

func TestNearest(t *testing.T) {
	names := []string{"pedestal.l1-n", "pedestal.l2-n", "body-earth", "meter.known-source"}
	for typed, want := range map[string]string{
		"body-erath": "body-earth", "pedestal.l1n": "pedestal.l1-n", "meter.known-sorce": "meter.known-source", "entirely-else": "", "": "",
	} {
		if got := source.Nearest(typed, names); got != want {
			t.Errorf("nearest to %q is %q; want %q", typed, got, want)
		}
	}
}

func Example() {
	f := source.NewFile("trees/a.md", []byte("measure:\n\t{v: body-erath}\n"))
	d := source.Diagnostic{Pos: f.Pos(14), Rule: "quantity-unknown", Message: "there is no quantity body-erath", Hint: source.DidYouMean("body-erath", []string{"body-earth"})}
	fmt.Println(d)
	// Output:
	// trees/a.md:2:6: error: there is no quantity body-erath (did you mean body-earth?)
}

func TestPerFileCountsTheRest(t *testing.T) {
	var l source.List
	for line := range 5 {
		l.Add(source.Pos{File: "a.md", Line: line + 1, Column: 1}, "rule", "wrong")
	}
	l.Add(source.Pos{File: "b.md", Line: 1, Column: 1}, "rule", "wrong")
	got := l.PerFile(3, "many").Err().Error()
	want := "a.md:1:1: error: wrong\na.md:2:1: error: wrong\na.md:3:1: error: wrong\n" +
		"a.md:4:1: error: from here on at least 2 more errors of this file are not shown\nb.md:1:1: error: wrong"
	if got != want {
		t.Errorf("the list is\n%s\nwant\n%s", got, want)
	}
}
