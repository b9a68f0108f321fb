package practice

import (
	"cmp"
	"fmt"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// A trainee is somebody to whom all is permitted, and who is marked, as somebody
// qualified, with a qualified person beside him at everything live: the role is
// [faulttree.Qualified], and supervised is true.

// RoleNames lists as whom somebody can practise.
func RoleNames() []string { return []string{"owner", "trainee", "qualified"} }

// RoleName is as whom somebody practises, one of [RoleNames].
func RoleName(r faulttree.Role, supervised bool) string {
	if supervised && r == faulttree.Qualified {
		return "trainee"
	}
	return r.String()
}

// ParseRole reads one of [RoleNames]; the error names the nearest.
func ParseRole(name string) (r faulttree.Role, supervised bool, err error) {
	if name == "trainee" {
		return faulttree.Qualified, true, nil
	}
	r, ok := faulttree.ParseRole(name)
	if !ok {
		err = fmt.Errorf("there is no role %q; %s", name, cmp.Or(source.DidYouMean(name, RoleNames()), "expected one of "+strings.Join(RoleNames(), ", ")))
	}
	return r, false, err
}
