// Package cli is the door for people at a prompt and for scripts: one file per command, each of which reads its arguments, runs a
// use case and tells the answer.
//
// What it promises:
//
//   - Run never exits and never prints an error; it returns it. ExitCode turns it into one of the documented codes, TellError
//     into words.
//   - What was asked for goes to standard output, everything else (progress, warnings, errors) to standard error.
//   - Nothing is fetched from anywhere, with or without --offline.
//   - Files are written whole or not at all, and a folder the program names itself is always a new one.
//   - No colour is written, but for the black and white of a link that a camera reads, to a terminal; a progress bar only to a terminal and only after a second.
package cli

import (
	"context"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/unit"
)

// Surroundings are what the program reads from and writes to.
type Surroundings struct {
	In          io.Reader
	Out, Err    io.Writer
	InTerminal  bool // somebody can be asked
	OutColumns  int  // width of the terminal that is written to; 0: it is none, or one that draws nothing
	ErrTerminal bool // a progress bar can be shown
	ErrColumns  int  // width of that terminal
}

// Process returns the surroundings of the process itself.
func Process() Surroundings {
	s := Surroundings{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}
	s.InTerminal = term.IsTerminal(int(os.Stdin.Fd())) && term.IsTerminal(int(os.Stdout.Fd()))
	if term.IsTerminal(int(os.Stdout.Fd())) && os.Getenv("TERM") != "dumb" && (runtime.GOOS != "windows" || os.Getenv("WT_SESSION") != "") { // older consoles of Windows show colours as letters
		s.OutColumns, _, _ = term.GetSize(int(os.Stdout.Fd()))
	}
	if term.IsTerminal(int(os.Stderr.Fd())) && os.Getenv("TERM") != "dumb" {
		s.ErrColumns, _, _ = term.GetSize(int(os.Stderr.Fd()))
		s.ErrTerminal = s.ErrColumns > 0 // a terminal that does not know its width shows no bar
	}
	return s
}

// app is one run of the program: its surroundings and the options that every command takes.
type app struct {
	Surroundings
	json      bool
	units     string
	offline   bool
	logFormat string
}

// Run runs the program with its arguments, the program's name left out.
func Run(ctx context.Context, args []string, s Surroundings) error {
	a := &app{Surroundings: s}
	root := a.root()
	root.SetArgs(args)
	return root.ExecuteContext(ctx)
}

const rootLong = `Suncellar computes the winter of an unheated greenhouse: sunk in the ground,
glazed to the sun, heavy with water. From a plan and a year of hourly weather it
tells how cold each place becomes, when and why, and what a change is worth.

It computes one winter at a time, with the assumptions it lists. Another winter
can be colder. Nothing is fetched: all it needs is in the program and in your
files.

Exit codes:
  0    done
  1    a file or the disk failed
  2    wrong use, or something is wrong in a plan, a change or a weather file
  3    the computation failed: its books do not close, or a value ran away
  130  interrupted`

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "suncellar",
		Short: "Compute the winter of an unheated greenhouse",
		Long:  rootLong,
		Example: `  suncellar demo
  suncellar check plan.yaml
  suncellar simulate plan.yaml --year weather.csv --out winter`,
		Args:                       a.noCommand,
		RunE:                       func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
		SilenceUsage:               true,
		SilenceErrors:              true,
		SuggestionsMinimumDistance: 2,
		CompletionOptions:          cobra.CompletionOptions{HiddenDefaultCmd: true},
		PersistentPreRunE:          func(*cobra.Command, []string) error { return a.checkOptions() },
	}
	root.SetIn(a.In)
	root.SetOut(a.Out)
	root.SetErr(a.Err)
	root.SetHelpFunc(help)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error { return flagError(cmd, err) })
	f := root.PersistentFlags()
	f.BoolVar(&a.json, "json", false, "write the answer as JSON, SI units whatever --units says")
	f.StringVar(&a.units, "units", "", "SI or US; left out: what the plan says")
	f.BoolVar(&a.offline, "offline", false, "fetch nothing; no command does, so this changes nothing yet")
	f.StringVar(&a.logFormat, "log-format", "text", "text or json, for what goes to standard error while running")
	f.SortFlags = false
	root.AddCommand(a.demo(), a.newPlan(), a.check(), a.simulate(), a.compare(), a.worth(), a.chance(), a.carry(), a.thirst(), a.water(), a.drill(), a.serve(), a.weather(), a.schema(), a.version())
	return root
}

// noCommand refuses what is no command, and says which one may be meant.
func (a *app) noCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	hint := "'" + cmd.CommandPath() + " --help' lists all commands"
	var names []string
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	if near, ok := unit.Nearest(args[0], names); ok {
		hint = "did you mean '" + cmd.CommandPath() + " " + near + "'?"
	}
	return usage(hint, "unknown command %q", args[0])
}

func (a *app) checkOptions() error {
	if _, err := report.NewTeller(a.units); err != nil {
		return usage("", "--units: %v", err)
	}
	if a.logFormat != "text" && a.logFormat != "json" {
		return usage("", "--log-format is %q, must be text or json", a.logFormat)
	}
	return nil
}

// teller tells in the units asked for, else in the plan's.
func (a *app) teller(p *plan.Plan) report.Teller {
	units := a.units
	if units == "" && p != nil {
		units = p.Units
	}
	t, err := report.NewTeller(strings.ToUpper(units))
	if err != nil {
		panic("cli: units were not checked: " + err.Error())
	}
	return t
}

func arguments(n int) string {
	if n == 1 {
		return "1 argument"
	}
	return fmt.Sprintf("%d arguments", n)
}

// exactly wants n arguments and says what they are.
func exactly(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == n {
			return nil
		}
		return usage("use: "+useLine(cmd), "%s needs %s, got %s", strings.TrimPrefix(cmd.CommandPath(), "suncellar "), what, arguments(len(args)))
	}
}
