package suspect

import (
	"slices"
	"testing"
)

// What a reader says he has comes back as he said it; what is no tool is named.
func TestToolsOf(t *testing.T) {
	for _, ids := range [][]string{{}, {"clamp"}, {"clamp", "dc-clamp", "low-impedance"}} {
		if has, unknown := ToolsOf(ids); unknown != "" || !slices.Equal(has.IDs(), ids) {
			t.Errorf("%v are %v, unknown %q", ids, has.IDs(), unknown)
		}
	}
	if has, unknown := ToolsOf([]string{"hammer", "clamp"}); has != Clamp || unknown != "hammer" {
		t.Errorf("a hammer is %v, unknown %q", has, unknown)
	}
}
