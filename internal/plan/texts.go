package plan

import (
	"fmt"
	"strings"
)

// Text is one value of a document of keys and texts.
type Text struct {
	Path         string // as a Change has it
	Names        []string
	Value        string // unread; "" for a key without one
	Line, Column int    // of the value
}

// Texts reads a YAML document of keys and texts that is no plan, such as a list of prices, with the guards of Read: whatever it is fed, the answer is texts and findings.
// Keys that stand twice are told. A document of comments alone has no texts.
func Texts(name string, text []byte) ([]Text, []Finding) {
	if blank(text) {
		return nil, nil
	}
	root, findings := document(name, text)
	if root == nil {
		return nil, sorted(findings)
	}
	r := &textReader{file: name, findings: findings}
	r.read(root, "", nil)
	return r.texts, sorted(r.findings)
}

// blank tells whether a document has comments alone.
func blank(text []byte) bool {
	for line := range strings.Lines(strings.TrimPrefix(string(text), "\ufeff")) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			return false
		}
	}
	return true
}

type textReader struct {
	file     string
	texts    []Text
	findings []Finding
}

func (r *textReader) tell(at place, path, hint, format string, args ...any) {
	r.findings = append(r.findings, Finding{File: r.file, Line: at.line, Column: at.column, Path: path, Message: fmt.Sprintf(format, args...), Hint: hint})
}

func (r *textReader) read(n *node, path string, names []string) {
	switch n.shape {
	case scalar:
		if len(names) == 0 {
			r.tell(n.at, path, "write 'key: value'", "a single text stands here, keys with values are wanted")
			return
		}
		r.texts = append(r.texts, Text{path, names, n.text, n.at.line, n.at.column})
	case mapping:
		there := map[string]place{}
		for _, e := range n.entries {
			if first, twice := there[e.key]; twice {
				r.tell(e.at, join(path, e.key), "keep one of the two", "stands here again, first in line %d", first.line)
				continue
			}
			there[e.key] = e.at
			r.read(e.value, join(path, e.key), append(names[:len(names):len(names)], e.key))
		}
	case list:
		r.tell(n.at, path, "write 'key: value'", "a list stands here, keys with values are wanted")
	case empty:
		r.texts = append(r.texts, Text{path, names, "", n.at.line, n.at.column})
	}
}
