package contact

import "testing"

func TestOneTypo(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"bumper", "bumpr", true}, {"bumper", "bummper", true}, {"bumper", "bumber", true}, {"neutral", "nuetral", true},
		{"bumper", "ubmper", true}, {"bumper", "bumpre", true}, {"erdé", "erde", true},
		{"bumper", "bumper", false}, {"bumper", "bmpr", false}, {"bumper", "bumpers!", false}, {"abcd", "badc", false}, {"", "", false},
	} {
		if got := OneTypo([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("OneTypo(%q, %q) = %v", c.a, c.b, got)
		}
		if got := OneTypo([]rune(c.b), []rune(c.a)); got != c.want {
			t.Errorf("OneTypo(%q, %q) = %v", c.b, c.a, got)
		}
	}
}
