package main

import (
	"strings"
	"testing"

	"github.com/alecthomas/kong"

	"faultwright/faulttree/must"
)

// The completion scripts know every command and every flag of the grammar.
func TestCompletionKnowsTheGrammar(t *testing.T) {
	var c commands
	parser := must.Have(kong.New(&c, kong.Name("faultwright-cli")))(t)
	for name, script := range map[string]string{"bash": bashScript, "zsh": zshScript, "fish": fishScript} {
		flag := "--"
		if name == "fish" {
			flag = "-l "
		}
		for _, node := range parser.Model.Leaves(true) {
			if !strings.Contains(script, node.Name) {
				t.Errorf("%s does not know the command %s", name, node.Name)
			}
			for _, f := range node.Flags {
				if !strings.Contains(script, flag+f.Name) {
					t.Errorf("%s does not know the flag --%s of %s", name, f.Name, node.Name)
				}
			}
		}
	}
}
