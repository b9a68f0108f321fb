package session_test

import (
	"context"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree/must"
)

// A scenario that was opened from a file is read with the handbook that is put in use, and
// what that one cannot read is told.
func TestWhatWasHandedOutOutlivesTheHandbook(t *testing.T) {
	o := ownIn(t, t.TempDir())
	book := load.Shipped()
	text := strings.Replace(load.ScenarioText(book, book.Scenarios["lamps-like-candles"]), "lamps-like-candles", "handed-out", 1)
	s, diags := load.Scenario(context.Background(), book, "handed-out.md", strings.NewReader(text), nil)
	must.Do(t, diags.Err())
	o.HandOut(s)
	again := func(change func(*content.Library)) string {
		lib := *book
		change(&lib)
		return o.UseBook(&lib)
	}
	if said := again(func(*content.Library) {}); said != "" || o.Scenario("handed-out") == nil || o.Scenario("handed-out") == s {
		t.Errorf("it says %q, and the scenario is %p of %p", said, o.Scenario("handed-out"), s)
	}
	if said := again(func(lib *content.Library) { lib.Rigs = nil }); !strings.Contains(said, "cannot be read with this handbook") || o.Scenario("handed-out") != nil {
		t.Errorf("it says %q, and the scenario is %v", said, o.Scenario("handed-out"))
	}
}
