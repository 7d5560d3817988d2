package weather

import (
	"fmt"
	"strings"
)

// spelledOut is how many findings an error spells out; the rest are counted.
const spelledOut = 20

// enough findings end the reading of a file: its rows are then of another kind altogether.
const enough = 100

// Finding is one thing wrong with a file.
type Finding struct {
	File   string
	Line   int // 1-based; 0 when it concerns the whole file
	Column int // 1-based byte of the line; 0 when it concerns the whole line
	What   string
	Hint   string // may be empty
}

// String is "file:line:column: what" with its hint on a line of its own.
func (f Finding) String() string {
	place := f.File
	if f.Line > 0 {
		place += fmt.Sprintf(":%d", f.Line)
		if f.Column > 0 {
			place += fmt.Sprintf(":%d", f.Column)
		}
	}
	text := place + ": " + f.What
	if f.Hint != "" {
		text += "\nhint: " + f.Hint
	}
	return text
}

// FileError tells all that was found wrong with a file. Findings holds the first
// twenty, Total counts all.
type FileError struct {
	Findings []Finding
	Total    int
}

func (e *FileError) Error() string {
	lines := make([]string, 0, len(e.Findings)+1)
	for _, f := range e.Findings {
		lines = append(lines, f.String())
	}
	if more := e.Total - len(e.Findings); more > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(lines, "\n")
}

// findings gathers what is wrong with one file while it is read.
type findings struct {
	file  string
	list  []Finding
	total int
}

func (f *findings) add(line, column int, format string, args ...any) {
	f.total++
	if len(f.list) < spelledOut {
		f.list = append(f.list, Finding{File: f.file, Line: line, Column: column, What: fmt.Sprintf(format, args...)})
	}
}

// hint adds a hint to the last finding added.
func (f *findings) hint(text string) {
	if f.total == len(f.list) && f.total > 0 {
		f.list[f.total-1].Hint = text
	}
}

// err returns nil when nothing was found.
func (f *findings) err() error {
	if f.total == 0 {
		return nil
	}
	return &FileError{Findings: f.list, Total: f.total}
}
