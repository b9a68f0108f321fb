package scenes_test

import (
	"context"
	"maps"
	"math"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

// sampled is a scenario whose best order takes least to work out.
const sampled = "van-coffee-at-dawn"

// Of every scenario that is shipped the stored order was worked out from what is
// there now, and one of them comes out the same when it is worked out anew.
func TestStoredOrdersAreCurrent(t *testing.T) {
	m := marking()
	for _, s := range view.Scenarios(m.lib) {
		if _, ok := m.lib.Order(s); !ok {
			t.Errorf("%s has no order that is current; run: %s", s.ID, load.AnewOrders)
		}
	}
	s := m.lib.Scenarios[sampled]
	anew := must.Have(scenes.BestOrder(context.Background(), m.lib, s, m.beliefs))(t)
	stored, _ := m.lib.Order(s)
	if stored.Cost != anew.Cost || math.Abs(stored.Held-anew.Held) > 1e-4 {
		t.Errorf("stored %+v, and worked out anew %+v", stored, anew)
	}
}

// A variant is marked beside the order of the scenario as it was written; a scenario
// that was handed out as a file, another role and another meter are not.
func TestForWhomAnOrderIsStored(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios[sampled]
	if b := scenes.MarkBook(m.lib, scenes.VariantOf(s, 3), m.beliefs); b.Stored == nil {
		t.Error("a variant has no order")
	} else if _, ok := b.Stored(s.Role); !ok {
		t.Error("the role of the scenario has no order")
	} else if _, ok := b.Stored(faulttree.Owner + faulttree.Qualified - s.Role); ok {
		t.Error("the other role has the same order")
	}
	file := *s
	file.Pos.File = "mine.md"
	if scenes.MarkBook(m.lib, &file, m.beliefs).Stored != nil {
		t.Error("a file of the same name has the order of the handbook")
	}
	other := faulttree.DefaultMeter()
	other.FullScale = 2000
	if scenes.MarkBook(m.lib, s, scenes.NewBeliefs(m.lib, other)).Stored != nil {
		t.Error("another meter has the same order")
	}
}

// A word of the story changes nothing of what an order was worked out from; what
// is hidden does, and a fault.
func TestWhatAnOrderFollowsFrom(t *testing.T) {
	lib := marking().lib
	s := lib.Scenarios[sampled]
	changed := func(name, more string, front bool) string {
		text := string(lib.Files[name].Text)
		if text += more; front {
			text = strings.Replace(string(lib.Files[name].Text), "---\n", "---\n"+more, 1)
		}
		other := content.Library{Files: maps.Clone(lib.Files)}
		other.Files[name] = source.NewFile(name, []byte(text))
		return other.Basis(s)
	}
	was := lib.Basis(s)
	if changed(s.Pos.File, "One word more.\n", false) != was || changed("cards/adapters.md", "One word more.\n", false) != was {
		t.Error("prose makes another order")
	}
	for _, name := range []string{s.Pos.File, "faults/open-ground.md", "rubric.md", "quantities.yaml", "rigs/" + s.Rig.ID + ".yaml"} {
		if changed(name, "# more\n", strings.HasSuffix(name, ".md")) == was {
			t.Errorf("a change in %s leaves the order current", name)
		}
	}
}
