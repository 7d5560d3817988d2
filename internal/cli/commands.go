package cli

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// commandsHead opens docs/commands.md.
const commandsHead = `# Commands

Written from the help texts; ` + "`go test ./internal/cli -update`" + ` writes it anew.

What was asked for goes to standard output; progress, warnings and errors go to standard error. ` + "`--json`" + ` writes SI whatever ` + "`--units`" + ` says, each key ending
in its unit, under a ` + "`schema`" + ` with name and version: a key keeps its meaning within a version, new ones may come. Dates of made and typical years are nominal.
`

// Commands writes docs/commands.md: the help of every command.
func Commands() (string, error) {
	var doc strings.Builder
	doc.WriteString(commandsHead)
	a := &app{Surroundings: Surroundings{In: strings.NewReader(""), Out: io.Discard, Err: io.Discard}}
	var add func(c *cobra.Command) error
	add = func(c *cobra.Command) error {
		if !c.IsAvailableCommand() && c.HasParent() || c.Name() == "help" {
			return nil
		}
		var b bytes.Buffer
		c.SetOut(&b)
		if err := c.Help(); err != nil {
			return err
		}
		fmt.Fprintf(&doc, "\n## %s\n\n```text\n%s```\n", c.CommandPath(), trimmed(b.String()))
		for _, sub := range c.Commands() {
			if err := add(sub); err != nil {
				return err
			}
		}
		return nil
	}
	err := add(a.root())
	return doc.String(), err
}

// trimmed takes spaces from the ends of lines.
func trimmed(s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " ")
	}
	return strings.Join(lines, "\n")
}
