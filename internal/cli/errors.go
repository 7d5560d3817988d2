package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// The exit codes.
const (
	codeDone        = 0
	codeWorld       = 1
	codeInput       = 2
	codeInternal    = 3
	codeInterrupted = 130
)

// coded is an error that knows its exit code and may have a hint.
type coded struct {
	code int
	hint string
	err  error
}

func (e *coded) Error() string { return e.err.Error() }
func (e *coded) Unwrap() error { return e.err }

// usage is an error of the one who typed the command.
func usage(hint, format string, args ...any) error {
	return &coded{codeInput, hint, fmt.Errorf(format, args...)}
}

// input marks an error of what was given: plan, changes, dates, weather.
func input(err error) error {
	if err == nil {
		return nil
	}
	return &coded{code: codeInput, err: err}
}

// internal marks a failure of the computation itself.
func internal(err error) error {
	if err == nil {
		return nil
	}
	return &coded{code: codeInternal, err: err}
}

// anHour is how an error of a run begins: with the hour at which it failed.
var anHour = regexp.MustCompile(`(^|: )\d{4}-\d\d-\d\d \d\d:\d\d: `)

// ranAway parts errors of a use case: one that names the hour at which a run failed is of the computation, any other of what was asked.
func ranAway(err error) error {
	var c *coded
	switch {
	case err == nil || errors.As(err, &c):
		return err
	case anHour.MatchString(err.Error()):
		return internal(err)
	}
	return input(err)
}

// flagError tells a wrong flag with where help is.
func flagError(cmd *cobra.Command, err error) error {
	return usage("'"+cmd.CommandPath()+" --help' lists the options", "%w", err)
}

// ExitCode is the exit code of what Run returned.
func ExitCode(err error) int {
	var c *coded
	var f plan.Finding
	var w *weather.FileError
	switch {
	case err == nil:
		return codeDone
	case errors.Is(err, context.Canceled):
		return codeInterrupted
	case errors.As(err, &w), errors.As(err, &f):
		return codeInput
	case errors.As(err, &c):
		return c.code
	}
	return codeWorld
}

// TellError writes an error in words, with its hint. Findings in files keep their own form, one to a line.
func TellError(w io.Writer, err error) {
	var c *coded
	switch {
	case err == nil:
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(w, "suncellar: interrupted")
	default:
		text := strings.ReplaceAll(err.Error(), "; hint: ", "\nhint: ")
		if !placed(err) {
			text = "suncellar: " + text
		}
		fmt.Fprintln(w, text)
		if errors.As(err, &c) && c.hint != "" {
			for _, line := range strings.Split(c.hint, "\n") {
				fmt.Fprintln(w, "hint: "+line)
			}
		}
	}
}

// placed tells whether an error begins with the place in a file.
func placed(err error) bool {
	var f plan.Finding
	var w *weather.FileError
	return errors.As(err, &f) || errors.As(err, &w)
}
