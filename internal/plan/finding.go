package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Severity tells whether a plan can be computed in spite of a finding.
type Severity int

// The severities.
const (
	Error   Severity = iota // the plan is not computed
	Warning                 // the plan is computed, and the finding is told with the answer
)

// String is the word for people.
func (s Severity) String() string {
	if s == Warning {
		return "warning"
	}
	return "error"
}

// Finding is one thing that is wrong with a plan: where, what, and what is allowed.
type Finding struct {
	File         string // the plan's name, or "--set path=value" where a change is at fault
	Line, Column int    // counted in characters from 1; 0 where there is no line
	Path         string // of the value, such as "beds[0].level"; "" for the document itself
	Message      string
	Hint         string // how to put it right; may be empty
	Severity     Severity
}

// Error tells the finding in one line, and the hint in a second one where there is one:
//
//	plan.yaml:14:18: shape.glazing_slope: 95 deg is out of range, allowed: 10 deg to 90 deg
//	hint: slope of the glazing from level; needed for a pit
func (f Finding) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", f.Line, f.Column)
	}
	b.WriteString(": ")
	if f.Severity == Warning {
		b.WriteString("warning: ")
	}
	if f.Path != "" {
		b.WriteString(f.Path + ": ")
	}
	b.WriteString(f.Message)
	if f.Hint != "" {
		b.WriteString("\nhint: " + f.Hint)
	}
	return b.String()
}

// Place fills in file, line and column of a finding from its path: where the value is written, or the nearest part
// above it that is.
func (p *Plan) Place(f Finding) Finding {
	at := p.Origins.place(f.Path)
	f.File, f.Line, f.Column = at.file, at.line, at.column
	return f
}

// Failed tells whether any of the findings is an error.
func Failed(findings []Finding) bool {
	return slices.ContainsFunc(findings, func(f Finding) bool { return f.Severity == Error })
}

// AsError joins the findings to one error, or returns nil where none of them is an error.
func AsError(findings []Finding) error {
	if !Failed(findings) {
		return nil
	}
	return findingsError(findings)
}

type findingsError []Finding

func (e findingsError) Error() string {
	lines := make([]string, len(e))
	for i, f := range e {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives the single findings to errors.As.
func (e findingsError) Unwrap() []error {
	list := make([]error, len(e))
	for i, f := range e {
		list[i] = f
	}
	return list
}

// sorted puts findings in the order of the document; those without a line stand last.
func sorted(findings []Finding) []Finding {
	slices.SortStableFunc(findings, func(a, b Finding) int {
		return cmp.Or(
			compareLines(a.Line, b.Line), cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.File, b.File), cmp.Compare(a.Path, b.Path), cmp.Compare(a.Message, b.Message))
	})
	return slices.Compact(findings)
}

func compareLines(a, b int) int {
	if (a == 0) != (b == 0) {
		return cmp.Compare(b, a)
	}
	return cmp.Compare(a, b)
}
