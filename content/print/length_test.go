package print

import (
	"testing"

	"faultwright/content/load"
)

// Each walk of the handbook takes one or two pages, and so does each long procedure. A
// browser is not at hand here, so lines are counted; what was counted has been held
// against the pages that one printed, and lay up to seven parts in a hundred above them.
func TestEachWalkFitsTwoPages(t *testing.T) {
	lib := load.Shipped()
	for _, id := range lib.Forest.Beginnings() {
		for _, p := range []Paper{A4, Letter} {
			for _, v := range treeOf(lib, lib.Forest.Tree(id)) {
				size := v.size(p)
				if pages := v.pages(p, size); pages > MostPages {
					t.Errorf("%s, “%s”, takes %.2f pages of %s in type of %v points; shorten it", id, v.Title, pages, p.Name, size)
				}
			}
		}
	}
}

// What is longer takes smaller type, and never less room on smaller paper.
func TestTypeGrowsSmallerWithWhatStandsOnAPage(t *testing.T) {
	lib := load.Shipped()
	v := treeOf(lib, lib.Forest.Tree("trips"))[0]
	longer := v
	longer.Findings = append(append(append([]finding{}, v.Findings...), v.Findings...), v.Findings...)
	if longer.size(A4) >= v.size(A4) {
		t.Errorf("three times the findings are set in %v points, and once in %v", longer.size(A4), v.size(A4))
	}
	if v.pages(Letter, 8) <= v.pages(A4, 8) { // 8.5 × 11 in. of ANSI have less area than ISO 216 A4
		t.Error("Letter takes no more pages than A4")
	}
}
