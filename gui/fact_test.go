package gui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/content/view"
	"faultwright/faulttree/must"
	"faultwright/gui/place"
)

// changedBook is the small handbook of the tests with files of its own put in,
// or put in the place of others.
func changedBook(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	must.Do(t, os.CopyFS(dir, os.DirFS("../testdata/handbook")))
	for name, text := range files {
		must.Do(t, os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), []byte(text), 0o600))
	}
	return dir
}

const twoPlugs = `facts:
  - id: service
    title: "Which plug has the vehicle?"
    choices:
      - {id: 30a, title: "30 A, three blades", plug: TT-30}
      - {id: 50a, title: "50 A, four blades", plug: 14-50}
`

// A fact is a page of choices; afterwards nobody with a 30 A plug is asked for
// a second leg.
func TestAFactIsAskedAsChoices(t *testing.T) {
	quantities := must.Have(os.ReadFile("../testdata/handbook/quantities.yaml"))(t)
	const second = "the L2 contact of the pedestal receptacle, place: supply"
	if !strings.Contains(string(quantities), second) {
		t.Fatal("the handbook has no second leg")
	}
	w := open(t, wide, folder(changedBook(t, map[string]string{
		"facts.yaml":      twoPlugs,
		"quantities.yaml": strings.Replace(string(quantities), second, second+", needs: {service: [50a]}", 1),
	})))
	w.Press("Not plugged in")
	w.Type("0.4")
	w.Press("Take this reading")
	w.Want("Which plug has the vehicle?", "30 A, three blades", "50 A, four blades", "step 2")
	w.Pick("1")
	w.Want("From each hot contact to neutral", "Red lead on hot slot (TT-30 at the pedestal)")
	if page := w.Text(); strings.Contains(page, "L2 slot") {
		t.Errorf("a second leg is asked for:\n%s", page)
	}
	if got := w.session.Visit().Walk().Fact("service"); got != "30a" {
		t.Errorf("the visit knows the plug as %q", got)
	}
	w.Want("Which plug has the vehicle?\t30 A") // in the trail
}

// A reading typed where a walk begins is kept over the fact that comes first.
func TestAReadingTypedBeforeAFactIsKept(t *testing.T) {
	quantities := must.Have(os.ReadFile("../testdata/handbook/quantities.yaml"))(t)
	const ground = "the grounding contact of the pedestal receptacle, place: supply"
	if !strings.Contains(string(quantities), ground) {
		t.Fatal("the handbook has no grounding contact")
	}
	w := open(t, wide, folder(changedBook(t, map[string]string{
		"facts.yaml":      twoPlugs,
		"quantities.yaml": strings.Replace(string(quantities), ground, ground+", needs: {service: [30a, 50a]}", 1),
	})))
	w.Go(place.Document(view.KindStep, "post#ground"))
	w.Type("0.7")
	w.Check("Read as this page says", true)
	w.Press("Begin a walk here with this reading")
	w.Want("Which plug has the vehicle?")
	w.Pick("2")
	if got := w.session.Visit().Walk().Trail(); len(got) != 2 || got[1].Answer.Readings[0].Text != "0.7" {
		t.Errorf("on record stands %+v; the page shows\n%s", got, w.Text())
	}
}

// Under a name of the tree the fact is known, and the pages have the name's title.
func TestANameOfATreeKnowsTheFact(t *testing.T) {
	w := open(t, wide, folder("../testdata/pedestal"))
	w.Go(place.Document(view.KindTree, "pedestal-30a"))
	w.Want("A 30 A pedestal not trusted yet")
	w.Press("Begin")
	w.Want("A 30 A pedestal not trusted yet · step 1", "Pedestal: ground to the spike", "TT-30 at the pedestal")
	if page := w.Text(); strings.Contains(page, "14-50") || strings.Contains(page, "50 A plug") {
		t.Errorf("a known plug is to be chosen, or another is drawn:\n%s", page)
	}
	if at := w.session.Visit().Walk(); at.Fact("service") != "30a" || at.Start().Tree != "pedestal-30a" {
		t.Errorf("the walk began at %s and knows %v", at.Start(), at.Facts())
	}
	w.Go(place.Document(view.KindStep, "pedestal-50a#g-earth")) // as a link of before
	w.Type("58")
	w.Press("Begin a walk here with this reading")
	w.Want("The grounding contact is live", "58 V")
	if at := w.session.Visit().Walk(); at.Fact("service") != "50a" {
		t.Errorf("the walk began at %s and knows %v", at.Start(), at.Facts())
	}
}
