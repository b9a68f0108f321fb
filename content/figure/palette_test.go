package figure

import (
	"math"
	"testing"
)

// W3C WCAG 2: black on white is 21 to 1, equal colours 1 to 1; #777777 on
// white is 4.48, just too little for text.
func TestContrastFormula(t *testing.T) {
	for _, c := range []struct {
		a, b uint32
		want float64
	}{{0x000000, 0xFFFFFF, 21}, {0x336699, 0x336699, 1}, {0x777777, 0xFFFFFF, 4.48}} {
		if got := Contrast(rgb(c.a), rgb(c.b)); math.Abs(got-c.want) > 0.005 {
			t.Errorf("contrast of %06X and %06X is %.3f, want %.2f", c.a, c.b, got, c.want)
		}
	}
}

// 4.5 : 1 for every text and signal word, 3 : 1 for what must be made out.
var palettes = []Palette{Light(), Dark(), HighContrast(), Grey()}

func TestPalettesAreLegible(t *testing.T) {
	texts := [][2]Role{{Ink, Panel}, {Soft, Panel}, {Accent, Panel}, {OnLead, RedLead}, {OnLead, BlackLead},
		{OnDanger, DangerFill}, {OnWarning, WarningFill}, {OnCaution, CautionFill}, {OnNotice, NoticeFill}}
	for _, p := range palettes {
		for _, pair := range texts {
			if got := Contrast(p.Color(pair[0]), p.Color(pair[1])); got < 4.5 {
				t.Errorf("%s: role %d on %d has a contrast of %.2f, want 4.5", p.Name, pair[0], pair[1], got)
			}
		}
		for _, r := range []Role{Ink, Hole, Ground, WireEdge} {
			if got := Contrast(p.Color(r), p.Color(Panel)); got < 3 {
				t.Errorf("%s: role %d on the panel has a contrast of %.2f, want 3", p.Name, r, got)
			}
		}
		for _, lead := range []Role{RedLead, BlackLead} { // the core or its rim
			got := max(Contrast(p.Color(lead), p.Color(Panel)), Contrast(p.Color(LeadEdge), p.Color(Panel)))
			if got < 3 {
				t.Errorf("%s: lead %d has a contrast of %.2f, want 3", p.Name, lead, got)
			}
		}
	}
}
