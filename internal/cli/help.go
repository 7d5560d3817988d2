package cli

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"suncellar/internal/report"
)

// values are what stands behind an option, by its name; any other takes a VALUE, or an N where it is a number.
var values = map[string]string{
	"year": "FILE", "record": "FILE", "winter": "NAME", "out": "DIR", "from": "MM-DD", "to": "MM-DD", "set": "PATH=VALUE", "vary": "PATH=VALUE", "place": "NAME", "name": "NAME",
	"spell": "DAYS", "spell-from": "MM-DD",
	"units": "SI|US", "log-format": "text|json",
}

// help writes the page of a command: what it does, how it is called, examples, commands below it, options. At most 80 columns, but for
// examples, which are to be typed as they stand.
func help(cmd *cobra.Command, _ []string) {
	w := cmd.OutOrStdout()
	long := cmd.Long
	if long == "" {
		long = cmd.Short + "."
	}
	for _, paragraph := range strings.Split(strings.TrimSpace(long), "\n\n") {
		fmt.Fprintln(w, reflow(paragraph))
		fmt.Fprintln(w)
	}
	fmt.Fprintf(w, "Use:\n  %s\n", useLine(cmd))
	if cmd.Example != "" {
		fmt.Fprintf(w, "\nExamples:\n%s\n", cmd.Example)
	}
	commands(w, cmd)
	common := cmd.Root().PersistentFlags()
	options(w, "Options", cmd.Flags(), func(f *pflag.Flag) bool { return common.Lookup(f.Name) == nil })
	options(w, "Options of every command", common, func(*pflag.Flag) bool { return true })
}

func useLine(cmd *cobra.Command) string {
	line := cmd.CommandPath() + strings.TrimPrefix(cmd.Use, cmd.Name())
	if cmd.HasAvailableSubCommands() {
		return line + " COMMAND"
	}
	return line + " [options]"
}

// reflow sets a paragraph to the page; one that is set by hand keeps its lines.
func reflow(paragraph string) string {
	if strings.Contains(paragraph, "\n  ") {
		return paragraph
	}
	return strings.Join(report.Wrap(paragraph, report.Width), "\n")
}

func commands(w io.Writer, cmd *cobra.Command) {
	if !cmd.HasAvailableSubCommands() {
		return
	}
	fmt.Fprintln(w, "\nCommands:")
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() && c.Name() != "help" {
			entry(w, "  "+c.Name(), c.Short, 12)
		}
	}
}

// optionColumn is where the text of an option begins.
const optionColumn = 26

func options(w io.Writer, title string, set *pflag.FlagSet, shown func(*pflag.Flag) bool) {
	first := true
	set.VisitAll(func(f *pflag.Flag) {
		if f.Hidden || f.Name == "help" || !shown(f) {
			return
		}
		if first {
			fmt.Fprintf(w, "\n%s:\n", title)
			first = false
		}
		text := f.Usage
		if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "[]" && f.DefValue != "-1" && f.DefValue != "0" {
			text += " (" + f.DefValue + ")"
		}
		entry(w, "  --"+f.Name+placeholder(f), text, optionColumn)
	})
}

func placeholder(f *pflag.Flag) string {
	if v, ok := values[f.Name]; ok {
		return " " + v
	}
	switch f.Value.Type() {
	case "bool":
		return ""
	case "int":
		return " N"
	}
	return " VALUE"
}

// entry writes a name and its text beside it, the text in its own column; a name too long for its room stands on a line alone.
func entry(w io.Writer, name, text string, column int) {
	lines := report.Wrap(text, report.Width-column)
	if utf8.RuneCountInString(name) > column-2 {
		fmt.Fprintln(w, name)
		name = ""
	}
	for i, l := range lines {
		if i > 0 {
			name = ""
		}
		fmt.Fprintf(w, "%-*s%s\n", column, name, l)
	}
}
