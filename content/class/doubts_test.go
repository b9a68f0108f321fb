package class

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// What an instructor should look at is as short as it can be: one line for all
// learners whose acts are the same, one for a file that was sent twice, and one for all files of
// which the same holds.
func TestDoubtsAreSaidOnce(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step", "slow-oven-at-the-far-row")
	wren := written(t, handedIn(t, a, "Wren", 7e9))
	only := handedIn(t, a, "Lark", 7e9)
	only.Attempts = only.Attempts[1:]
	files := map[string][]byte{
		"wren.zip": wren, "wren (1).zip": wren, "finch.zip": written(t, handedIn(t, a, "Finch", 7e9)), "lark.zip": written(t, only),
		"knot.zip": written(t, handedIn(t, a, "Knot", 8e9)),
	}
	for _, name := range []string{"class.html", "marks.csv", "f1.html", "f2.html", "f3.html", "f4.html"} {
		files[name] = []byte("no ZIP")
	}
	for _, name := range []string{"Teal", "Smew"} {
		files[name] = written(t, handedIn(t, a, name, 7e9))
	}
	want := []string{
		"Finch and Smew and Teal and Wren: the same acts at the very same times at every vehicle.",
		"Finch and Lark; Lark and Smew and Teal and Wren: the same acts at the very same times at “The oven that takes all evening”.",
		"class.html; f1.html; f2.html; f3.html and 2 others: " + ErrNoArchive.Error() + ".",
		"wren.zip: this is wren (1).zip once more.",
	}
	if diff := cmp.Diff(want, collected(t, folderOf(t, a, files), Options{}).Doubts()); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
}
